"""Deutsch: Sätze zur Messunsicherheit."""

TEXT = {
    "uncertainty.negative_seed": (
        "Der Startwert einer Simulation ist eine ganze Zahl ab 0; angegeben sind Startwert {seed}, Strom {stream}."
    ),
    "uncertainty.too_few_draws": "Eine Simulation braucht mindestens {needed} Ziehungen; verlangt wurden {draws}.",
    "uncertainty.sigma_not_positive": (
        "Das Rauschen der Messwerte ist {sigma_um:g} um. Geben Sie seine Standardabweichung in um an; sie liegt über "
        "null."
    ),
    "uncertainty.no_inputs": "Ein Modell braucht Eingangsgrößen mit ihren Verteilungen. Nennen Sie mindestens eine.",
    "uncertainty.bad_mean": (
        "Der Mittelwert einer Eingangsgröße ist eine Zahl, oder eine je Station, alle endlich; er hat die Form {shape}."
    ),
    "uncertainty.bad_spread": "Eine Streuung von {value} ist nicht zu gebrauchen. Sie ist endlich und nicht negativ.",
    "uncertainty.bad_degrees": "Freiheitsgrade liegen über null (unendlich ist erlaubt); angegeben ist {value}.",
    "uncertainty.readings_missing": (
        "Eine Eingangsgröße, die je Messwert gezogen wird, braucht als Mittel ihre Werte an den Stationen, eine Zahl "
        "je Messwert."
    ),
    "uncertainty.model_shape": (
        "Das Modell gab ein Feld der Form {shape} zurück; es muss je Ziehung einen Wert geben, Form {needed}."
    ),
    "uncertainty.unknown_input": "Es gibt keine Eingangsgröße {name!r}. Es gibt: {known}.",
    "uncertainty.correlated_readings": (
        "Die Eingangsgröße {name!r} wird je Messwert gezogen; ein Korrelationskoeffizient gehört zu solchen, die je "
        "Versuch gezogen werden."
    ),
    "uncertainty.bad_correlation": (
        "Ein Koeffizient von {coefficient} zwischen {first!r} und {second!r} kann nicht sein. Zwei verschiedene "
        "Eingangsgrößen, von -1 bis 1."
    ),
    "uncertainty.impossible_correlation": (
        "So können Größen nicht korreliert sein: die Koeffizienten widersprechen einander. Prüfen Sie sie Paar für "
        "Paar."
    ),
    "uncertainty.propagate_readings": (
        "Die Eingangsgröße {name!r} hat einen Wert je Station; das Fortpflanzungsgesetz nimmt einzelne Zahlen. Nehmen "
        "Sie dafür Monte Carlo."
    ),
    "uncertainty.bad_probability": (
        "Eine Überdeckungswahrscheinlichkeit liegt zwischen 0 und 1; angegeben ist {probability}."
    ),
    "uncertainty.bad_interval": ('Ein Überdeckungsintervall ist "shortest" oder "symmetric"; angegeben ist {kind!r}.'),
    "uncertainty.bad_covariance": (
        "Die Fehler der Messwerte haben keine brauchbare Kovarianz (Form {shape}, {stations} Stationen). Ein Budget "
        "braucht etwas Streuung jedes Messwerts, und jeden Wert endlich."
    ),
    "uncertainty.unit_of_contribution": (
        "Der Beitrag {name!r} ist in {unit!r} angegeben; so, wie er wirkt, braucht er {needed!r}."
    ),
    "uncertainty.value_of_contribution": (
        "Der Beitrag {name!r} hat den Wert {value}. Werte sind endlich und nicht negativ, Freiheitsgrade über null."
    ),
    "uncertainty.word_of_contribution": "Beitrag {name!r}: {word!r} ist hier nicht bekannt. Möglich sind: {known}.",
    "uncertainty.contribution_twice": "Zwei Beiträge heißen {name!r}. Geben Sie jedem einen eigenen Namen.",
    "uncertainty.contribution_needs": (
        "Der Beitrag {name!r} rechnet mit {missing}, das fehlt. Messen Sie es, oder setzen Sie den Beitrag auf null."
    ),
    "uncertainty.help_passes": "Nehmen Sie {more:.0f} weitere Durchgänge.",
    "uncertainty.help_averaging": "Mitteln Sie jeden Messwert über {averaging_s:.0f} s.",
    "uncertainty.help_air": (
        "Mischen Sie die Luft längs des Strahls, oder messen Sie ihr Gefälle mit Thermometern in zwei Höhen."
    ),
    "uncertainty.help_drift": (
        "Nehmen Sie Durchgänge abwechselnd vorwärts und rückwärts, damit sich gleichmäßige Drift aufhebt."
    ),
    "uncertainty.help_reversal": "Wenden Sie das Lineal und nehmen Sie das Mittel beider Lagen.",
    "uncertainty.help_align": (
        "Richten Sie den Strahl so aus, dass weniger vom Bereich des Detektors gebraucht wird, oder wenden Sie seine "
        "Korrekturtabelle an."
    ),
    "uncertainty.help_stations": "Nehmen Sie alle {spacing_mm:.0f} mm eine Station.",
}
