"""Deutsch: Sätze darüber, ob einer Aufstellung zu trauen ist."""

TEXT = {
    "guard.averages_too_long": (
        "{factor} Messwerte in einem Mittel sind zu viele für eine Aufzeichnung von {samples}: zwei Mittel müssen "
        "hineinpassen."
    ),
    "guard.recording_too_short": (
        "Eine Aufzeichnung von {samples} brauchbaren Einzelwerten sagt nichts über die Ruhe; mindestens {needed} sind "
        "nötig. Zeichnen Sie fünf Minuten auf."
    ),
    "guard.not_positive": "{name} ist {value}; es muss größer als null sein.",
    "guard.not_a_share": "{value} ist kein Anteil. Geben Sie eine Zahl zwischen 0 und 1 an, zum Beispiel 0.9.",
    "guard.far_not_beyond_near": (
        "Die ferne Aufzeichnung ({far_m} m von der Quelle) muss weiter weg sein als die nahe ({near_m} m). Zeichnen "
        "Sie einmal nahe an der Quelle und einmal am anderen Ende auf."
    ),
    "guard.air_outside": "{name} ist {value}; die Gleichung für Luft gilt von {low:g} bis {high:g}.",
    "guard.steady_use": (
        "Der Strahl ist ruhig genug: mitteln Sie an jeder Station {averaging_s:.1f} s und beenden Sie den Durchgang "
        "innerhalb von {sure_min:.0f} min."
    ),
    "guard.steady_disturbed_near": (
        "Die nahe Aufzeichnung war gestört ({samples} Einzelwerte verloren oder weit draußen): suchen Sie die Ursache "
        "und zeichnen Sie noch einmal auf."
    ),
    "guard.steady_disturbed_far": (
        "Die ferne Aufzeichnung war gestört ({samples} Einzelwerte verloren oder weit draußen): suchen Sie die "
        "Ursache und zeichnen Sie noch einmal auf."
    ),
    "guard.steady_scatter": (
        "Die Luft ist zu unruhig: die Streuung fällt nicht unter {least_um:.2f} um, auch wenn {averaging_s:.0f} s "
        "gemittelt werden, gewünscht sind {wished_um:g} um. Schirmen Sie den Strahl ab oder mischen Sie die Luft, "
        "oder kommen Sie zu anderer Stunde."
    ),
    "guard.steady_scatter_unsure": (
        "Die Aufzeichnung von {duration_s:.0f} s zeigt nicht, ob {wished_um:g} um zu erreichen sind (kleinste "
        "Streuung {least_um:.2f} um bei {averaging_s:.0f} s): zeichnen Sie länger auf."
    ),
    "guard.steady_slow": (
        "Für eine Streuung von {wished_um:g} um dauerte das Mitteln {averaging_s:.0f} s je Station, mehr als "
        "{longest_s:.0f} s: beruhigen Sie die Luft, oder wünschen Sie weniger."
    ),
    "guard.steady_record_short": (
        "Für Mittel von {averaging_s:.1f} s ist die Aufzeichnung zu kurz: zeichnen Sie mindestens {needed_min:.0f} "
        "min auf."
    ),
    "guard.steady_drift_unsure": (
        "Die Drift ist nicht gut genug bekannt: ein Durchgang von {pass_min:.0f} min scheint erlaubt (höchstens "
        "{longest_min:.0f} min), sicher sind aber nur {sure_min:.1f} min. Zeichnen Sie länger auf, oder machen Sie "
        "den Durchgang kürzer."
    ),
    "guard.steady_drift": (
        "Der Strahl driftet zu schnell: geplant ist ein Durchgang von {pass_min:.0f} min, nach {longest_min:.1f} min "
        "ist ein Zehntel der Toleranz verbraucht. Lassen Sie die Quelle warm werden, befestigen Sie sie besser, oder "
        "machen Sie den Durchgang kürzer."
    ),
    "guard.not_a_move": (
        "Ein Detektor wird nach oben, nach unten, zum Bediener hin oder von ihm weg bewegt, nicht {direction}."
    ),
    "guard.negative_uncertainty": (
        "Die Bewegung um {size_um:g} um hat eine negative Unsicherheit. Geben Sie null oder mehr an."
    ),
    "guard.channels_not_crossed": (
        "Ein Kanal muss senkrecht und einer seitlich sein; beschrieben sind sie als {first} und {second}."
    ),
    "guard.which_moves": (
        "Angegeben sind {moves} Bewegungen. Bewegen Sie den Detektor einmal nach oben oder unten, und einmal zum "
        "Bediener hin oder von ihm weg."
    ),
    "guard.direction_proved": "Beide Kanäle zählen in den beschriebenen Richtungen.",
    "guard.direction_mirrored": (
        "Ein Kanal zählt andersherum: der Detektor sitzt spiegelverkehrt. Kehren Sie das Vorzeichen dieses Kanals um, "
        "oder setzen Sie den Detektor wie beschrieben."
    ),
    "guard.direction_upside-down": "Der Detektor steht kopf: beide Kanäle zählen andersherum.",
    "guard.direction_swapped": "Die Kanäle sind vertauscht: der senkrechte sieht seitliche Bewegungen.",
    "guard.direction_quarter-turn": (
        "Der Detektor ist um ein Viertel gedreht: seine Kanäle sind vertauscht, und einer zählt rückwärts."
    ),
    "guard.direction_rolled": (
        "Der Detektor ist um {roll_deg:+.1f} ± {error_deg:.1f} Grad verdreht: {percent:.1f} % der einen Abweichung "
        "zeigen sich in der anderen. Richten Sie ihn aus und prüfen Sie noch einmal."
    ),
    "guard.direction_scale_off": (
        "Die Größe stimmt nicht ({direction}): {percent:+.1f} ± {error_percent:.1f} %. Prüfen Sie das Endmaß, die "
        "Einheit und den Faktor des Kanals."
    ),
    "guard.direction_scale_open": (
        "Die Größe ist nicht auflösbar ({direction}): {percent:+.1f} ± {error_percent:.1f} %. Das Endmaß ist nicht "
        "gut genug, um mehr zu sagen; Vorzeichen und Kanal sind trotzdem bewiesen."
    ),
    "guard.direction_one_move": "Es wurde nur in einer Richtung bewegt. Bewegen Sie den Detektor auch in der anderen.",
    "guard.direction_one_foot": (
        "Das Endmaß liegt anscheinend nur unter einem Fuß ({foot}): von {size_um:.0f} um stieg der Detektor um "
        "{seen_um:.0f} um und wanderte {side_um:+.0f} um seitlich. Legen Sie es unter alle Füße und prüfen Sie noch "
        "einmal."
    ),
    "guard.direction_not_resolved": (
        "Nicht auflösbar: eine Bewegung um {size_um:.0f} um ({direction}) zeigte sich als {up_um:+.1f} um nach oben "
        "und {side_um:+.1f} um zum Bediener hin, mit einer Standardunsicherheit von {error_um:.1f} um. Nehmen Sie ein "
        "dickeres Endmaß, oder mitteln Sie länger."
    ),
    "guard.level_proved": (
        "Der Neigungsmesser zählt richtig herum: {seen_um_per_m:+.0f} um/m bei einer bekannten Neigung von "
        "{known_um_per_m:.0f} um/m."
    ),
    "guard.level_not_turned": (
        "Sein Nullpunkt ist nicht bekannt: setzen Sie ihn am selben Ort um 180 Grad um und lesen Sie ihn noch einmal."
    ),
    "guard.level_not_resolved": (
        "Nicht auflösbar: {seen_um_per_m:+.0f} um/m bei einer bekannten Neigung von {known_um_per_m:.0f} um/m, mit "
        "einer Standardunsicherheit von {error_um_per_m:.0f} um/m. Nehmen Sie ein dickeres Endmaß."
    ),
    "guard.level_wrong_sign": (
        "Der Neigungsmesser zählt falsch herum: {seen_um_per_m:+.0f} um/m, wo die Neigung um {known_um_per_m:.0f} "
        "um/m wuchs. Setzen Sie ihn um, oder kehren Sie das Vorzeichen seines Kanals um."
    ),
    "guard.level_wrong_size": (
        "Der Neigungsmesser zeigt die falsche Größe: {seen_um_per_m:+.0f} um/m bei einer bekannten Neigung von "
        "{known_um_per_m:.0f} um/m. Prüfen Sie seine Einheit und seine Basis."
    ),
    "guard.bad_linearity": (
        "Die Linearitätstabelle hat {readings} Anzeigen und {errors} Abweichungen. Geben Sie je mindestens zwei an, "
        "von beiden gleich viele."
    ),
    "guard.linearity_not_increasing": (
        "Die Anzeigen der Linearitätstabelle müssen steigen; die erste ist {first_um:g} um."
    ),
    "guard.beyond_linearity": (
        "Anzeigen von {lowest_um:.0f} bis {highest_um:.0f} um reichen über die Linearitätstabelle hinaus "
        "({first_um:.0f} bis {last_um:.0f} um). Richten Sie den Strahl näher zur Mitte aus."
    ),
    "guard.two_distances": (
        "Anzeigen bei {distances} Entfernung(en) zeigen nicht, wie der Strahl liegt. Lesen Sie nahe an der Quelle und "
        "fern von ihr."
    ),
    "guard.beyond_range": (
        "{reading_um:.0f} um liegt außerhalb des Bereichs des Detektors ({low_um:.0f} bis {high_um:.0f} um). Bringen "
        "Sie den Strahl zuerst auf den Detektor."
    ),
    "guard.align_good-enough": (
        "Gut genug: über {excursion_um:.0f} um trägt die Nichtlinearität des Detektors {error_um:.2f} um bei, weniger "
        "als {limit_um:.2f} um."
    ),
    "guard.align_align": (
        "Richten Sie den Strahl aus: über {excursion_um:.0f} um trägt die Nichtlinearität des Detektors "
        "{error_um:.2f} um bei, zulässig sind {limit_um:.2f} um."
    ),
    "guard.align_by_rule_good-enough": (
        "Gut genug: ein Ausschlag von {excursion_um:.0f} um liegt innerhalb von {longest_um:.0f} um."
    ),
    "guard.align_by_rule_align": (
        "Richten Sie den Strahl aus: ein Ausschlag von {excursion_um:.0f} um ist mehr als {longest_um:.0f} um."
    ),
    "guard.bow_method": (
        "{method!r} ist kein Verfahren, das die Probe auf den Bogen kennt. Schreiben Sie beam oder level."
    ),
    "guard.bow_small_doubt": (
        "Glauben Sie dem Bogen von {bow_um:+.1f} um: alles, was ihn vortäuschen könnte, bleibt zusammen innerhalb von "
        "{together_um:.1f} um, weniger als einem Zehntel der Toleranz ({limit_um:.1f} um)."
    ),
    "guard.bow_believe": (
        "Glauben Sie dem Bogen: von {bow_um:+.1f} um können höchstens {together_um:.1f} um vorgetäuscht sein; "
        "{remaining_um:+.1f} ± {doubt_um:.1f} um bleiben."
    ),
    "guard.bow_heat": (
        "Messen Sie zu anderer Stunde: ein warmes oder kaltes Bett kann {reach_um:.1f} um des Bogens von "
        "{bow_um:+.1f} um machen. Verstellen Sie nichts, bevor Bett oben und unten gleich warm oder ihre Temperaturen "
        "gemessen sind."
    ),
    "guard.bow_air": (
        "Mischen Sie die Luft: geschichtete Luft kann {reach_um:.1f} um des Bogens von {bow_um:+.1f} um machen. "
        "Lassen Sie Lüfter längs des Strahls blasen, oder messen Sie die Lufttemperatur darüber und darunter, und "
        "messen Sie noch einmal. Verstellen Sie noch nichts."
    ),
    "guard.bow_angle-drift": (
        "Messen Sie zu anderer Stunde: der Winkel des Strahls kann um {reach_um:.1f} um des Bogens von {bow_um:+.1f} "
        "um gedriftet sein. Lassen Sie die Quelle zur Ruhe kommen, und nehmen Sie Durchgänge in beiden Richtungen. "
        "Verstellen Sie noch nichts."
    ),
    "guard.bow_nonlinearity": (
        "Nehmen Sie ein zweites Verfahren: die Nichtlinearität des Detektors kann {reach_um:.1f} um des Bogens von "
        "{bow_um:+.1f} um machen. Richten Sie den Strahl besser aus, oder messen Sie auch mit dem Neigungsmesser. "
        "Verstellen Sie noch nichts."
    ),
    "guard.bow_pressure": (
        "Nehmen Sie ein zweites Verfahren: der Luftdruck, der mit der Höhe fällt, macht {reach_um:.1f} um des Bogens "
        "von {bow_um:+.1f} um."
    ),
    "guard.bow_earth": (
        "Nehmen Sie ein zweites Verfahren: ein Neigungsmesser folgt der gekrümmten Erde, das macht {reach_um:.1f} um "
        "des Bogens von {bow_um:+.1f} um."
    ),
    "guard.too_few_for_outliers": "{values} Werte sind zu wenige, um einen davon Ausreißer zu nennen.",
    "guard.pass_arrays": (
        "Positionen ({positions}) und Werte ({values}) eines Durchgangs gehören nicht zusammen, oder einer ist keine "
        "Zahl."
    ),
    "guard.plan_no_length": (
        "Von {from_mm:g} bis {to_mm:g} mm gibt es keinen Weg. Die zweite Position muss die größere sein."
    ),
    "guard.plan_axis": "{axis!r} ist keine Achse der Maschine. Schreiben Sie X, Y, Z, U, V oder W.",
    "guard.plan_stations": (
        "{stations} Stationen sind kein Durchgang. Geben Sie mindestens zwei an, in steigender Reihenfolge."
    ),
    "guard.plan_by_supports": (
        "{stations} Stationen, höchstens {step_mm:.0f} mm auseinander: ein Viertel des Abstands der Aufstellelemente, "
        "und eine über jedem."
    ),
    "guard.plan_by_local-window": (
        "{stations} Stationen, höchstens {step_mm:.0f} mm auseinander: ein Drittel des Fensters der örtlichen Toleranz."
    ),
    "guard.plan_by_travel": "{stations} Stationen, höchstens {step_mm:.0f} mm auseinander: ein Zehntel des Weges.",
    "guard.plan_drift": (
        "Ein Durchgang dauert {pass_min:.0f} min, die Drift erlaubt {longest_min:.0f} min: messen Sie in Teilstücken, "
        "oder beruhigen Sie die Quelle und zeichnen Sie noch einmal auf."
    ),
    "guard.plan_scatter": (
        "Die Streuung lässt an einer Station {reached_um:.2f} um übrig, gewünscht sind {wished_um:.2f} um: beruhigen "
        "Sie die Luft, oder wünschen Sie weniger."
    ),
    "guard.no_reason": (
        "Sagen Sie, warum es weitergeht, obwohl die Prüfung ({test}) nicht gut ist; der Bericht nennt den Grund."
    ),
    "guard.nothing_in_the_way": "Die Prüfung ({test}) ist gut ({outcome}): nichts steht im Weg.",
    "guard.which_test": (
        "{found} Prüfungen dieser Linie haben eine Kennung, die auf {wanted!r} endet. Nennen Sie eine, die `waywright "
        "guard list --json` zeigt."
    ),
    "guard.no_common_channel": (
        "{near} und {far} haben keinen gemeinsamen Kanal. Geben Sie den Spalten in beiden dieselben Namen."
    ),
    "guard.unreadable": "{file} ist nicht lesbar ({problem}). Prüfen Sie den Namen der Datei.",
    "guard.column_missing": (
        "{file} fehlt die Spalte {column} (vorhanden: {found}). Nennen Sie die Spalten in der ersten Zeile."
    ),
    "guard.bad_row": "{file}, Zeile {row}: {cells} Zellen, die Kopfzeile hat aber {columns} Spalten.",
    "guard.bad_cell": (
        "{file}, Zeile {row}: {cell!r} ist keine Zahl. Lassen Sie die Zelle leer, wo der Strahl verloren war."
    ),
    "guard.uneven": (
        "Die Zeiten in {file} haben keinen gleichmäßigen Abstand (meist {spacing_s:g} s). Zeichnen Sie in gleichem "
        "Takt auf, und lassen Sie Zellen leer, wo der Strahl verloren war."
    ),
    "guard.say_outcome": "{outcome} ({detail})",
    "guard.say_channels": "Der erste Kanal zählt {first}, der zweite {second}.",
    "guard.say_scale": "Größe ({direction}): {value:.3f} ± {error:.3f} der Bewegung.",
    "guard.say_roll": "Verdrehung: {roll_deg:+.2f} ± {error_deg:.2f} Grad.",
    "guard.say_turned": (
        "Um 180 Grad umgesetzt: sein Nullpunkt ist {zero:+.0f} ± {error:.1f} um/m, die wahre Neigung {tilt:+.0f} ± "
        "{error:.1f} um/m im eigenen Vorzeichen des Neigungsmessers."
    ),
    "guard.say_half_resolved": "Nicht geklärt: ein Neigungsmesser braucht Vorzeichen und Nullpunkt.",
    "guard.say_temperature": "{place}: {value:.2f} °C",
    "guard.say_rules": "Verwendete Regeln:",
    "guard.say_refractivity": "Brechzahl minus eins, n - 1",
    "guard.say_per_k": "Änderung mit der Temperatur, bei gleichem Dampfdruck",
    "guard.say_end": "Anzeigen am fernen Ende, durch das Gefälle",
    "guard.say_bow": "Bogen der Anzeigen, durch das Gefälle",
    "guard.say_pressure": "Bogen der Anzeigen, durch den Luftdruck",
    "guard.say_earth": "Bogen der Anzeigen eines Neigungsmessers, durch die gekrümmte Erde",
    "guard.say_bed": "Bogen eines freien Betts, durch seine Temperaturen",
    "guard.say_measured_bow": "wie gemessen",
    "guard.say_measured": "gemessen",
    "guard.say_assumed": "angenommen",
    "guard.say_remaining": "was bleibt",
    "guard.cause_heat": "Bett oben oder unten wärmer",
    "guard.cause_air": "geschichtete Luft",
    "guard.cause_pressure": "Luftdruck",
    "guard.cause_angle-drift": "Winkel des Strahls, der während des Durchgangs driftet",
    "guard.cause_nonlinearity": "Nichtlinearität des Detektors",
    "guard.cause_earth": "gekrümmte Erde",
    "guard.say_effort": (
        "{stations} Stationen, {passes} Durchgänge, an jeder {averaging_s:.1f} s gemittelt: {pass_min:.0f} min je "
        "Durchgang, {total_min:.0f} min im Ganzen. Streuung des Mittels einer Station: {reached_um:.2f} um."
    ),
    "guard.say_no_evidence": "Für diese Linie wurde noch nichts geprüft.",
    "guard.alarm_bed": (
        "Bett oben und unten weichen um {value:+.2f} K voneinander ab (bis {limit:.2f} K können die Thermometer "
        "sein): ein Bogen kann Wärme sein. Machen Sie die Probe auf den Bogen, bevor Sie etwas verstellen."
    ),
    "guard.alarm_air": (
        "Die Luft ist um {value:+.2f} K je Meter geschichtet (bis {limit:.2f} können die Thermometer sein): ein Bogen "
        "kann die Luft sein. Mischen Sie sie, oder machen Sie die Probe auf den Bogen."
    ),
    "guard.say_open": "offen",
    "guard.say_closed": "etwas steht im Weg",
}
