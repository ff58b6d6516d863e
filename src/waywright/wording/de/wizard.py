"""Deutsch: Wörter der Seite, die ein neues Instrument beschreibt."""

TEXT = {
    "wizard.link": "ein Instrument beschreiben, das noch keine Datei hat",
    "wizard.title": "Ein neues Instrument",
    "wizard.words": (
        "Geben Sie die Adresse an, unter der es zu hören ist. Seine Zeilen werden gezeigt, wie sie kommen; daraus "
        "entsteht ein Vorschlag, den Sie ergänzen und prüfen, bevor damit gemessen wird."
    ),
    "wizard.address": "Adresse",
    "wizard.name": "kurzer Name",
    "wizard.send": "gefragt mit (bleibt leer, wo es von selbst spricht)",
    "wizard.rate": "Zeilen je Sekunde, ungefähr",
    "wizard.listen": "zuhören",
    "wizard.live": "Was jetzt kommt",
    "wizard.proposal": "Was es anscheinend sagt",
    "wizard.heard": "{lines} Zeilen, davon {matched} dieser Gestalt, {rate:g} je Sekunde.",
    "wizard.description": "Beschreibung (TOML)",
    "wizard.check": "an der Verbindung prüfen",
    "wizard.keep": "diese Beschreibung behalten",
    "wizard.kept": "{title} ist auf diesem Rechner aufbewahrt und ab jetzt zu wählen.",
    "wizard.three_dots": (
        "Sehen Sie zuerst jede Zeile mit drei Punkten an und nehmen Sie die Punkte weg: es sind Vermutungen."
    ),
    "wizard.unmatched": "Nicht gelesen: {line}",
    "wizard.column_channel": "Kanal",
    "wizard.column_now": "jetzt",
    "wizard.column_scatter": "Streuung",
    "wizard.column_least": "kleinster",
    "wizard.column_most": "größter",
    "wizard.column_rate": "Zeilen/s, jetzt / angegeben",
}
