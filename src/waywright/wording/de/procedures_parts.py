"""Deutsch: wie Achsen, Spindeln, Tische und Platten geprüft werden: Titel, Schritte, was schiefgeht, Vorsicht."""

TEXT = {
    "procedures_parts.squareness_square.title": "Rechtwinkligkeit zweier Achsen mit Winkel und Messuhr",
    "procedures_parts.squareness_square.steps": (
        "Den Winkel auf den Tisch legen und drehen, bis ein Schenkel längs der ersten Achse läuft: die Messuhr zeigt "
        "an seinen Enden dasselbe.\n"
        "Den anderen Schenkel antasten und die zweite Achse daran entlangfahren.\n"
        "Die Steigung der Zahlen ist die Abweichung; mehrere Stationen nehmen, nicht nur die Enden.\n"
        "Den Winkel umschlagen und noch einmal: die halbe Summe ist die Maschine, der halbe Unterschied der Winkel."
    ),
    "procedures_parts.squareness_square.wrong": (
        "Ein nicht umgeschlagener Winkel trägt seinen eigenen Fehler ins Ergebnis.\n"
        "Eine kurze Achse gibt einen schlechten Winkel: die Unsicherheit wächst, je kürzer die Länge.\n"
        "Eine Messuhr an langem Arm hängt durch, wenn sie gedreht wird."
    ),
    "procedures_parts.squareness_square.cautions": (
        "Die Achse bewegt sich: einer gibt das Kommando, alle anderen bleiben aus ihrem Weg.\n"
        "Einen schweren Winkel heben zwei, oder ein Kran."
    ),
    "procedures_parts.squareness_level.title": (
        "Rechtwinkligkeit einer senkrechten Achse mit dem Neigungsmesser als Verbindung"
    ),
    "procedures_parts.squareness_level.steps": (
        "Den Neigungsmesser längs der waagerechten Achse an mehreren Orten lesen: ihre Linie gegen die Schwerkraft.\n"
        "Denselben Neigungsmesser mit der Winkelseite an die senkrechte Bahn legen und ihre Höhe entlang lesen.\n"
        "Der Unterschied der beiden Neigungen ist die Abweichung von der Rechtwinkligkeit.\n"
        "Ihn an beiden um 180° umsetzen, um seinen eigenen Fehler zu finden."
    ),
    "procedures_parts.squareness_level.wrong": (
        "Das Bett neigt sich, wenn der Ständer darauf fährt: sagen Sie, wo er stand.\n"
        "Der eigene Fehler des Neigungsmessers zählt hier: er hebt sich nicht auf wie bei der Geradheit."
    ),
    "procedures_parts.squareness_level.cautions": (
        "Eine senkrechte Achse gegen Absinken sichern, bevor eine Hand darunter kommt."
    ),
    "procedures_parts.facing.title": "Querschlitten rechtwinklig zur Spindelachse",
    "procedures_parts.facing.steps": (
        "Eine ebene Scheibe an der Spindel spannen und ihre Fläche mit einer Messuhr auf dem Querschlitten "
        "antasten.\n"
        "Den Querschlitten vom Rand zur Mitte fahren und lesen.\n"
        "Die Spindel um eine halbe Umdrehung drehen und noch einmal: das Mittel ist frei von der Scheibe.\n"
        "Eine hohle Fläche ist üblich, eine ballige nicht."
    ),
    "procedures_parts.facing.wrong": (
        "Eine nicht umgedrehte Scheibe trägt ihre eigene Neigung hinein.\n"
        "Ein verschlissener Querschlitten hebt am Ende ab."
    ),
    "procedures_parts.facing.cautions": (
        "Die Spindel kann nicht anlaufen: Antrieb aus, der Schlüssel bei dem, der sie anfasst. Von Hand drehen."
    ),
    "procedures_parts.spindle_bar.title": "Spindelachse längs einer Achse, mit dem Messdorn",
    "procedures_parts.spindle_bar.steps": (
        "Kegel und Dorn reinigen; den Dorn ohne Schlag einsetzen.\n"
        "Ihn von oben nahe der Nase und am freien Ende antasten, dazwischen die Achse fahren.\n"
        "Die Spindel um eine halbe Umdrehung drehen, noch einmal, und das Mittel nehmen: der Rundlauf des Dorns hebt "
        "sich auf.\n"
        "Dasselbe von der Seite."
    ),
    "procedures_parts.spindle_bar.wrong": (
        "Ein Dorn, der nur in einer Lage gelesen wird, zeigt seinen eigenen Rundlauf.\n"
        "Schmutz im Kegel sieht aus wie eine krumme Spindel.\n"
        "Ein langer Dorn hängt am Ende durch: berichtigen Sie es oder sagen Sie es."
    ),
    "procedures_parts.spindle_bar.cautions": (
        "Die Spindel kann nicht anlaufen: Antrieb aus, der Schlüssel bei dem, der sie anfasst. Von Hand drehen.\n"
        "Ein Dorn fällt heraus, wenn die Anzugstange lose ist: halten Sie ihn."
    ),
    "procedures_parts.centres_bar.title": "Linie zwischen den Spitzen, mit einem Dorn dazwischen",
    "procedures_parts.centres_bar.steps": (
        "Den Dorn mit leichtem Druck zwischen saubere Spitzen nehmen, den Reitstock geklemmt.\n"
        "Die Messuhr von oben an ihm entlangfahren, dann von der Seite.\n"
        "Den Dorn um eine halbe Umdrehung drehen und noch einmal."
    ),
    "procedures_parts.centres_bar.wrong": (
        "Zu viel Druck biegt den Dorn.\nEin Reitstock, der hinterher geklemmt wird, hebt sich oder neigt sich."
    ),
    "procedures_parts.centres_bar.cautions": (
        "Die Spindel kann nicht anlaufen: Antrieb aus, der Schlüssel bei dem, der sie anfasst. Von Hand drehen.\n"
        "Der Dorn ist schwer: stützen Sie ihn, bis beide Spitzen halten."
    ),
    "procedures_parts.run_out.title": "Rundlauf und Axialschlag einer Spindel",
    "procedures_parts.run_out.steps": (
        "Die Nase, oder einen Dorn nahe der Nase, mit einer Messuhr antasten, die auf der Maschine steht.\n"
        "Die Spindel zwei Umdrehungen von Hand drehen; größte minus kleinste Zahl ist der Rundlauf.\n"
        "Für den Axialschlag eine Kugel in der Zentrierung antasten, längs der Achse."
    ),
    "procedures_parts.run_out.wrong": (
        "Ein Grat oder Schmutz an der Nase ist kein Rundlauf der Spindel.\n"
        "Außermittig gemessener Axialschlag ist zum Teil Planlauf."
    ),
    "procedures_parts.run_out.cautions": (
        "Die Spindel kann nicht anlaufen: Antrieb aus, der Schlüssel bei dem, der sie anfasst. Von Hand drehen."
    ),
    "procedures_parts.table_indicator.title": "Tischfläche längs einer Achse, mit der Messuhr",
    "procedures_parts.table_indicator.steps": (
        "Die Messuhr auf das setzen, was das Werkzeug trägt, ihren Taster auf den Tisch (oder auf ein Lineal, das "
        "darauf liegt).\n"
        "Die Achse darunter fahren und in gleichen Schritten lesen.\n"
        "Sagen, wo die anderen Achsen standen und ob ihre Klemmungen zu waren."
    ),
    "procedures_parts.table_indicator.wrong": (
        "Ein Kratzer unter dem Taster liest sich wie ein Hügel: nehmen Sie ein Endmaß.\nEin geklemmter Tisch hebt sich."
    ),
    "procedures_parts.table_indicator.cautions": (
        "Die Achse bewegt sich: einer gibt das Kommando, alle anderen bleiben aus ihrem Weg."
    ),
    "procedures_parts.tramming.title": "Spindel rechtwinklig zum Tisch, durch Umschwenken einer Messuhr",
    "procedures_parts.tramming.steps": (
        "Die Messuhr an einem Arm in der Spindel befestigen, ihren Taster auf dem Tisch.\n"
        "Sie von Hand an vier Orte schwenken, je eine Vierteldrehung, über ein Endmaß.\n"
        "Gegenüberliegende Zahlen, durch den Durchmesser geteilt, sind die beiden Winkel.\n"
        "Noch einmal mit dem Spindelkopf in anderer Höhe."
    ),
    "procedures_parts.tramming.wrong": (
        "Ein Arm, der sich unter seinem Gewicht biegt, zeigt an allen vier Orten dasselbe: prüfen Sie ihn zuerst an "
        "einem Ring.\n"
        "Es braucht vier Orte; zwei gegenüberliegende zeigen nur eine Richtung."
    ),
    "procedures_parts.tramming.cautions": (
        "Die Spindel kann nicht anlaufen: Antrieb aus, der Schlüssel bei dem, der sie anfasst. Von Hand drehen."
    ),
    "procedures_parts.flatness_grid.title": "Ebenheit einer Platte oder eines Tischs über ein Netz von Linien",
    "procedures_parts.flatness_grid.steps": (
        "Das Netz anzeichnen: Kanten, Diagonalen, Linien dazwischen, mit Schritten der Basislänge.\n"
        "Jede Linie mit Neigungsmesser oder Winkelmessgerät auf der Brücke hin und zurück lesen.\n"
        "Linien, die sich kreuzen, müssen dort übereinstimmen: die Schlussfehler sagen, wie gut die Messwerte sind.\n"
        "Die Höhen werden über alle Linien zugleich verbunden, dann in die kleinste Zone gelegt."
    ),
    "procedures_parts.flatness_grid.wrong": (
        "Neigungen überall brauchen eine ruhige Platte: niemand lehnt daran.\n"
        "Eine andersherum gelesene Linie kehrt ihr Vorzeichen um; ihre Schlussfehler zeigen es.\n"
        "Eine Platte in der Sonne ist oben warm und ballig."
    ),
    "procedures_parts.flatness_grid.cautions": "Zwischen den Linien wird nichts Schweres auf die Platte gestellt.",
}
