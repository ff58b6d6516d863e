"""Deutsch: Wörter der Runden des Berichtigens auf den Seiten."""

TEXT = {
    "rounds.begin": "diese Runde beginnen",
    "rounds.open": "Runde {number}",
    "rounds.answer": "was getan wurde, in wenigen Worten",
    "rounds.answer_limit": "was der Hersteller erlaubt, etwa 200 oder 0.2 mm",
    "rounds.confirm": "bestätigen",
    "rounds.park": "Stellen Sie den Schlitten nahe {position_mm} mm ab und lassen Sie ihn dort.",
    "rounds.begin_support": "Drehen beginnen: die Anzeige von jetzt ist der Anfang",
    "rounds.no_reading": "Jetzt wird keine Höhe gelesen: drehen Sie um das Maß auf dem Blatt.",
    "rounds.of_target": "µm von",
    "rounds.there": "erreicht: nicht weiterdrehen",
    "rounds.by_amount": "um das Maß auf dem Blatt",
    "rounds.turns_to_go": "noch {turns} Umdrehung · {direction}",
    "rounds.degrees_to_go": "noch {degrees:.0f}° · {direction}",
    "rounds.clockwise": "im Uhrzeigersinn",
    "rounds.anticlockwise": "gegen den Uhrzeigersinn",
    "rounds.speak": "den Rest ansagen",
    "rounds.practice_drives": "beim Üben: den Schlitten dort abstellen",
    "rounds.practice_turns": "beim Üben: der Monteur dreht",
    "rounds.otherwise": "es wurde anders gemacht",
    "rounds.done_um": "wirklich verstellt, µm",
    "rounds.remark": "Bemerkung",
    "rounds.keep_otherwise": "so behalten, nächstes Aufstellelement",
    "rounds.does_not_move": "es bewegt sich nicht",
    "rounds.before_measuring": (
        "Jedes Aufstellelement von Hand prüfen: jedes muss tragen. Warten, bis sich das Bett gesetzt hat, dann "
        "dieselbe Linie noch einmal messen."
    ),
    "rounds.measured_after": "Gemessen nach Runde {number}",
    "rounds.learn_words": (
        "Die Messwerte vor und nach der Runde sagen, wie steif das Bett wirklich ist; darauf beruht der nächste Plan."
    ),
    "rounds.learn": "was lehrt die Runde?",
    "rounds.history": "Runde für Runde",
    "rounds.column_round": "Runde",
    "rounds.column_before": "vorher, µm",
    "rounds.column_expected": "erwartet (95 %)",
    "rounds.column_after": "gelesen, µm",
    "rounds.column_supports": "Aufstellelemente",
    "rounds.not_measured": "noch nicht",
    "rounds.surprise": "Runde {number} kam anders heraus, als sie sollte.",
    "rounds.as_believed": "Runde {number} kam heraus wie angenommen.",
    "rounds.details": "Runde {number}: Verstellungen und Bestätigungen",
    "rounds.move": "Aufstellelement {support}: verlangt {asked} µm, getan {done}.",
    "rounds.not_told": "nicht gesagt",
    "rounds.alarm_in": "Runde {number}: {sentence}",
    "rounds.alarm_title": "Halt",
    "rounds.alarm_seen": "gesehen; dieses Aufstellelement neu beginnen",
    "rounds.alarm_moved": (
        "Der Schlitten hat sich um {moved_mm:.1f} mm bewegt, während ein Aufstellelement verstellt wurde."
    ),
    "rounds.alarm_jump": (
        "Die Anzeige ist an Aufstellelement {support} um {jump_um:+.0f} µm gesprungen: etwas ist verrutscht."
    ),
    "rounds.alarm_wrong_way": (
        "Die Anzeige läuft um {gone_um:.0f} µm in die falsche Richtung: ist es Aufstellelement {support}, und wird es "
        "richtig herum gedreht?"
    ),
    "rounds.bow_title": "Ist dieser Bogen der des Betts?",
    "rounds.bow_words": (
        "Die Linie ist über {length_m:.1f} m um {bow_um:+.0f} µm gebogen. Wärme, Luft und Detektor machen dieselbe "
        "Form; für das Wetter darf kein Aufstellelement verstellt werden."
    ),
    "rounds.bow_cause": "was einen Bogen machen kann",
    "rounds.bow_makes": "macht, µm",
    "rounds.bow_doubt": "±, µm (95 %)",
    "rounds.bow_known": "bekannt durch",
    "rounds.measured": "gemessen",
    "rounds.assumed": "angenommen",
    "rounds.bow_why": "warum trotzdem verstellt wird",
    "rounds.bow_anyway": "weiter zum Plan",
    "rounds.else_title": "Was Aufstellelemente nicht können",
    "rounds.else_shims": "ein Beilagenpaket",
    "rounds.else_scraping": "Schaben",
    "rounds.else_table": "eine Tabelle für die Steuerung",
    "rounds.shim_wanted": "gewünscht, µm",
    "rounds.shim_stock": "Folien zur Hand, µm x Anzahl",
    "rounds.shim_pack": "{foils} µm; um {off} µm daneben.",
    "rounds.way_width": "Breite der Bahn, mm",
    "rounds.scraping": "{volume:.0f} mm³ im Ganzen, höchstens {deepest:.0f} µm tief.",
    "rounds.at_mm": "bei, mm",
    "rounds.take_off": "abtragen, µm",
    "rounds.spacing": "Abstand, mm",
    "rounds.table_repeats": (
        "Höchstens {repeatable:.1f} µm kommen in jedem Durchgang wieder; ein einzelner streut um {scatter:.1f} µm."
    ),
    "rounds.table_file": "Tabelle, CSV",
    "rounds.work_out": "ausrechnen",
}
