"""Deutsch: Sätze zu Toleranzregeln und Urteilen."""

TEXT = {
    "verdict.rule_syntax": (
        "Die Toleranzregel ist ab Zeichen {position} nicht lesbar:\n"
        "{rule}\n"
        "{marker}\n"
        "Hier gehört hin: {expected}. Die Seite über Toleranzregeln hat Beispiele zum Abschreiben."
    ),
    "verdict.rule_decimal_comma": (
        "Zwischen zwei Zahlen steht ein Komma (Zeichen {position}):\n"
        "{rule}\n"
        "{marker}\n"
        "Schreiben Sie {number} mit Punkt, wenn eine Zahl gemeint ist, oder ein Leerzeichen nach dem Komma."
    ),
    "verdict.rule_number": (
        "Die Zahl bei Zeichen {position} ist für eine Toleranz zu klein oder zu groß:\n"
        "{rule}\n"
        "{marker}\n"
        "Zahlen sind mm, wenn keine Einheit folgt; erlaubt sind {smallest} bis {largest}."
    ),
    "verdict.rule_steps_descend": (
        "Stufen wachsen von links nach rechts; bei Zeichen {position} gehört etwas über {more_than} mm hin:\n"
        "{rule}\n"
        "{marker}\n"
        "Ordnen Sie die Stufen nach der Länge."
    ),
    "verdict.rule_twice": (
        "Die Wendung {phrase!r} steht zweimal da (Zeichen {position}):\n{rule}\n{marker}\nBehalten Sie eine."
    ),
    "verdict.rule_floor_above_max": (
        "Die Regel verlangt mindestens {at_least_mm} mm und höchstens {max_mm} mm:\n"
        "{rule}\n"
        "{marker}\n"
        "Berichtigen Sie eines von beiden."
    ),
    "verdict.rule_too_long": (
        "Die Toleranzregel hat {length} Zeichen; gelesen werden höchstens {longest}. Kürzen Sie sie."
    ),
    "verdict.beyond_last_step": (
        "Die Regel endet bei {up_to_mm:g} mm und sagt nichts über {length_mm:g} mm. Fügen Sie eine Stufe an, oder was "
        "je weitere Länge hinzukommt."
    ),
    "verdict.no_single_limit": (
        "Der Teil {part!r} der Regel hat keine einzelne Grenze für eine Länge: er braucht die gemessene Kurve. Prüfen "
        "Sie die Regel an einem Ergebnis."
    ),
    "verdict.bad_length": (
        "Eine Länge von {length_mm} mm lässt sich nicht beurteilen. Geben Sie die gemessene Länge in mm an."
    ),
    "verdict.not_judged_length": (
        "Nicht beurteilt nach {part!r}: die Regel endet bei {up_to_mm:g} mm, die Linie ist {length_mm:g} mm lang."
    ),
    "verdict.not_judged_needs_angle": (
        "Nicht beurteilt nach {part!r}: das Ergebnis ist ein Winkel, die Regel eine Länge. Schreiben Sie die Regel "
        "als Verhältnis, etwa 0.02/500."
    ),
    "verdict.not_judged_needs_curve": (
        "Nicht beurteilt nach {part!r}: dazu braucht es die Kurve der Abweichungen, nicht einen Wert."
    ),
    "verdict.not_judged_needs_length": (
        "Nicht beurteilt nach {part!r}: die gemessene Länge ist nicht bekannt. Geben Sie sie an."
    ),
    "verdict.not_judged_needs_direction": (
        "Nicht beurteilt nach {part!r}: es ist nicht angegeben, in welche Richtung positive Werte zeigen, oder sie "
        "liegt quer dazu."
    ),
    "verdict.not_judged_needs_place": (
        "Nicht beurteilt nach {part!r}: es ist nicht angegeben, wo {place!r} längs der Linie liegt. Sagen Sie, ob die "
        "Positionen dorthin wachsen."
    ),
    "verdict.not_judged_stations": (
        "Nicht beurteilt nach {part!r}: die Stationen stehen bis zu {spacing_mm:.0f} mm auseinander, ein Fenster von "
        "{window_mm:g} mm braucht vier. Nehmen Sie engere Stationen."
    ),
    "verdict.value_not_a_number": "Ein Wert von {value} lässt sich nicht beurteilen. Geben Sie eine Zahl in um an.",
    "verdict.unknown_burden": "Wer den Nachweis führt, ist {burden!r}; möglich sind: {known}.",
    "verdict.uncertainty_missing": (
        "Ein Urteil braucht die Unsicherheit des Wertes. Geben Sie die Standardunsicherheit in um an, oder U mit dem "
        "Erweiterungsfaktor."
    ),
    "verdict.uncertainty_twice": "Die Verteilung enthält die Unsicherheit schon; geben Sie keine zweite an.",
    "verdict.bad_uncertainty": (
        "Eine Unsicherheit von {uncertainty_um} um mit dem Erweiterungsfaktor {coverage_factor} ist nicht zu "
        "gebrauchen. Beide sind endlich, der Faktor ist positiv."
    ),
    "verdict.bad_limits": "Grenzen von {lower_um} bis {limit_um} um lassen keinen Raum. Die untere steht zuerst.",
    "verdict.bad_confidence": "Eine Sicherheit von {confidence} liegt nicht zwischen 0.5 und 1. Üblich ist 0.95.",
    "verdict.bad_spread": (
        "Streuungen von {sd_um} um und {standard_uncertainty_um} um: die der Maschinen und die der Messung sind beide "
        "positiv."
    ),
    "verdict.conforms": "entspricht",
    "verdict.does_not_conform": "entspricht nicht",
    "verdict.undecided": "nicht entschieden",
    "verdict.burden_supplier": "Der Lieferant hat die Übereinstimmung nachzuweisen.",
    "verdict.burden_customer": "Der Kunde hat die Nichtübereinstimmung nachzuweisen.",
    "verdict.burden_shared": "Die Last des Nachweises ist geteilt.",
    "verdict.consumers_risk": "Risiko, dass Angenommenes außerhalb der Toleranz liegt: {risk:.1%}.",
    "verdict.producers_risk": "Risiko, dass Abgelehntes innerhalb der Toleranz liegt: {risk:.1%}.",
    "verdict.burden_simple": "Einfache Annahme: verglichen wird allein der gemessene Wert, wie vereinbart.",
    "verdict.not_judged_needs_slope": (
        "Nicht beurteilt nach {part!r}: die Messwerte sagen nicht, wohin die Linie selbst führt, nur wie gerade sie "
        "ist. Beurteilen Sie es an Neigungen, Parallelität oder Rechtwinkligkeit."
    ),
    "verdict.because_conforms": (
        "{part}: {value:.1f} {unit} gegen {limit:.1f} {unit}; mit {probability:.1%} hält der wahre Wert die Grenze "
        "ein, {confidence:.0%} beweisen es."
    ),
    "verdict.because_does_not_conform": (
        "{part}: {value:.1f} {unit} gegen {limit:.1f} {unit}; nur mit {probability:.1%} hält der wahre Wert die "
        "Grenze ein."
    ),
    "verdict.because_undecided": (
        "{part}: {value:.1f} {unit} gegen {limit:.1f} {unit}; mit {probability:.1%} hält der wahre Wert die Grenze "
        "ein, das beweist weder das eine noch das andere; {confidence:.0%} täten es."
    ),
    "verdict.because_simple": (
        "{part}: {value:.1f} {unit} gemessen gegen {limit:.1f} {unit}; die Unsicherheit bleibt außer Betracht, wie "
        "vereinbart."
    ),
    "verdict.depends_on_reference": (
        "Das Urteil hängt von der Bezugslinie ab: {verdicts}. Einigen Sie sich vor der Entscheidung auf eine."
    ),
}
