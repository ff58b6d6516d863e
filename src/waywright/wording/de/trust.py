"""Deutsch: Wörter der Seite, die fragt, ob einer Aufstellung heute zu trauen ist."""

TEXT = {
    "trust.title": "Vor dem ersten Durchgang",
    "trust.question": "Ist dieser Aufstellung heute zu trauen?",
    "trust.back": "zurück zum Durchgang",
    "trust.so_far": "Bisher geprüft",
    "trust.direction": "Richtungsprobe",
    "trust.alignment": "Ausrichtung",
    "trust.steadiness": "Ruhe",
    "trust.not_made": "nicht gemacht",
    "trust.good": "gut, {time} UTC",
    "trust.anyway": "trotzdem weitergemacht, {time} UTC",
    "trust.in_the_way": "nicht gut, {time} UTC",
    "trust.anyway_because": "Trotzdem weitergemacht: {reason}",
    "trust.why_anyway": "warum es weitergeht, obwohl das nicht gut ist",
    "trust.go_on_anyway": "trotzdem weitermachen",
    "trust.not_connected": "Verbinden Sie zuerst die Instrumente; der Schlitten muss stehen.",
    "trust.silent": (
        "Der Kanal {channel} ist verstummt. Sehen Sie nach Kabel und Verbindung, dann versuchen Sie es noch einmal."
    ),
    "trust.no_beam": "Diese Linie hat keinen Detektor, der Höhe und Seite sieht. Hier ist nichts zu prüfen.",
    "trust.no_move_yet": "Mitteln Sie zuerst vor und nach mindestens einer Bewegung.",
    "trust.direction_words": (
        "Bewegen Sie den Detektor um ein bekanntes Maß: dann ist bewiesen, welcher Kanal wohin zählt und wie gut "
        "seine Größe stimmt. Es ist der beste Schutz vor einem falschen Vorzeichen."
    ),
    "trust.move_up": "1  Nach oben: ein Endmaß unter alle Füße",
    "trust.move_side": "2  Zum Bediener hin: ein bekannter Schub",
    "trust.size": "bewegt um, µm",
    "trust.size_off": "auf ± genau, µm",
    "trust.average_before_up": "ohne Endmaß mitteln",
    "trust.average_after_up": "mit Endmaß mitteln",
    "trust.average_before_side": "vor dem Schub mitteln",
    "trust.average_after_side": "nach dem Schub mitteln",
    "trust.judge": "was beweist es?",
    "trust.direction_passed": "Bewiesen",
    "trust.direction_failed": "Etwas ist verkehrt herum",
    "trust.direction_not-resolved": "Nicht bewiesen",
    "trust.scale": "Größe {direction}: {percent:.1f} % ± {error:.1f} % der Bewegung.",
    "trust.roll": "Der Detektor ist um {roll:+.2f}° ± {error:.2f}° verdreht.",
    "trust.count_as_proved": "die Kanäle zählen lassen, wie diese Probe sagt",
    "trust.reason_direction": "wie die Richtungsprobe bewies",
    "trust.alignment_words": (
        "Stellen Sie sich nahe an die Quelle und lesen Sie, fahren Sie ans ferne Ende und lesen Sie noch einmal. Der "
        "Strahl wird gezeichnet, wie er liegt, und es steht da, was an der Quelle zu tun ist: nah verschieben, fern "
        "neigen."
    ),
    "trust.tolerance": "Toleranz der Linie, µm",
    "trust.shift_per_turn": "Schraube zum Verschieben, µm je Umdrehung",
    "trust.tilt_per_turn": "Schraube zum Neigen, µm/m je Umdrehung",
    "trust.distance": "von der Quelle, m (wenn nicht bekannt)",
    "trust.distance_unknown": (
        "Wie weit der Detektor von der Quelle steht, ist nicht bekannt. Tippen Sie die Entfernung in Metern ein, oder "
        "zeichnen Sie auf, worauf die Quelle steht und wo die Position null ist."
    ),
    "trust.read_here": "hier lesen",
    "trust.begin_anew": "neu beginnen",
    "trust.stand": "{distance:.2f} m von der Quelle: {figures}",
    "trust.drive_near": "beim Üben: nah heranfahren",
    "trust.drive_far": "beim Üben: ans ferne Ende fahren",
    "trust.beam_from_the_side": "Der Strahl von der Seite gesehen: {quantity}",
    "trust.beam_from_above": "Der Strahl von oben gesehen: {quantity}",
    "trust.shift": "Die Quelle um {amount:.0f} µm {direction} verschieben.",
    "trust.tilt": "Sie um {amount:.1f} µm/m {direction} neigen.",
    "trust.turns_clockwise": "Das sind {turns:.2f} Umdrehungen im Uhrzeigersinn.",
    "trust.turns_anticlockwise": "Das sind {turns:.2f} Umdrehungen gegen den Uhrzeigersinn.",
    "trust.remains": "Dann bleiben Anzeigen von höchstens {predicted:.1f} µm.",
    "trust.steadiness_words": (
        "Während der Aufzeichnung bewegt sich nichts. Die Kurve sagt, wie lange ein Messwert gemittelt werden muss, "
        "die Drift, wie lange ein Durchgang dauern darf."
    ),
    "trust.minutes": "aufzeichnen, min",
    "trust.wished": "gewünschte Streuung, µm",
    "trust.pass_minutes": "ein Durchgang dauert, min",
    "trust.record_near": "nahe an der Quelle aufzeichnen",
    "trust.record_far": "fern von ihr aufzeichnen",
    "trust.recorded": "{minutes:g} min bei {distance:.2f} m aufgezeichnet.",
    "trust.allan": "Streuung der Mittel: {quantity}",
    "trust.at_near": "nah, {distance:.1f} m",
    "trust.at_far": "fern, {distance:.1f} m",
    "trust.scatter": "Streuung eines Einzelwerts, nah · fern",
    "trust.near_far": "{near:.2f} µm · {far:.2f} µm",
    "trust.drift": "Drift, nah · fern",
    "trust.drift_near_far": "{near:+.2f} µm/min · {far:+.2f} µm/min",
    "trust.longest_pass": "längster Durchgang",
    "trust.minutes_of": "{minutes:.0f} min",
}
