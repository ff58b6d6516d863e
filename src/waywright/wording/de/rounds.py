"""Deutsch: Wörter der Runden des Berichtigens auf den Seiten."""

TEXT = {
    "rounds.begin": "diese Runde beginnen",
    "rounds.open": "Runde {number}",
    "rounds.answer": "was getan wurde, in wenigen Worten",
    "rounds.answer_limit": "was der Hersteller erlaubt, etwa 200 oder 0,2 mm",
    "rounds.confirm": "bestätigen",
    "rounds.park": (
        "Den Schlitten bei {position_mm:.0f} mm abstellen und dort lassen: dort antwortet die Anzeige am besten."
    ),
    "rounds.begin_support": "mit Drehen beginnen: der Messwert von jetzt ist der Anfang",
    "rounds.no_reading": "Jetzt wird keine Höhe gelesen: um den Betrag auf dem Blatt drehen.",
    "rounds.of_target": "von",
    "rounds.there": "erreicht: nicht weiterdrehen",
    "rounds.by_amount": "um den Betrag auf dem Blatt",
    "rounds.turns_to_go": "noch {turns} Umdrehung · {direction}",
    "rounds.degrees_to_go": "noch {degrees:.0f}° · {direction}",
    "rounds.clockwise": "im Uhrzeigersinn",
    "rounds.anticlockwise": "gegen den Uhrzeigersinn",
    "rounds.turns_in_short": "{turns} Umdrehung, {direction}",
    "rounds.degrees_in_short": "{degrees:.0f}°, {direction}",
    "rounds.speak": "die fehlende Drehung ansagen",
    "rounds.practice_drives": "zum Üben: den Schlitten dort abstellen",
    "rounds.practice_turns": "zum Üben: der Monteur dreht",
    "rounds.otherwise": "es wurde anders gemacht",
    "rounds.done_um": "wirklich bewegt, {unit}",
    "rounds.remark": "Bemerkung",
    "rounds.keep_otherwise": "so aufbewahren, nächstes Aufstellelement",
    "rounds.does_not_move": "es bewegt sich nicht",
    "rounds.before_measuring": (
        "Jedes Aufstellelement von Hand prüfen: jedes muss tragen. Warten, bis sich das Bett gesetzt hat, dann "
        "dieselbe "
        "Linie noch einmal messen."
    ),
    "rounds.measured_after": "Nach Runde {number} gemessen",
    "rounds.learn_words": (
        "Die Messwerte vor und nach der Runde sagen, wie steif das Bett wirklich ist; darauf ruht der nächste Plan."
    ),
    "rounds.learn": "was hat die Runde gezeigt?",
    "rounds.history": "Runde für Runde",
    "rounds.turned_since": (
        "Nachdem diese Linie gemessen war, wurde in Runde {number} gedreht: auf der neueren Linie planen."
    ),
    "rounds.to_line_after": "zur danach gemessenen Linie",
    "rounds.belief": "was Runde {number} vom Bett gezeigt hat",
    "rounds.belief_rests": (
        "Was von diesem Bett angenommen wird, ruht auf {rounds} gemessenen Runden; der nächste Plan nutzt es."
    ),
    "rounds.belief_bending": (
        "Biegung: {times:.2f}-mal so steif wie vorher angenommen; bekannt auf den Faktor {now:.2f}, vorher "
        "{before:.2f}."
    ),
    "rounds.belief_torsion": (
        "Verdrehung: {times:.2f}-mal so steif wie vorher angenommen; bekannt auf den Faktor {now:.2f}, vorher "
        "{before:.2f}."
    ),
    "rounds.belief_seats": (
        "Die Auflage unter einem mittleren Aufstellelement ist bekannt auf den Faktor {now:.2f}, vorher {before:.2f}."
    ),
    "rounds.column_round": "Runde",
    "rounds.column_before": "vorher, {unit}",
    "rounds.column_expected": "erwartet (95 %)",
    "rounds.column_after": "gelesen, {unit}",
    "rounds.column_supports": "Aufstellelemente",
    "rounds.not_measured": "noch nicht",
    "rounds.surprise": "Runde {number} ist anders ausgegangen, als sie sollte.",
    "rounds.as_believed": "Runde {number} ist ausgegangen wie angenommen.",
    "rounds.details": "Runde {number}: Bewegungen und Bestätigungen",
    "rounds.move": "Aufstellelement {support}: verlangt {asked}, ausgeführt {done}.",
    "rounds.not_told": "nicht gesagt",
    "rounds.alarm_in": "Runde {number}: {sentence}",
    "rounds.alarm_title": "Halt",
    "rounds.alarm_elsewhere": "Er wird am Laptop beendet.",
    "rounds.mute": "Den Bildschirm einmal berühren: so lange hält der Browser die Seite stumm.",
    "rounds.alarm_seen": "gesehen; dieses Aufstellelement neu beginnen",
    "rounds.alarm_moved": "Der Schlitten hat sich um {moved_mm:.1f} mm bewegt, während gedreht wurde.",
    "rounds.alarm_jump": (
        "Der Messwert ist bei Aufstellelement {support} um {jump_um:+.0f} µm gesprungen: etwas ist gerutscht."
    ),
    "rounds.alarm_wrong_way": (
        "Der Messwert läuft um {gone_um:.0f} µm in die falsche Richtung: ist es Aufstellelement {support}, und wird es "
        "richtig herum gedreht?"
    ),
    "rounds.bow_title": "Gehört dieser Bogen dem Bett?",
    "rounds.bow_words": (
        "Die Linie ist um {bow_um:+.0f} µm über {length_m:.1f} m gebogen. Wärme, Luft und der Detektor machen dieselbe "
        "Form; für das Wetter darf kein Aufstellelement gedreht werden."
    ),
    "rounds.bow_cause": "was einen Bogen machen kann",
    "rounds.bow_makes": "macht, {unit}",
    "rounds.bow_doubt": "±, {unit} (95 %)",
    "rounds.bow_known": "bekannt durch",
    "rounds.measured": "gemessen",
    "rounds.assumed": "angenommen",
    "rounds.bow_why": "warum trotzdem gedreht wird",
    "rounds.bow_anyway": "weiter zum Plan",
    "rounds.else_title": "Was Aufstellelemente nicht können",
    "rounds.else_shims": "ein Paket Passbleche",
    "rounds.else_scraping": "Schaben",
    "rounds.else_table": "eine Tabelle für die Steuerung",
    "rounds.shim_wanted": "gewünscht, {unit}",
    "rounds.shim_stock": "vorhandene Bleche, µm x Anzahl",
    "rounds.shim_pack": "{foils} µm; Abweichung {off}.",
    "rounds.way_width": "Breite der Führung, mm",
    "rounds.scraping": "{volume:.0f} mm³ insgesamt, höchstens {deepest:.0f} µm tief.",
    "rounds.at_mm": "bei, {unit}",
    "rounds.take_off": "abtragen, {unit}",
    "rounds.spacing": "Abstand, mm",
    "rounds.table_repeats": (
        "Höchstens {repeatable:.1f} µm kehren in jedem Durchgang wieder; ein einzelner streut um {scatter:.1f} µm."
    ),
    "rounds.table_file": "Tabelle, CSV",
    "rounds.work_out": "ausrechnen",
}
