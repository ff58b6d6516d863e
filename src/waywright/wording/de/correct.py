"""Deutsch: Sätze des Berichtigens."""

TEXT = {
    "correct.no_rest": (
        "So beschrieben findet das Bett auf seinen Aufstellelementen keine Ruhe. Prüfen Sie Masse, Auflagen und "
        "Aufstellelemente."
    ),
    "correct.not_held": (
        "{supports} Aufstellelemente können dieses Bett nicht halten. Eine Reihe braucht mindestens zwei, zwei Reihen "
        "mindestens drei, die nicht auf einer Linie stehen."
    ),
    "correct.side_jacks_missing": (
        "Für die Seite braucht es mindestens zwei Seitendrücker; beschrieben sind {supports}. Fügen Sie "
        'Aufstellelemente mit kind = "side-jack" hinzu, oder berichtigen Sie die Seite anders.'
    ),
    "correct.unknown_quantity": "{quantity!r} wird an einem Bett nicht gemessen. Möglich sind: {allowed}.",
    "correct.no_carriage": (
        "Die Messwerte sind vom Schlitten, die Maschinendatei hat aber kein [bed.carriage]. Ergänzen Sie den Abstand "
        "seiner Gleitstücke, oder sagen Sie, dass die Führungsbahn gemessen wurde."
    ),
    "correct.lengths_differ": (
        "Es sind {positions} Positionen, aber {values} Werte {name}. Geben Sie zu jeder einen an."
    ),
    "correct.station_off_bed": (
        "Die Station bei {position_mm:g} mm liegt neben dem Bett, das von 0 bis {length_mm:g} mm reicht. Positionen "
        "zählen hier längs des Betts: prüfen Sie die Marke und die Richtung."
    ),
    "correct.too_few_stations": "Ein Plan braucht mindestens drei Stationen; es sind {stations}. Messen Sie mehr.",
    "correct.not_a_number": (
        "Station {station} hat für {name} keine Zahl. Lassen Sie die Station weg oder messen Sie sie noch einmal."
    ),
    "correct.negative_noise": (
        "Das Rauschen eines Messwerts kann nicht {noise_um} µm sein. Geben Sie seine Standardabweichung an."
    ),
    "correct.goal_not_positive": "Das Ziel ist {goal_um} µm. Geben Sie die zu erreichende Geradheit an, über null.",
    "correct.unknown_support": "Unter diesem Bett gibt es kein Aufstellelement {support}. Es gibt: {supports}.",
    "correct.all_locked": (
        "Alle Aufstellelemente sind gesperrt oder stehen außerhalb der Stationen, es ist also nichts zu verstellen. "
        "Geben Sie einige frei, oder messen Sie das Stück darüber."
    ),
    "correct.no_support_allowed": (
        "Höchstens {max_supports} Aufstellelemente dürfen berührt werden: so ist nichts zu planen."
    ),
    "correct.no_plan": (
        "Keine Verstellungen innerhalb der Grenzen erfüllen, was verlangt ist. Erlauben Sie größere Wege oder mehr "
        "Aufstellelemente."
    ),
    "correct.belief_of_another_bed": (
        "Gelernt wurde über die Aufstellelemente {believed}, dieses Bett steht aber auf {supports}. Beginnen Sie ohne "
        "das von vorn."
    ),
    "correct.moves_differ": (
        "Es sind {moves} Verstellungen für {supports} Aufstellelemente. Geben Sie jedem eine an, null, wo nichts "
        "gedreht wurde."
    ),
    "correct.roll_once": (
        "Das Rollen wurde nur an einer der beiden Linien gemessen. Geben Sie es vorher und nachher an, oder lassen "
        "Sie es weg."
    ),
    "correct.step_raise": "Aufstellelement {support}: um {move_um:.0f} µm heben.",
    "correct.step_raise_turns_clockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm heben = {turns} Umdrehung im Uhrzeigersinn."
    ),
    "correct.step_raise_degrees_clockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm heben = {degrees:.0f}° im Uhrzeigersinn."
    ),
    "correct.step_raise_turns_anticlockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm heben = {turns} Umdrehung gegen den Uhrzeigersinn."
    ),
    "correct.step_raise_degrees_anticlockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm heben = {degrees:.0f}° gegen den Uhrzeigersinn."
    ),
    "correct.step_lower": "Aufstellelement {support}: um {move_um:.0f} µm senken.",
    "correct.step_lower_turns_clockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm senken = {turns} Umdrehung im Uhrzeigersinn."
    ),
    "correct.step_lower_degrees_clockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm senken = {degrees:.0f}° im Uhrzeigersinn."
    ),
    "correct.step_lower_turns_anticlockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm senken = {turns} Umdrehung gegen den Uhrzeigersinn."
    ),
    "correct.step_lower_degrees_anticlockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm senken = {degrees:.0f}° gegen den Uhrzeigersinn."
    ),
    "correct.step_push": "Aufstellelement {support}: um {move_um:.0f} µm zum Bediener hin drücken.",
    "correct.step_push_turns_clockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm zum Bediener hin drücken = {turns} Umdrehung im Uhrzeigersinn."
    ),
    "correct.step_push_degrees_clockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm zum Bediener hin drücken = {degrees:.0f}° im Uhrzeigersinn."
    ),
    "correct.step_push_turns_anticlockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm zum Bediener hin drücken = {turns} Umdrehung gegen den "
        "Uhrzeigersinn."
    ),
    "correct.step_push_degrees_anticlockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm zum Bediener hin drücken = {degrees:.0f}° gegen den "
        "Uhrzeigersinn."
    ),
    "correct.step_ease": "Aufstellelement {support}: um {move_um:.0f} µm vom Bediener weg nachlassen.",
    "correct.step_ease_turns_clockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm vom Bediener weg nachlassen = {turns} Umdrehung im "
        "Uhrzeigersinn."
    ),
    "correct.step_ease_degrees_clockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm vom Bediener weg nachlassen = {degrees:.0f}° im Uhrzeigersinn."
    ),
    "correct.step_ease_turns_anticlockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm vom Bediener weg nachlassen = {turns} Umdrehung gegen den "
        "Uhrzeigersinn."
    ),
    "correct.step_ease_degrees_anticlockwise": (
        "Aufstellelement {support}: um {move_um:.0f} µm vom Bediener weg nachlassen = {degrees:.0f}° gegen den "
        "Uhrzeigersinn."
    ),
    "correct.step_slacken": (
        "Den Anker von Aufstellelement {support} gerade so weit lösen, dass sich der Versteller frei dreht."
    ),
    "correct.step_come_back": (
        "Noch {play_um:.0f} µm weiter hinunter und ebenso viel wieder herauf: jede Verstellung von Aufstellelement "
        "{support} endet nach oben."
    ),
    "correct.step_reading_rise": "Die Anzeige bei {station_mm:.0f} mm soll um etwa {change_um:.0f} µm steigen.",
    "correct.step_reading_fall": "Die Anzeige bei {station_mm:.0f} mm soll um etwa {change_um:.0f} µm fallen.",
    "correct.step_tighten": (
        "Den Anker von Aufstellelement {support} in Stufen anziehen und dabei die Anzeige beobachten, während es sinkt."
    ),
    "correct.step_wait": "{minutes} Minuten warten, bevor die Anzeige zählt.",
    "correct.confirm_axis_locked": "Die Achse ist gesperrt und kann von niemandem bewegt werden.",
    "correct.confirm_vertical_supported": "Senkrechte Achsen und hängende Lasten sind mechanisch abgestützt.",
    "correct.confirm_cribbed": "Die Last ist unterbaut: niemand arbeitet unter einer Last, die nur Heber halten.",
    "correct.confirm_makers_limit": (
        "Der Hersteller erlaubt Verstellungen von {move_um:.0f} µm an einem Aufstellelement in einer Runde."
    ),
    "correct.under_headstock": (
        "Aufstellelement {support} steht unter dem Spindelstock: es zu verstellen ändert Spindel zu Schlitten. Prüfen "
        "Sie das noch einmal."
    ),
    "correct.stays_hollow": (
        "Aufstellelement {support} trüge nach diesem Plan nicht. Heben Sie es von Hand, bis es eben trägt."
    ),
    "correct.hollow_now": (
        "Aufstellelement {support} trägt jetzt anscheinend nichts. Prüfen Sie es vor der ersten Umdrehung von Hand."
    ),
    "correct.goal_not_reached": (
        "Diese Runde erreicht voraussichtlich {value_um:.0f} µm, noch nicht {goal_um:.0f} µm. Messen Sie noch einmal "
        "und planen Sie die nächste."
    ),
    "correct.not_by_supports": (
        "{value_um:.0f} µm stecken in den Bahnen selbst und sind durch kein Aufstellelement herauszunehmen; das Ziel "
        "ist {goal_um:.0f} µm. Schaben oder eine Kompensationstabelle kann folgen."
    ),
    "correct.unseen": (
        "Der Schlitten mittelt über seine Gleitstücke: Formen unter {length_mm:.0f} mm sieht man hier nicht."
    ),
    "correct.check_joint": (
        "Prüfen Sie den Absatz am Stoß bei {bed_mm:.0f} mm mit einer Messuhr. Ein Absatz wird nie wegnivelliert."
    ),
    "correct.then_every_support_carries": "Jedes Aufstellelement von Hand prüfen: jedes muss tragen.",
    "correct.then_measure": (
        "Noch einmal messen. Zu erwarten sind {value_um:.0f} µm, mit 95 % zwischen {low_um:.0f} und {high_um:.0f} µm."
    ),
    "correct.stage_rough": "Grob ausrichten nur auf den Aufstellelementen {supports}, alle anderen frei vom Bett.",
    "correct.stage_contact": "Die Aufstellelemente {supports} von Hand hochdrehen, bis jedes eben trägt.",
    "correct.stage_twist": "Die Verwindung herausnehmen: die Querneigung ist an allen Stationen gleich.",
    "correct.stage_height": "Die Höhe gerade machen.",
    "correct.stage_side": (
        "Die Seite mit den Seitendrückern gerade machen, dann Verwindung und Höhe noch einmal prüfen."
    ),
    "correct.stage_side_without_jacks": (
        "Die Seite liegt daneben, und es gibt keine Seitendrücker. Prüfen Sie Schrauben und Stöße, bevor etwas "
        "geschabt wird."
    ),
    "correct.stage_joints": "Den Absatz an jedem Stoß prüfen, dann verschrauben und verstiften.",
    "correct.stage_bolts": "Die Anker von der Mitte nach außen in drei Stufen anziehen; dazwischen messen.",
    "correct.no_shim": (
        "Ein Beilagenpaket von {wanted_um} µm lässt sich nicht legen. Geben Sie eine Dicke über null an."
    ),
    "correct.stock_too_poor": (
        "Der Vorrat gibt kein Paket innerhalb von {within_um:g} µm um {wanted_um:g} µm. Fügen Sie Folien hinzu, oder "
        "erlauben Sie mehr."
    ),
    "correct.scrape_after_levelling": (
        "Geschabt wird nur, was kein Aufstellelement berichtigen kann, nach der letzten Runde."
    ),
    "correct.scrape_too_deep": "Es müssten bis zu {deepest_um:.0f} µm weg: das ist Hobeln oder Schleifen.",
    "correct.scrape_not_at_joint": (
        "Schaben Sie den Absatz am Stoß bei {bed_mm:.0f} mm nicht weg: bringen Sie den Stoß in Ordnung."
    ),
    "correct.passes_needed": (
        "Eine Kompensationstabelle braucht mindestens zwei Durchgänge; es sind {passes}. Messen Sie noch einmal."
    ),
    "correct.bad_spacing": "Ein Abstand von {spacing_mm:g} mm passt nicht zu einer Linie von {length_mm:g} mm.",
    "correct.table_after_levelling": (
        "Eine Tabelle verdeckt ein Bett, das nicht ausgerichtet ist. Richten Sie zuerst aus."
    ),
    "correct.table_sign_test": (
        "Vor dem Gebrauch: an einem Punkt {step_um:+.0f} µm eingeben und messen. Die Änderung sagt, welches "
        "Vorzeichen die Steuerung braucht."
    ),
    "correct.table_not_repeatable": (
        "Die Durchgänge streuen um {scatter_um:.1f} µm, und nur {repeatable_um:.1f} µm kommen jedes Mal wieder. Eine "
        "Tabelle ist das falsche Mittel: suchen Sie zuerst nach Spiel oder Drift."
    ),
    "correct.sign_test_failed": (
        "{applied_um:+.0f} µm wurden eingegeben, und die Anzeige änderte sich um {change_um:+.1f} µm: weder das noch "
        "sein Gegenteil. Prüfen Sie, ob die Tabelle an diesem Punkt wirkt, und messen Sie noch einmal."
    ),
    "correct.not_in_plan": "Aufstellelement {support} ist in diesem Plan nicht zu verstellen.",
    "correct.station_does_not_answer": (
        "Bei {station_mm:.0f} mm antwortet die Anzeige kaum auf Aufstellelement {support}. Stellen Sie den Detektor "
        "näher heran."
    ),
    "correct.as-asked": (
        "Alles wurde getan wie verlangt; das Bett ist steifer oder weicher als angenommen ({probability:.0%})."
    ),
    "correct.not-carrying": (
        "Aufstellelement {support} trug nicht, oder die Verstellung kam nicht am Bett an ({probability:.0%})."
    ),
    "correct.wrong-support": "Aufstellelement {other} wurde statt {support} verstellt ({probability:.0%}).",
    "correct.wrong-direction": "Aufstellelement {support} wurde verkehrt herum gedreht ({probability:.0%}).",
    "correct.wrong-amount": "Aufstellelement {support} wurde um ein falsches Maß verstellt ({probability:.0%}).",
    "correct.slipped": "An Aufstellelement {support} ist etwas verrutscht ({probability:.0%}).",
}
