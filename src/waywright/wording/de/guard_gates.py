"""Deutsch: Einwände an den Toren: Plan, Instrumente, Zustand der Maschine, Wärme, nach dem Verstellen."""

TEXT = {
    "guard_gates.plan_missing": "Noch nicht vereinbart: {point}. Bis dahin dient das Ergebnis nur zur Kenntnis.",
    "guard_gates.plan_none": (
        "Für diesen Besuch ist kein Plan aufbewahrt: niemand hat vereinbart, was gemessen wird, gegen welche Toleranz "
        "und wie entschieden wird. Bis dahin dient das Ergebnis nur zur Kenntnis."
    ),
    "guard_gates.no_tolerance": (
        "Für {line} ist keine Toleranz aufgezeichnet. Sagen Sie sie, oder schreiben Sie sie in den Plan des Besuchs."
    ),
    "guard_gates.no_as_found": (
        "Bei diesem Besuch gibt es keine andere Linie dieser Achse wie vorgefunden, mit der {line} zu vergleichen "
        "wäre. Nennen Sie eine."
    ),
    "guard_gates.two_passes": (
        "{line} hat keinen früheren Durchgang derselben Aufstellung. Nehmen Sie einen, und am nächsten Tag drei "
        "seiner Stationen."
    ),
    "guard_gates.other_stations": (
        "Nahe {position_mm:.0f} mm wurde vorher nichts gelesen. Lesen Sie drei Stationen des früheren Durchgangs: "
        "beide Enden und die Mitte."
    ),
    "guard_gates.no_place": "Sagen Sie, wo die Temperatur gelesen wurde, zum Beispiel Bett oben.",
    "guard_gates.no_pass": "{line} hat keinen Durchgang {number}. Nehmen Sie ihn zuerst.",
    "guard_gates.no_certificate": (
        "{title} hat keinen aufgezeichneten Kalibrierschein. Zeichnen Sie ihn auf, oder nehmen Sie ein anderes "
        "Instrument."
    ),
    "guard_gates.no_due_date": (
        "Der Kalibrierschein von {title} hat keine aufgezeichnete Fälligkeit. Sehen Sie nach und zeichnen Sie sie auf."
    ),
    "guard_gates.overdue": (
        "Der Kalibrierschein von {title} ist am {due} abgelaufen. Nehmen Sie ein anderes Instrument."
    ),
    "guard_gates.uncertainty": (
        "Eine erweiterte Unsicherheit von {uncertainty_um:.1f} um ist mehr als ein Drittel der Toleranz "
        "({worst_um:.1f} um): das Urteil wird oft nicht entschieden sein."
    ),
    "guard_gates.state_missing": "Noch nicht beantwortet: {point}. Fragen Sie den Bediener, und zeichnen Sie es auf.",
    "guard_gates.change_unknown": (
        "Wie schnell sich die Temperatur ändert, ist nicht bekannt. Lesen Sie das Thermometer zweimal, im Abstand "
        "einer halben Stunde."
    ),
    "guard_gates.change": "Die Temperatur ändert sich um {change:+.1f} K je Stunde, mehr als {limit:g}. Warten Sie.",
    "guard_gates.gradient_unknown": (
        "Die Temperatur der Luft in zwei Höhen ist nicht bekannt. Messen Sie sie am Strahl und einen halben Meter "
        "darüber."
    ),
    "guard_gates.gradient": (
        "Die Luft liegt in Schichten: {gradient:+.2f} K je Meter, mehr als {limit:g}. Mischen Sie sie mit Lüftern "
        "längs des Strahls, oder schirmen Sie ihn ab."
    ),
    "guard_gates.differs": (
        "Die Zustände unterscheiden sich in {point}: {first} vorher, {second} jetzt. Bringen Sie die Maschine vor dem "
        "Vergleichen in denselben Zustand."
    ),
    "guard_gates.temperatures_differ": (
        "Das Bett hatte vorher {first_degc:.1f} Grad und hat jetzt {second_degc:.1f}, mehr als {limit_k:g} K "
        "auseinander. Vergleichen Sie bei gleichen Temperaturen, oder sagen Sie, was die Wärme tut."
    ),
    "guard_gates.compensation_on": (
        "Die Kompensation der Steuerung ist ein: die Messwerte zeigen die Maschine mit ihr, und nach ihnen sollte "
        "kein Aufstellelement verstellt werden."
    ),
    "guard_gates.bolts": "Die Ankerschrauben sind {bolts}, nicht mit vollem Drehmoment. Das Ergebnis ist vorläufig.",
    "guard_gates.creep_unknown": (
        "Niemand hat beobachtet, ob sich das Bett noch bewegt. Lesen Sie eine Station zweimal, im Abstand einer "
        "halben Stunde."
    ),
    "guard_gates.creep": (
        "Das Bett bewegt sich noch um {creep:+.1f} um je Stunde, mehr als {limit:.1f}. Warten Sie; bis dahin ist das "
        "Ergebnis vorläufig."
    ),
    "guard_gates.wait": (
        "Seit der letzten Verstellung sind erst {minutes:.0f} min vergangen; üblich sind {limit:.0f} min."
    ),
    "guard_gates.wait_unknown": (
        "Wie lange die letzte Verstellung her ist, ist nicht bekannt; üblich sind {limit:.0f} min, bevor wie "
        "hinterlassen gemessen wird."
    ),
    "guard_gates.recheck": "Das Ergebnis ist vorläufig. Prüfen Sie es am {on} noch einmal.",
    "guard_gates.three_stations": (
        "Die Probe der Grundlinie braucht drei Stationen: beide Enden und die Mitte; es sind {stations}."
    ),
    "guard_gates.baseline": (
        "Die Linie hat sich seit dem letzten Tag gebogen: die Mitte um {bow_um:+.1f} um gegen die Enden, "
        "{limit_um:.1f} um können Rauschen sein. Nehmen Sie einen ganzen Durchgang, bevor Sie weitermachen."
    ),
}
