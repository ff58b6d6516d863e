"""Deutsch: Regeln, nach denen die Prüfung geht, und woher sie kommen."""

TEXT = {
    "guard_rules.source_common_practice": "übliche Praxis, keine veröffentlichte Quelle",
    "guard_rules.drift_share": "die Drift während eines Durchgangs bleibt unter {value:g} der Toleranz",
    "guard_rules.longest_averaging": "an einer Station werden höchstens {value:g} s gemittelt",
    "guard_rules.record_of_averages": (
        "eine Aufzeichnung ist mindestens {value:g}-mal so lang wie das Mittel, für das sie spricht"
    ),
    "guard_rules.most_disturbed": "höchstens {value:g} der Einzelwerte sind verloren oder weit draußen",
    "guard_rules.scale": "die Größe einer bekannten Bewegung stimmt auf {value:g} genau",
    "guard_rules.roll": "der Detektor ist um höchstens {value:g} Grad verdreht",
    "guard_rules.seating": (
        "ein Endmaß sitzt mit einer Standardunsicherheit von {value:g} um, wo nichts Besseres bekannt ist"
    ),
    "guard_rules.nonlinearity_share": (
        "der Fehler durch die Nichtlinearität des Detektors bleibt unter {value:g} der Toleranz"
    ),
    "guard_rules.excursion_of_smallest": (
        "der Ausschlag ist höchstens etwa das {value:g}-fache der kleinsten gesuchten Abweichung"
    ),
    "guard_rules.excursion_of_range": "der Ausschlag ist höchstens {value:g} des Bereichs des Detektors",
    "guard_rules.bow_share": (
        "einem Bogen wird geglaubt, wenn alles, was ihn vortäuschen könnte, innerhalb von {value:g} der Toleranz bleibt"
    ),
    "guard_rules.bow_third": (
        "einem Bogen wird geglaubt, wenn alles, was ihn vortäuschen könnte, innerhalb von {value:.2g} des Bogens bleibt"
    ),
    "guard_rules.closure_share": "ein Abschluss bleibt innerhalb von {value:g} der Toleranz",
    "guard_rules.closure_uncertainties": (
        "oder innerhalb der {value:g}-fachen Standardunsicherheit eines Unterschieds zweier Messwerte"
    ),
    "guard_rules.temperature_rate": "Temperaturen ändern sich um höchstens {value:g} K je Stunde",
    "guard_rules.station_apart": "eine Station steht innerhalb von {value:g} des Abstands an ihrem Ort",
    "guard_rules.stations_per_spacing": (
        "{value:g} Schritte von einem Aufstellelement zum nächsten, und eine Station über jedem"
    ),
    "guard_rules.stations_per_window": "{value:g} Schritte im Fenster einer örtlichen Toleranz",
    "guard_rules.fewest_steps": "mindestens {value:g} Schritte auf dem Weg",
    "guard_rules.passes_each_way": "mindestens {value:g} Durchgang je Richtung",
    "guard_rules.uncertainty_share": "gewünscht ist eine erweiterte Unsicherheit (k = 2) von {value:g} der Toleranz",
    "guard_rules.reduced_feed": "ein verminderter Vorschub von {value:g} mm/min zwischen den Stationen",
    "guard_rules.settle": "{value:g} s zum Beruhigen nach jedem Halt",
    "guard_rules.gradient": "die Temperatur der Luft ändert sich um höchstens {value:g} K je Meter Höhe",
    "guard_rules.creep": "nach dem Verstellen kriechen Messwerte um höchstens {value:g} der Toleranz je Stunde",
    "guard_rules.wait": "wie hinterlassen wird frühestens {value:g} min nach der letzten Verstellung gemessen",
    "guard_rules.recheck": "ein vorläufiges Ergebnis wird nach {value:g} Tagen noch einmal geprüft",
    "guard_rules.uncertainty_worst": "die erweiterte Unsicherheit ist höchstens {value:.2g} der Toleranz",
    "guard_rules.comparable": (
        "Zustände werden verglichen, wenn die Temperatur des Betts um höchstens {value:g} K abweicht"
    ),
}
