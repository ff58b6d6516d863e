"""Deutsch: Sätze der Auswertung."""

TEXT = {
    "evaluate.too_few_stations": (
        "Eine Gerade braucht mindestens {needed} Stationen; es sind {stations}. Nehmen Sie mehr."
    ),
    "evaluate.positions_shape": (
        "Positionen müssen eine Liste von Zahlen sein; diese haben die Form {shape}. Geben Sie zu jeder Station eine "
        "Position an."
    ),
    "evaluate.position_not_a_number": (
        "Die Position von Station {station} ist keine Zahl. Tragen Sie sie ein oder lassen Sie die Station weg."
    ),
    "evaluate.values_shape": (
        "Die Werte {name} haben die Form {shape}. Geben Sie zu jeder Station einen Wert an, oder eine Tabelle mit "
        "einer Zeile je Station und einer Spalte je Wiederholung."
    ),
    "evaluate.lengths_differ": (
        "Es sind {positions} Positionen, aber {values} Werte {name}. Geben Sie zu jeder Position einen Wert an."
    ),
    "evaluate.not_a_number": (
        "{name} an Station {station} (Position {position_mm:g} mm) ist keine Zahl. Messen Sie noch einmal oder lassen "
        "Sie die Station weg."
    ),
    "evaluate.unknown_reference": 'Es gibt keine Bezugslinie "{reference}". Wählen Sie eine von: {known}.',
    "evaluate.end_not_single": (
        "An der Endposition {position_mm:g} mm stehen {readings} Messwerte, die Gerade durch die Endpunkte ist also "
        "nicht eindeutig. Behalten Sie einen, oder wählen Sie eine andere Bezugslinie."
    ),
    "evaluate.not_increasing": (
        "Position {position_mm:g} mm von Station {station} geht nicht in der Richtung der Stationen davor weiter. "
        "Ordnen Sie die Stationen nach der Position und behalten Sie je einen Messwert."
    ),
    "evaluate.position_repeated": (
        "Position {position_mm:g} mm kommt mehr als einmal vor. Behalten Sie je Position einen Messwert."
    ),
    "evaluate.window_length": (
        "Ein Fenster von {window_mm:g} mm passt nicht zur gemessenen Länge von {length_mm:g} mm. Wählen Sie ein "
        "kürzeres, das nicht null ist."
    ),
    "evaluate.not_judged_spacing": "nicht beurteilt: Stationen alle {spacing_mm:.0f} mm, nötig {needed_mm:.0f}",
    "evaluate.base_not_positive": (
        "Die Basislänge von Schritt {step} ist {base_mm:g} mm. Geben Sie den Abstand der Füße in mm an; er liegt über "
        "null."
    ),
    "evaluate.tilt_not_a_number": (
        "Die Neigung von Schritt {step} ist keine Zahl. Messen Sie diesen Schritt noch einmal: ohne ihn schließen die "
        "Höhen nicht aneinander an."
    ),
    "evaluate.dependent_columns": (
        "Die {columns} Unbekannten des Ausgleichs sind mit diesen Orten nicht zu unterscheiden. Messen Sie an mehr "
        "verschiedenen Orten."
    ),
    "evaluate.too_few_observations": (
        "{observations} Messwerte können {unknowns} Unbekannte nicht bestimmen. Nehmen Sie mehr."
    ),
    "evaluate.fit_shapes": (
        "Der Ausgleich bekam Spalten der Form {columns} und Messwerte der Form {observed}; beide brauchen gleich "
        "viele Zeilen."
    ),
    "evaluate.network_empty": "Ein Netz braucht mindestens eine Linie von Neigungen.",
    "evaluate.network_base": (
        "Die Basis von Linie {line} ist {base_mm:g} mm. Geben Sie den Abstand der Füße in mm an; er liegt über null."
    ),
    "evaluate.network_tilt": "Schritt {step} von Linie {line} ist keine Zahl. Messen Sie diesen Schritt noch einmal.",
    "evaluate.network_direction": "Linie {line} beginnt und endet am selben Ort, ihre Richtung ist also nicht bekannt.",
    "evaluate.network_not_joined": (
        "Linie {line} trifft die anderen in keinem gemeinsamen Punkt. Fügen Sie eine Linie hinzu, die beide kreuzt, "
        "oder berichtigen Sie ihren Anfang."
    ),
    "evaluate.points_on_a_line": (
        "Die {points} Punkte liegen auf einer Linie, das legt keine Ebene fest. Messen Sie an Punkten abseits davon."
    ),
    "evaluate.three_points_needed": (
        "Eine Ebene durch drei Punkte braucht drei verschiedene, mit ihren Nummern von 0 bis {points} (nicht "
        "eingeschlossen)."
    ),
    "evaluate.plane_not_found": (
        "Für {points} Punkte wurde keine Ebene der kleinsten Zone gefunden. Prüfen Sie die Höhen auf Schreibfehler, "
        "oder nehmen Sie die Ausgleichsebene."
    ),
    "evaluate.gauge_not_positive": (
        "Die Spurweite der Bahnen ist {gauge_mm:g} mm. Geben Sie ihren Abstand an; er liegt über null."
    ),
    "evaluate.squareness_code": (
        'Es gibt keine Rechtwinkligkeit "{code}". Schreiben Sie den Drehbuchstaben, 0 und die zweite Achse: C0Y, '
        "A0Z, B0Z und so weiter."
    ),
    "evaluate.nothing_in_common": (
        "Die erste Linie endet bei {first_end_mm:g} mm, die zweite beginnt bei {second_start_mm:g} mm: sie haben "
        "keine Länge gemeinsam. Messen Sie beide über dieselbe Länge."
    ),
    "evaluate.runs_differ": (
        "Es sind {up} Läufe in positiver und {down} in negativer Richtung. Nehmen Sie in beiden gleich viele."
    ),
    "evaluate.one_run": (
        "Mit einem Lauf je Richtung lassen sich weder Genauigkeit noch Wiederholpräzision angeben. ISO 230-2 verlangt "
        "{needed} Läufe je Richtung bis {longest_mm:.0f} mm."
    ),
    "evaluate.fewer_runs": (
        "ISO 230-2 verlangt {needed} Läufe je Richtung bis {longest_mm:.0f} mm; mit {runs} sind diese Zahlen für "
        "Genauigkeit und Wiederholpräzision nicht die der Norm."
    ),
    "evaluate.no_repeatability_so_long": (
        "Über {length_mm:.0f} mm nimmt ISO 230-2 einen Lauf je Richtung und wertet keine Wiederholpräzision aus: über "
        "{longest_mm:.0f} mm werden weder A noch R angegeben. Wo sie vereinbart sind, messen Sie ein Stück von "
        "{longest_mm:.0f} mm."
    ),
    "evaluate.sets_differ": (
        "Der normale Satz hat die Form {normal}, der gewendete {turned}. Beide brauchen dieselben Stationen und "
        "Wiederholungen."
    ),
}
