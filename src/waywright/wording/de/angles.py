"""Deutsch: Sätze über Winkel, die zu Höhen werden, Sollkurven und die Wahl der Bezugslinie."""

TEXT = {
    "angles.guideway_averaged": (
        "{code} aus {rotation}: die Form der Führungsbahn, über den Schlitten gemittelt. Es ist nicht die Geradheit "
        "der Achse am Funktionspunkt; messen Sie dafür dort, oder rechnen Sie die Winkel mal ihren Hebelarmen dazu."
    ),
    "angles.no_straightness": "{code} ist keine Geradheit. Nennen Sie eine wie EYZ: E, Richtung, bewegte Achse.",
    "angles.across": (
        "Die Achse {axis} läuft nicht {direction}. Sagen Sie, in welche Richtung die Positionen auf ihr wachsen."
    ),
    "angles.step_differs": (
        "Schritt {step} ist {step_mm:g} mm, die Basislänge {base_mm:g} mm: sie weichen um {share:.1%} voneinander ab. "
        "Über 2 % hinaus lassen die Schritte Lücken oder überlappen. Setzen Sie um die Basislänge um."
    ),
    "angles.target_too_short": (
        "Die Sollkurve reicht von {from_mm:g} bis {to_mm:g} mm, es gibt aber eine Station bei {position_mm:g} mm. "
        "Verlängern Sie die Kurve, oder lassen Sie die Station weg."
    ),
    "angles.one_reference": "Zum Vergleichen braucht es Werte um mindestens zwei Bezugslinien (hier: {lines}).",
    "angles.lines_differ": (
        "Der Wert hängt von der Bezugslinie ab: {smallest_um:.1f} µm um die Linie {smallest}, {largest_um:.1f} µm um "
        "die Linie {largest} ({share:.0%} mehr). Vereinbaren Sie mit dem Kunden, welche gilt."
    ),
    "angles.line_decides": (
        "Die Bezugslinie entscheidet: {smallest_um:.1f} µm um die Linie {smallest}, {largest_um:.1f} µm um die Linie "
        "{largest}, dazwischen liegt die Grenze von {limit_um:.1f} µm. Vereinbaren Sie mit dem Kunden, welche gilt."
    ),
}
