"""Deutsch: Namen von Größen, Richtungen und Einheiten."""

TEXT = {
    "quantities.height": "Höhe",
    "quantities.side": "Seite",
    "quantities.roll": "Rollen",
    "quantities.pitch": "Nicken",
    "quantities.yaw": "Gieren",
    "quantities.position": "Position",
    "quantities.towards": "zu {direction} hin",
    "quantities.about": "Neigung um {direction}",
    "quantities.up": "nach oben",
    "quantities.down": "nach unten",
    "quantities.towards-operator": "zum Bediener hin",
    "quantities.away-from-operator": "vom Bediener weg",
    "quantities.right": "nach rechts",
    "quantities.left": "nach links",
    "quantities.operator-side-up": "Bedienseite hoch",
    "quantities.operator-side-down": "Bedienseite tief",
    "quantities.right-side-up": "rechte Seite hoch",
    "quantities.right-side-down": "rechte Seite tief",
    "quantities.anticlockwise-from-above": "von oben gesehen gegen den Uhrzeigersinn",
    "quantities.clockwise-from-above": "von oben gesehen im Uhrzeigersinn",
    "quantities.unknown_unit": "Die Einheit {unit!r} ist hier nicht bekannt. Möglich sind: {allowed}.",
    "quantities.bad_code": (
        "{code!r} ist kein Kurzzeichen einer Bewegungsabweichung nach ISO 230-1. Schreiben Sie E, die Richtung (X Y "
        "Z, bei Drehungen A B C) und die bewegte Achse, zum Beispiel EYZ oder ECZ."
    ),
    "quantities.bad_axis": "{value!r} ist keine Achse mit Vorzeichen. Schreiben Sie zum Beispiel +Z oder -Y.",
    "quantities.same_axis": (
        "Dieselbe Achse kann nicht nach oben ({up}) und zum Bediener hin ({operator}) zeigen. Berichtigen Sie eine "
        "der beiden."
    ),
    "quantities.direction_across": (
        "{code} hat keinen Anteil in der Richtung {direction}. Wählen Sie eine Richtung, die längs der Achse des "
        "Kurzzeichens liegt, oder berichtigen Sie die Achsen der Maschine."
    ),
}
