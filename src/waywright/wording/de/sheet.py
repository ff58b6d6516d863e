"""Deutsch: Sätze des Prüfblatts: was abgewiesen wird, was eine Zeile sagt, wie gefragt wird."""

TEXT = {
    "sheet.unknown_kind": "Zeile {number}: die Art {kind!r} gibt es nicht. Bekannte Arten: {known}.",
    "sheet.too_few_places": "Zeile {number} braucht mindestens {needed} Orte; sie nennt {places}.",
    "sheet.other_places": "Zeile {number} wird an genau {needed} Orten gelesen; sie nennt {places}.",
    "sheet.row_lacks": "Zeile {number} ist {kind!r}: sie braucht auch {name}.",
    "sheet.positions_and_places": "Zeile {number}: {name} enthält {n} Positionen für {places} Orte.",
    "sheet.not_turned": "Zeile {number}: {kind!r} wird nicht gewendet noch einmal gelesen; lassen Sie `turned` weg.",
    "sheet.joint_places": (
        "Zeile {number}: ein Absatz braucht mindestens {needed} Orte auf jeder Seite des Stoßes bei {joint_mm:g} mm "
        "und keinen darauf; es sind {before} davor und {after} dahinter."
    ),
    "sheet.too_few_readings": "Das braucht mindestens {needed} Messwerte; es sind {readings}.",
    "sheet.reading_not_a_number": "Ein Messwert ist keine Zahl.",
    "sheet.no_first_group": "Es müssen Messwerte am Tisch und am Ständer da sein.",
    "sheet.no_tilts_along": (
        "Ohne Neigungen längs einer Bahn gibt es keine Höhen: füllen Sie eine Zeile vorn oder hinten längs."
    ),
    "sheet.no_two_rows": (
        "{machine} hat kein Bett mit zwei Reihen von Aufstellelementen: beschreiben Sie sie in der Maschinendatei."
    ),
    "sheet.no_row_across": (
        'Das Blatt hat keine Zeile quer über das Bett: "twist" mit means = "bed-across", at_mm als Orte auf dem '
        "Bett und gauge_mm."
    ),
    "sheet.across_first": "Füllen Sie zuerst Zeile {number}: die Verwindung kommt vor allem anderen.",
    "sheet.taper_held": "Das Werkstück ist im Futter oder zwischen Spitzen gespannt, nicht {held!r}.",
    "sheet.no_template": "Es gibt kein Beispiel {name!r}. Es gibt: {known}.",
    "sheet.format": "{file} hat das Format {found}; dieses Programm kennt Format {known}.",
    "sheet.no_rows": "{file} hat keine Zeile: fügen Sie mindestens eine [[row]] hinzu.",
    "sheet.number_twice": "{file}: die Nummer {number} steht auf zwei Zeilen.",
    "sheet.place_twice": "Zeile {number}: der Ort {place!r} ist zweimal genannt.",
    "sheet.division": (
        "Zeile {number} wird in Teilstrichen gelesen: geben Sie division und division_unit an, etwa 0.02 und mm/m."
    ),
    "sheet.none_kept": "In {archive} ist kein Blatt. Beginnen Sie eines mit `waywright sheet fill lathe`.",
    "sheet.which": "{found} Blätter passen zu {wanted!r}. `waywright sheet list` zeigt sie mit ihren Kennungen.",
    "sheet.no_place": "In der Zeile {row!r} gibt es keinen Ort {place!r}.",
    "sheet.confirmed_by": "Ein Wert wird durch {allowed} bestätigt, nicht durch {by!r}.",
    "sheet.machine_not_named": "Maschine nicht genannt",
    "sheet.needs_length": "{part!r} geht nach der Länge: geben Sie in der Zeile length_mm an.",
    "sheet.needs_angle": (
        "{part!r} ist keine Grenze eines Winkels: schreiben Sie sie als 0.02/1000 oder in arcsec, oder geben Sie "
        "length_mm an."
    ),
    "sheet.needs_direction": (
        "{part!r} muss wissen, wohin positive Zahlen zeigen: geben Sie in der Zeile positive und ahead an."
    ),
    "sheet.needs_curve": "{part!r} sieht auf eine Kurve; diese Zeile hat einen einzelnen Wert.",
    "sheet.needs_stations": "Ein Stück von {window_mm:g} mm enthält zu wenige Orte, um beurteilt zu werden.",
    "sheet.not_measured": "Nicht gemessen.",
    "sheet.incomplete": "{missing} von {places} Werten fehlen, als Nächstes {next}.",
    "sheet.no_limit": "Es wurde keine Grenze vereinbart.",
    "sheet.no_source": (
        "Nichts, woraus {of!r} zu nehmen wäre: geben Sie in der Zeile files oder eine aufbewahrte Linie an."
    ),
    "sheet.unknown_evaluation": "Die Auswertung {of!r} gibt es nicht. Es gibt: {known}.",
    "sheet.evaluation_needs": "Die Auswertung {of!r} braucht auch {name}: geben Sie es in den settings der Zeile an.",
    "sheet.no_figure": "Das Ergebnis hat keine Zahl {take!r}. Es hat: {known}.",
    "sheet.figure_not_judged": "Die Zahl {take!r} wurde nicht beurteilt.",
    "sheet.too_many_readings": (
        "Die Tabellen enthalten mehr als {most} Messwerte; geben Sie in der Zeile uncertainty_um an, wie `waywright "
        "evaluate` es nennt."
    ),
    "sheet.undecided": "{value:+.1f} {unit} liegt innerhalb von {guard:.1f} {unit} um {limit:g} {unit} ({part}).",
    "sheet.undecided_by": (
        "{value:+.1f} {unit} liegt innerhalb von {guard:.1f} {unit} um {limit:g} {unit} ({part}). Das meiste der "
        "Unsicherheit ist: {largest} (±{largest_expanded:.1f} {unit})."
    ),
    "sheet.ask": "{number:>4}  {what}: {place} ({unit}): ",
    "sheet.doubt": (
        "{number:g} {unit} kann kaum gemeint sein (erwartet etwa {expected:.3g} {unit}){hint}. Enter behält ihn, eine "
        "andere Zahl ersetzt ihn: "
    ),
    "sheet.keys": (
        "Zahl, Enter, weiter. u nimmt den letzten Wert zurück, s verlässt die Zeile, g 9 geht zu Zeile 9, e beendet."
    ),
    "sheet.kept": "{filled} von {places} Werten sind im Archiv. Die Kennung des Blatts endet auf {identity}.",
    "sheet.row_done": "      {what}: {value} {unit} {expanded}  {verdict}",
    "sheet.taken_back": "      {place}: zurückgenommen.",
    "sheet.written": (
        "{file} ist geschrieben: {rows} Zeilen. Tragen Sie die vereinbarten Grenzen ein, dann `waywright sheet fill "
        "{file}`."
    ),
    "sheet.checked": "{file} ist in Ordnung: {rows} Zeilen, {places} Werte zu lesen.",
    "sheet.file_exists": "{file} gibt es schon; nennen Sie eine andere Datei.",
    "sheet.row_changed": "Zeile {number}: die Grenze ist jetzt {rule}.",
    "sheet.head.number": "Nr.",
    "sheet.head.what": "Prüfung",
    "sheet.head.permissible": "zulässig",
    "sheet.head.measured": "gemessen",
    "sheet.head.expanded": "U (95 %)",
    "sheet.head.verdict": "Urteil",
    "sheet.head.filled": "gefüllt",
    "sheet.head.identity": "Kennung",
    "sheet.head.machine": "Maschine",
    "sheet.head.title": "Blatt",
    "sheet.head.began": "begonnen",
    "sheet.head.kind": "Art",
    "sheet.head.reads": "gelesen in",
    "sheet.head.needs": "braucht",
    "sheet.head.places": "übliche Orte",
    "sheet.head.support": "Aufstellelement",
    "sheet.head.raise": "heben um",
    "sheet.level_found": (
        "Wie der Neigungsmesser das Bett vorfand: Verwindung {twist:.0f} µm/m, geneigt längs um {along:+.0f} µm/m und "
        "quer um {across:+.0f} µm/m, Höhe {height:.1f} µm um seine beste Gerade."
    ),
    "sheet.level_closure": "Die Neigungen verfehlen einander um höchstens {closure:.1f} µm/m.",
    "sheet.level_step": (
        "Ein Absatz von {step:+.1f} µm bei {at_mm:.0f} mm wurde herausgenommen: er ist Sache des Stoßes, nicht der "
        "Füße."
    ),
    "sheet.level_rough": (
        "Zuerst das Bett auf drei Punkten waagerecht bringen, alle anderen Aufstellelemente eben anliegend; dann das "
        "Blatt noch einmal lesen."
    ),
    "sheet.stage": "{name}: {state}",
    "sheet.stage.rough": "grob waagerecht auf drei Punkten",
    "sheet.stage.contact": "jedes Aufstellelement trägt",
    "sheet.stage.twist": "Verwindung",
    "sheet.stage.height": "Höhe",
    "sheet.stage.side": "seitlich",
    "sheet.stage.joints": "Stöße",
    "sheet.stage.bolts": "Schrauben",
    "sheet.state_of.done": "erledigt",
    "sheet.state_of.now": "jetzt",
    "sheet.state_of.later": "später",
    "sheet.page.title": "Prüfblätter",
    "sheet.page.none": (
        "Noch kein Blatt. Beginnen Sie eines: der erste Wert lässt sich sofort tippen, eine Maschinendatei braucht es "
        "nicht."
    ),
    "sheet.page.begin": "Ein Blatt beginnen",
    "sheet.page.begin_words": (
        "Wählen Sie ein Beispiel, oder eine eigene Blattdatei. Die Beispiele enthalten keine Grenzen: Ihre kommen "
        "hinein."
    ),
    "sheet.page.example": "Beispiel",
    "sheet.page.machine": "Maschine (darf leer bleiben)",
    "sheet.page.technician": "Techniker (darf leer bleiben)",
    "sheet.page.begin_press": "beginnen und den ersten Wert tippen",
    "sheet.page.own_file": "eine eigene Blattdatei",
    "sheet.page.all": "alle Blätter",
    "sheet.page.value": "gelesener Wert",
    "sheet.page.keep": "behalten",
    "sheet.page.undo": "den letzten zurücknehmen",
    "sheet.page.leave": "diese Zeile verlassen",
    "sheet.page.hands_free": "Fußschalter und Stimme",
    "sheet.page.pedal": "Taste, die der Fußschalter sendet",
    "sheet.page.no_pedal": "keine",
    "sheet.page.listen": "auf „take“ und „back“ hören",
    "sheet.page.read-back": "vorlesen, was behalten wurde",
    "sheet.page.listen_words": (
        "Sagen Sie eine Zahl, dann „take“; „back“ nimmt den letzten Wert zurück. Das Zuhören macht der Browser, der "
        "das Gehörte an den Dienst seines Herstellers senden kann; das Vorlesen bleibt auf diesem Rechner."
    ),
    "sheet.page.papers": "Für den Kunden",
    "sheet.page.pdf": "PDF",
    "sheet.page.xlsx": "Arbeitsmappe",
    "sheet.page.json": "JSON",
    "sheet.page.full": "Jeder Ort hat seinen Wert.",
    "sheet.page.where": "{number}  {what}, Wert {at} von {of}",
    "sheet.page.kept": "{place}: {said} behalten",
    "sheet.page.answer_first": "{said!r} wurde nicht übernommen: es war getippt, bevor diese Frage beantwortet war. ",
    "sheet.page.doubt": (
        "{number:g} {unit} kann kaum gemeint sein (erwartet etwa {expected:.3g}){hint}. Enter behält ihn, eine andere "
        "Zahl ersetzt ihn."
    ),
    "sheet.page.permissible": "zulässig: {rule}",
    "sheet.page.link": "Blätter",
    "sheet.row_is": "Zeile {number}, {what}: {why}",
    "sheet.summary": "{rows} Zeilen: {parts}.",
    "sheet.count.conforms": "{count} entsprechen",
    "sheet.count.does-not-conform": "{count} entsprechen nicht",
    "sheet.count.undecided": "{count} nicht entschieden",
    "sheet.count.not-measured": "{count} nicht gemessen",
    "sheet.count.incomplete": "{count} begonnen",
    "sheet.count.no-limit": "{count} ohne vereinbarte Grenze",
    "sheet.count.not-judged": "{count} nicht beurteilt",
    "sheet.verdict.conforms": "entspricht",
    "sheet.verdict.does-not-conform": "entspricht nicht",
    "sheet.verdict.undecided": "nicht entschieden",
    "sheet.verdict.not-measured": "nicht gemessen",
    "sheet.verdict.incomplete": "begonnen",
    "sheet.verdict.no-limit": "keine Grenze vereinbart",
    "sheet.verdict.not-judged": "nicht beurteilt",
    "sheet.state.turned": "{place}, umgesetzt",
    "sheet.state.at-0": "{place}, bei 0°",
    "sheet.state.at-180": "{place}, bei 180°",
    "sheet.state.line-1": "{place}, erste Linie",
    "sheet.state.line-2": "{place}, zweite Linie",
    "sheet.state.off": "{place}, Ausgleich aus",
    "sheet.state.on": "{place}, Ausgleich ein",
    "sheet.figure.angle": "Winkel {value} {unit}",
    "sheet.figure.mandrel_run_out": "eigener Rundlauf des Dorns {value} {unit}",
    "sheet.figure.sag": "Durchhang abgezogen {value} {unit}",
    "sheet.figure.zero": "Nullpunkt des Neigungsmessers {value} {unit}",
    "sheet.figure.zero_moved": "sein Nullpunkt wanderte um {value} {unit}",
    "sheet.figure.own": "eigener Anteil des Gewendeten {value} {unit}",
    "sheet.figure.off_lowest": "Ausgleich aus: {value} {unit}",
    "sheet.figure.on_lowest": "Ausgleich ein: {value} {unit}",
    "sheet.figure.whole_travel": "ganzer Weg {value} {unit}",
    "sheet.figure.step": "Absatz {value} {unit}",
    "sheet.figure.kink": "Knick {value} {unit}",
    "sheet.figure.noise": "Streuung eines Messwerts {value} {unit}",
    "sheet.figure.mean_inclination": "mittlere Neigung {value} {unit}",
    "sheet.figure.end_to_end": "von Ende zu Ende {value} {unit}",
    "sheet.figure.over_gauge": "über die Spurweite {value} {unit}",
    "sheet.distribution.normal": "normal",
    "sheet.distribution.rectangular": "rechteckig",
    "sheet.distribution.triangular": "dreieckig",
    "sheet.distribution.arcsine": "arkussinus",
    "sheet.source.measured": "gemessen",
    "sheet.source.certificate": "Kalibrierschein",
    "sheet.source.assumed": "angenommen",
    "sheet.source.computed": "gerechnet",
    "sheet.burden.supplier": "der Lieferant weist die Übereinstimmung nach",
    "sheet.burden.customer": "der Kunde weist die Nichtübereinstimmung nach",
    "sheet.burden.shared": "geteilt: über nicht Entschiedenes wird gesprochen",
    "sheet.burden.simple": "einfach: der gemessene Wert allein",
    "sheet.cause.spindle-side": "Richtung des Spindelstocks, seitlich",
    "sheet.cause.spindle-height": "Richtung des Spindelstocks, der Höhe nach",
    "sheet.cause.twist": "Verwindung des Betts unter dem Schnitt",
    "sheet.cause.tailstock-side": "Reitstock seitlich versetzt",
    "sheet.cause.tailstock-height": "Reitstock der Höhe nach",
    "sheet.remedy.spindle-side": (
        "Den Spindelstock auf seinem Sitz drehen; das Bett muss zuerst frei von Verwindung sein."
    ),
    "sheet.remedy.spindle-height": (
        "Den Sitz des Spindelstocks ansehen; der Durchhang von Dorn und Halter muss abgezogen sein."
    ),
    "sheet.remedy.twist": "Das Bett quer ausrichten: die Verwindung herausnehmen, bevor sonst etwas angefasst wird.",
    "sheet.remedy.tailstock-side": "Den Reitstock mit seinen Seitenschrauben versetzen.",
    "sheet.remedy.tailstock-height": "Den Fuß des Reitstocks ansehen; Höhe allein macht wenig Kegel.",
    "sheet.taper.likely": (
        "Der Kegel von {taper} µm kommt am wahrscheinlichsten von: {cause} (erklärt {share:.0f} % davon). {remedy}"
    ),
    "sheet.taper.none": "Nichts vom Gemessenen erklärt den Kegel von {taper} µm für sich allein.",
    "sheet.taper.part": "{cause}: {taper} µm",
    "sheet.taper.left": (
        "Unerklärt bleiben: {left} µm. Verschleiß der Bahnen, das Werkzeug und das Nachgeben des Werkstücks sind "
        "nicht darin."
    ),
    "sheet.taper.not_measured": "Nicht gemessen: {causes}.",
    "sheet.print.number": "Nr.",
    "sheet.print.picture": "Bild",
    "sheet.print.what": "Prüfung",
    "sheet.print.readings": "Messwerte",
    "sheet.print.permissible": "zulässig (mm)",
    "sheet.print.measured": "gemessen",
    "sheet.print.expanded": "U (95 %)",
    "sheet.print.verdict": "Urteil",
    "sheet.print.remark": "Bemerkung",
    "sheet.print.why": "warum",
    "sheet.print.method": "Verfahren",
    "sheet.print.contribution": "Beitrag",
    "sheet.print.value": "Wert",
    "sheet.print.distribution": "Verteilung",
    "sheet.print.source": "Quelle",
    "sheet.print.adds": "trägt bei (u)",
    "sheet.print.places": "Ort",
    "sheet.print.unit": "Einheit",
    "sheet.print.undecided": "Nicht entschieden, und warum",
    "sheet.print.causes": "Kegel: die wahrscheinliche Ursache",
    "sheet.print.uncertainty": "Unsicherheit, Zeile für Zeile",
    "sheet.print.origin": "Woher die Zahlen kommen",
    "sheet.print.page": "Seite # von %",
    "sheet.print.signed": "Unterschrift",
    "sheet.print.date": "Datum",
    "sheet.print.machine": "Maschine",
    "sheet.print.technician": "Techniker",
    "sheet.print.day": "Tag",
    "sheet.print.temperature": "Temperatur",
    "sheet.print.burden": "wer nachweist",
    "sheet.print.seal": "Siegel des letzten Messwerts",
    "sheet.print.identity": "Kennung des Blatts",
    "sheet.print.divisions": "Tstr. ({worth})",
    "sheet.print.no_limit": "keine vereinbart",
    "sheet.print.page_rows": "Blatt",
    "sheet.print.page_readings": "Messwerte",
    "sheet.print.page_uncertainty": "Unsicherheit",
    "sheet.line_kept": "Höhen und Verwindung sind als Linie {name!r} aufbewahrt: Runde um Runde berichtigen.",
    "sheet.line_name": "{title}, mit der Libelle",
    "sheet.line_method": "eine Libelle, an jeder Stelle umgeschlagen; Blatt versiegelt {seal}",
    "sheet.page.level": "Was für das Bett als nächstes kommt",
    "sheet.page.goal": "gewünschte Geradheit, µm",
    "sheet.page.level_press": "das Bett ansehen",
    "sheet.page.raise": "Auflager {support} um {mm:.2f} mm heben.",
    "sheet.page.to_correct": "planen, welche Auflager gedreht werden",
    "sheet.page.blank": "leeres Blatt",
    "sheet.page.limit": "vereinbarte Grenze dieser Zeile, in mm",
    "sheet.page.limit_press": "Grenze eintragen",
}
