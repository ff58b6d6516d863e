"""Deutsch: Sätze über Teilstücke einer Linie und Verbindungen zwischen Linien."""

TEXT = {
    "segments.none": "Es gibt kein Teilstück zu verbinden. Nehmen Sie zuerst einen Durchgang auf.",
    "segments.overlap_short": (
        "Teilstück {segment} ({from_mm:.0f} bis {to_mm:.0f} mm) hat {stations} Stationen mit den anderen gemeinsam; "
        "mindestens {needed} sind nötig, um seine Neigung zu finden. Messen Sie die Überlappung noch einmal mit mehr "
        "Stationen."
    ),
    "segments.standard_deviation": (
        "Eine Standardabweichung eines Teilstücks ist keine Zahl über null. Berichtigen Sie sie, oder lassen Sie alle "
        "weg."
    ),
    "segments.draws_differ": (
        "Die Teilstücke tragen verschieden viele Ziehungen ({draws}). Geben Sie allen dieselbe Zahl."
    ),
    "segments.covariance_shape": (
        "Die Kovarianz hat die Form {shape} für {stations} Stationen. Geben Sie je Station eine Zeile und eine Spalte "
        "an."
    ),
    "segments.link_readings": (
        "Die Verbindung der beiden Linien hat {readings} brauchbare Messwerte, auf jeder Linie ist mindestens "
        "{needed} nötig. Messen Sie die Verbindung noch einmal."
    ),
}
