"""Deutsch: Sätze über zusammengeführte Durchgänge."""

TEXT = {
    "passes.none": "Es gibt keinen Durchgang auszuwerten. Nehmen Sie zuerst einen auf.",
    "passes.bad_direction": "{direction!r} ist keine Richtung eines Durchgangs. Schreiben Sie forward oder backward.",
    "passes.apart": (
        "Die Durchgänge haben keine gemeinsame Strecke: {stations} Stationen liegen im Bereich aller, mindestens 3 "
        "sind nötig. Prüfen Sie die Positionen, oder werten Sie die Durchgänge einzeln aus."
    ),
    "passes.no_times": (
        "Die Messwerte haben keine Zeiten, eine Drift lässt sich so nicht schätzen. Nehmen Sie aufgenommene "
        "Messwerte, oder ergänzen Sie zu jedem eine Zeit."
    ),
    "passes.drift_one_pass": (
        "Ein Durchgang kann keine Drift zeigen. Nehmen Sie einen zweiten in derselben Richtung, oder lesen Sie die "
        "Stationen an beiden Enden noch einmal."
    ),
    "passes.drift_or_reversal": (
        "Mit je einem Durchgang hin und zurück ist eine gleichmäßige Drift nicht von einer Umkehrspanne zu "
        "unterscheiden, die längs der Achse wächst. Nehmen Sie noch einen Durchgang, oder warten Sie am fernen Ende "
        "und lesen Sie es zweimal, das nahe Ende ebenso."
    ),
    "passes.drift_closure_too_little": (
        "Die zweimal gelesenen Orte ({places_mm} mm) zeigen nicht Versatz und Winkel der Drift zugleich: am nahen "
        "Ende ist ein Winkel kaum zu sehen. Lesen Sie auch das ferne Ende zweimal."
    ),
    "passes.drift_not_separable": (
        "Die Drift ist nicht von einer Umkehrspanne zu unterscheiden, die längs der Achse wächst; sie wird nicht "
        "abgezogen. Nehmen Sie noch einen Durchgang, oder lesen Sie beide Enden zweimal."
    ),
    "passes.false_alarm": (
        "{false_alarm:g} ist keine Fehlalarmrate. Geben Sie einen Anteil zwischen 0 und 1 an, zum Beispiel 0.01."
    ),
    "passes.one_pass_cannot_tell": (
        "nicht verglichen: mit einem Durchgang ist ein Rutschen nicht von der Form der Bahn zu unterscheiden. Nehmen "
        "Sie einen zweiten."
    ),
    "passes.too_few_to_compare": (
        "nicht verglichen: die Durchgänge haben {stations} Stationen gemeinsam, mindestens {needed} sind nötig, um "
        "ein Rutschen vom Rauschen zu unterscheiden."
    ),
    "passes.too_many_to_compare": (
        "nicht verglichen: {readings} Messwerte sind mehr als die {most}, die Station für Station verglichen werden."
    ),
    "passes.found_spike": (
        "Durchgang {passes}: ein Messwert bei {from_mm:.0f} mm steht um {size:+.1f} ± {standard_error:.1f} {unit} "
        "heraus. Nehmen Sie ihn noch einmal, oder lassen Sie ihn mit Begründung weg."
    ),
    "passes.found_step": (
        "Durchgang {passes}: von einem Ort zwischen {from_mm:.0f} und {to_mm:.0f} mm an liegen alle Messwerte um "
        "{size:+.1f} ± {standard_error:.1f} {unit} daneben. Etwas ist verrutscht und so geblieben: prüfen Sie "
        "Magnete, Quelle und Detektor, dann nehmen Sie den Durchgang noch einmal."
    ),
    "passes.found_shift": (
        "Durchgang {passes}: von einem Ort zwischen {from_mm:.0f} und {to_mm:.0f} mm an passen die Messwerte zu "
        "Stationen, die {shift_mm:+.0f} mm entfernt sind ({size:+.2f} einer Station). Eine Station wurde doppelt "
        "gelesen oder ausgelassen: prüfen Sie die Positionen, dann nehmen Sie den Durchgang noch einmal."
    ),
    "passes.found_cannot-tell": (
        "Durchgang {passes}, zwischen {from_mm:.0f} und {to_mm:.0f} mm: die Messwerte passen nicht zu den anderen "
        "Durchgängen, und warum, ist nicht zu unterscheiden ({kinds}). Nehmen Sie den Durchgang noch einmal."
    ),
}
