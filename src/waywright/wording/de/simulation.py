"""Deutsch: Sätze der Übungswerkstatt."""

TEXT = {
    "simulation.no_scenario": (
        "Es gibt keine Szene {file!r}. Geben Sie den Pfad einer TOML-Datei an, oder eine von: {known}."
    ),
    "simulation.bad_scenario": (
        "Die Szene {file} ist nicht zu gebrauchen: {problem}. Berichtigen Sie die Datei und beginnen Sie noch einmal."
    ),
    "simulation.did_not_start": (
        "Die Übungswerkstatt ist nicht angelaufen (Rückgabewert {exit_code}). Was sie sagte, steht darüber; starten "
        "Sie sie noch einmal."
    ),
    "simulation.ended": (
        "Die Übungswerkstatt ist zu Ende (Rückgabewert {exit_code}) und antwortet nicht mehr. Starten Sie sie noch "
        "einmal."
    ),
    "simulation.no_instrument": "Die Übungswerkstatt hat kein weiteres Instrument {name!r}. Es gibt: {known}.",
    "simulation.not_left": (
        "Der Bediener fährt: jetzt lässt niemand die Maschine allein. Warten Sie, bis er zurück ist."
    ),
    "simulation.not_turned": (
        "Das Aufstellelement {support} wurde nicht verstellt: es gibt keines dieses Namens, oder der Schlitten wird "
        "gefahren. Warten Sie, bis der Bediener fertig ist, und nehmen Sie die Namen, die am Boden stehen."
    ),
    "simulation.serving": (
        "Übungswerkstatt Hollin Reach (erfunden), Szene {title}, {factor:g}-mal so schnell wie in Wirklichkeit. Die "
        "Instrumente sind beschrieben in {folder}:"
    ),
    "simulation.endpoint": "  {name:<14} {place}",
    "simulation.press_enter": "Auf Enter fährt der Bediener den Schlitten hin und zurück; Strg-C beendet.",
    "simulation.driving": "Der Bediener fährt; der ganze Weg dauert etwa {duration_s:.0f} s der Werkstattzeit.",
    "simulation.round": "Runde {number}",
    "simulation.round_planned": "Runde {number}: der Plan und das Blatt für den Monteur",
    "simulation.fitter_turns": (
        "Der Monteur verstellt {supports}, eines nach dem anderen und so gut, wie ein Monteur kann; dann bleibt das "
        "Bett in Ruhe."
    ),
    "simulation.round_done": (
        "Runde {number}: {before_um:.1f} µm vorher, {expected_um:.1f} µm erwartet, {value_um:.1f} µm gelesen."
    ),
    "simulation.round_surprise": (
        "Die Messwerte haben sich anders bewegt, als sie sollten. Die wahrscheinlichsten Ursachen:"
    ),
    "simulation.whole_reached": "Wie hinterlassen ist das Ziel von {goal_um:g} µm eingehalten.",
    "simulation.whole_not_reached": (
        "Wie hinterlassen ist das Ziel von {goal_um:g} µm nicht eingehalten; der Bericht sagt, was erreicht wurde. "
        "Planen Sie noch eine Runde."
    ),
    "simulation.stopped": "Die Übungswerkstatt ist geschlossen.",
}
