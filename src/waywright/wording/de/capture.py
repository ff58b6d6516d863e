"""Deutsch: Sätze zur Aufnahme eines Durchgangs."""

TEXT = {
    "capture.disturbed": (
        "Bei {position_mm:.0f} mm war {channel} {duration_s:.1f} s lang gestört. Der Messwert wurde von selbst noch "
        "einmal genommen."
    ),
    "capture.disturbed_not_taken": (
        "Bei {position_mm:.0f} mm war {channel} {duration_s:.1f} s lang gestört, und die Achse fuhr weiter, bevor der "
        "Messwert noch einmal genommen war. Fahren Sie dorthin zurück und warten Sie."
    ),
    "capture.lost": (
        "Bei {position_mm:.0f} mm war {channel} {duration_s:.1f} s lang verloren. Der Messwert wurde von selbst noch "
        "einmal genommen."
    ),
    "capture.lost_not_taken": (
        "Bei {position_mm:.0f} mm war {channel} {duration_s:.1f} s lang verloren, und die Achse fuhr weiter, bevor "
        "der Messwert noch einmal genommen war. Machen Sie den Strahl frei, fahren Sie zurück und warten Sie."
    ),
    "capture.restless": (
        "Bei {position_mm:.0f} mm streut {channel} {times:.0f}-mal so stark wie vorher, und so bleibt es. Der "
        "Messwert ist genommen; suchen Sie nach Zugluft oder Schwingungen."
    ),
    "capture.not_calm": (
        "Bei {position_mm:.0f} mm kam der Standardfehler von {channel} nur auf {standard_error:.2g} {unit} herunter "
        "(gewünscht: {wished:.2g} {unit}). Warten Sie auf ruhigere Luft oder erlauben Sie ein längeres Fenster."
    ),
    "capture.too_small_step": (
        "Der Halt bei {position_mm:.1f} mm ist nur {step_mm:.1f} mm von der letzten Station entfernt (kleinster "
        "Schritt {smallest_step_mm:.0f} mm): keine neue Station."
    ),
    "capture.repeat": (
        "Die Station bei {position_mm:.0f} mm wurde noch einmal gemessen. Der neue Messwert tritt an die Stelle von "
        "Nummer {number:.0f}, die aufbewahrt bleibt."
    ),
    "capture.hand_moved": (
        "Die Achse bewegte sich bei {position_mm:.0f} mm, während ein Messwert von Hand genommen wurde. Es gibt "
        "keinen Messwert; halten Sie an und lösen Sie noch einmal aus."
    ),
    "capture.gap": (
        "Bei {position_mm:.0f} mm fehlen {duration_s:.1f} s von {source}. Kein Messwert reicht über die Lücke; das "
        "Fenster begann danach neu."
    ),
    "capture.silent": (
        "Von {source} kommt seit {duration_s:.1f} s nichts. Alles Genommene ist aufbewahrt; prüfen Sie Kabel und "
        "Strom. Der Durchgang geht weiter, sobald es wieder da ist."
    ),
    "capture.returned": "{source} ist nach {duration_s:.1f} s wieder da. Der Durchgang geht weiter.",
    "capture.slept": (
        "Der Rechner hat {duration_s:.0f} s geschlafen. Kein Messwert reicht über den Schlaf; der Durchgang geht "
        "weiter, wo die Achse steht."
    ),
    "capture.travel_end": "Die Station bei {position_mm:.0f} mm ist das Ende des Weges: der Durchgang ist fertig.",
    "capture.continued": "Der Durchgang geht nach {readings} Messwerten weiter.",
    "capture.sources_ended": (
        "Alle Instrumente senden nichts mehr. Der Durchgang wurde angehalten; alles Genommene ist aufbewahrt."
    ),
    "capture.channel_missing": (
        "Kein Instrument hat den Kanal {channel}. Wählen Sie einen von: {known}, oder geben Sie die Beschreibung des "
        "Instruments an, das ihn hat."
    ),
    "capture.channel_twice": (
        "Der Kanal {channel} kommt von zwei Instrumenten. Geben Sie einem davon in seiner Beschreibung einen anderen "
        "Namen."
    ),
    "capture.computer_slept": (
        "Der Rechner lief {gone_s:.0f} s lang nicht, wahrscheinlich schlief er. Währenddessen wurde nichts gelesen."
    ),
}
