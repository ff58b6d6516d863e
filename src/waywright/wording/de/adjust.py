"""Deutsch: Sätze einer Runde des Berichtigens: Bestätigungen, was ausblieb, ein altes Wissen wieder verwendet."""

TEXT = {
    "adjust.which_round": (
        "{wanted!r} benennt {found} Runden in {archive}. Geben Sie das Ende der Kennung einer Runde an; `waywright "
        "correct rounds` zählt sie auf."
    ),
    "adjust.not_confirmed": (
        "{lacking} Sicherheitsbestätigungen der Runde {number} sind offen. Jede braucht ihre eigene Antwort, bevor "
        "etwas verstellt wird: `waywright correct confirm`."
    ),
    "adjust.not_asked": "In dieser Runde ist nichts namens {key} zu bestätigen. Zu bestätigen sind: {asked}.",
    "adjust.confirm_says_nothing": (
        '{answer!r} sagt nicht, was getan wurde. Schreiben Sie es in wenigen Worten, etwa "Hauptschalter aus, '
        'Schloss 14" oder "keine solche Achse hier".'
    ),
    "adjust.confirm_said_before": (
        "{answer!r} war die Antwort auf eine andere Bestätigung. Jede gilt etwas anderem: sagen Sie, was hier getan "
        "wurde."
    ),
    "adjust.confirm_no_number": (
        "{answer!r} ist keine Zahl. Geben Sie an, was der Hersteller an einem Aufstellelement erlaubt, etwa 200 oder "
        "0.2 mm."
    ),
    "adjust.confirm_limit_below": (
        "Der Hersteller erlaubt {limit_um:g} µm, diese Runde verlangt aber an einem Aufstellelement bis zu "
        "{move_um:g} µm. Setzen Sie largest_move_um in der Maschinendatei und planen Sie noch einmal."
    ),
    "adjust.round_without_belief": (
        "Runde {number} wurde ohne das aufbewahrt, worauf sie geplant war; aus ihr ist nichts zu lernen."
    ),
    "adjust.left_by_record": "Aufstellelement {support} ist durch die Maschinendatei gesperrt.",
    "adjust.left_beyond_stations": (
        "Aufstellelement {support} steht außerhalb des gemessenen Weges: was sein Verstellen bewirkt, sähe man nicht."
    ),
    "adjust.left_as_asked": "Aufstellelement {support} sollte bleiben, wie es ist.",
    "adjust.left_in_the_ways": (
        "{value_um:.1f} µm stecken in den Bahnen selbst; kein Aufstellelement kann sie herausnehmen."
    ),
    "adjust.left_twist_unmeasured": "Die Verwindung wurde nicht gemessen, also nicht berichtigt.",
    "adjust.left_joint": "Ein Absatz am Stoß bei {bed_mm:.0f} mm wird nicht wegnivelliert.",
    "adjust.belief_reused": (
        "Was {rounds} frühere Runden über dieses Bett gelehrt haben, wird wieder verwendet; es ist {age_days:.0f} "
        "Tage alt. An seiner Steifigkeit wird zu {doubt:.0%} gezweifelt (nach der Maschinendatei allein zu "
        "{doubt_without:.0%}), seine Auflagen gelten als unbekannt. Auflagen und Verguss können sich geändert haben: "
        "verstellen Sie in der ersten Runde wenig."
    ),
    "adjust.belief_not_reused": (
        "Was vor {age_days:.0f} Tagen über dieses Bett gelernt wurde, gilt anderen Aufstellelementen ({believed}) und "
        "wird nicht verwendet."
    ),
    "adjust.passes_share_little": (
        "Die Durchgänge haben nur {shared:.0%} des Gemessenen gemeinsam: der Plan beruht auf {length_mm:.0f} mm, und "
        "Aufstellelemente außerhalb bleiben, wie sie sind. Messen Sie noch einmal, oder lassen Sie den kurzen "
        "Durchgang weg."
    ),
    "adjust.lifts_off": (
        "Aufstellelement {support} löst sich vom Bett, während der Schlitten anderswo steht. Heben Sie es etwas, oder "
        "beschweren Sie das Bett."
    ),
    "adjust.crown_below_zero": (
        "Eine Überhöhung von {crown_um:g} µm ist eine Mulde. Betten werden ballig oder gerade gemacht: geben Sie null "
        "oder mehr an."
    ),
    "adjust.no_moving_mass": (
        "Eine Überhöhung für die bewegte Masse braucht die Masse des Schlittens. Ergänzen Sie [bed.carriage] mit "
        "mass_kg in der Maschinendatei."
    ),
    "adjust.no_such_rail": (
        "Hier gibt es keine Schiene {rail!r}; das Bett hat {rails}. Mit rails = 2 in der Maschinendatei geben Sie "
        "eine an von: {allowed}."
    ),
    "adjust.other_rail_needs_level": (
        "Die andere Schiene von {machine} folgt der Leitschiene nach Querneigung und Spurweite: geben Sie das Rollen "
        "an, und gauge_mm in der Maschinendatei."
    ),
    "adjust.settling_too_large": (
        "{settling_um:g} µm für das Setzen passen nicht in ein Ziel von {goal_um:g} µm. Geben Sie weniger an, oder "
        "ein weiteres Ziel."
    ),
    "adjust.no_side": (
        "{file} enthält keine Seite (vorhanden: {columns}). Seitendrücker werden nach der Geradheit zum Bediener hin "
        "geplant."
    ),
    "adjust.which_column": "{file} hat die Spalten {columns}. Sagen Sie mit --column, welche Geradheit gemeint ist.",
    "adjust.no_height_channel": (
        "Kein Kanal von {line} misst die Höhe, es ist also nichts zu beobachten. Wählen Sie eine Linie mit der Höhe."
    ),
    "adjust.no_answer": "Die Eingabe endete, bevor alles bestätigt war. Es darf noch nichts verstellt werden.",
    "adjust.sheet_too_long": (
        "{supports} Aufstellelemente passen nicht auf eine Seite. Planen Sie mit --max-supports, oder in zwei Runden."
    ),
    "adjust.sheet_not_written": "{path} ist nicht zu schreiben: {reason}. Wählen Sie einen anderen Ort.",
    "adjust.sheet_title": "{machine}: Blatt für den Monteur{round}",
    "adjust.sheet_round": ", Runde {number}",
    "adjust.sheet_summary": (
        "Jetzt {now_um:.0f} µm, gewünscht {goal_um:.0f} µm. Nach dieser Runde zu erwarten: {value_um:.0f} µm, mit 95 "
        "% zwischen {low_um:.0f} und {high_um:.0f} µm."
    ),
    "adjust.sheet_footer": (
        "Ein Vorschlag. Anleitung des Herstellers, örtliche Vorschriften und zugelassene Praxis gehen vor. Waywright "
        "bewegt nichts."
    ),
    "adjust.sheet_confirm": "Bevor etwas verstellt wird: jedes bestätigen, und sagen, wie",
    "adjust.sheet_steps": "Ein Aufstellelement nach dem anderen, in dieser Reihenfolge",
    "adjust.sheet_warnings": "Zu beachten",
    "adjust.sheet_afterwards": "Danach",
    "adjust.sheet_fitter": "Monteur",
    "adjust.sheet_date": "Datum, Uhrzeit",
    "adjust.sheet_head_number": "Nr.",
    "adjust.sheet_head_support": "Aufstellelement",
    "adjust.sheet_head_what": "was zu tun ist",
    "adjust.sheet_head_done": "getan, µm",
    "adjust.kept": "Aufbewahrt als Runde {number} ({id}). Als Nächstes: waywright correct confirm {id}",
    "adjust.column_id": "Runde",
    "adjust.column_number": "Nr.",
    "adjust.column_before": "vorher, µm",
    "adjust.column_expected": "erwartet (95 %)",
    "adjust.column_after": "gelesen, µm",
    "adjust.column_supports": "verlangt, µm",
    "adjust.column_open": "zu bestätigen",
    "adjust.column_surprise": "Überraschung",
    "adjust.yes": "ja",
    "adjust.all_confirmed": "Alles in Runde {number} ist bestätigt. Es darf verstellt werden.",
    "adjust.told": "Aufstellelement {support}: {done_um:+.0f} µm getan, {asked_um:+.0f} µm verlangt.",
    "adjust.support_done": "Aufstellelement {support} ist fertig und mit der Runde aufbewahrt.",
    "adjust.stop": "HALT. {said} Enter: gesehen.",
    "adjust.no_reading": "Aufstellelement {support}: keine Anzeige. Ist der Strahl frei?",
    "adjust.without_target": "Aufstellelement {support}: {reading_um} µm; diese Station zeigt nicht, was es bewirkt.",
    "adjust.live": "Aufstellelement {support}: {now} µm von {target} µm",
    "adjust.there": "erreicht: nicht weiterdrehen",
    "adjust.turns_to_go": "noch {turns} Umdrehung, {direction} ({lift} µm)",
    "adjust.degrees_to_go": "noch {degrees:.0f}°, {direction} ({lift} µm)",
    "adjust.clockwise": "im Uhrzeigersinn",
    "adjust.anticlockwise": "gegen den Uhrzeigersinn",
    "adjust.neighbours": "das Bett über den Nachbarn bis dahin: {those}",
    "adjust.sinks": "sinkt {sunk_um:.0f} von {expected_um:.0f} µm",
    "adjust.sunk_enough": "gesunken {sunk_um:.0f} von {expected_um:.0f} µm: nicht weiter anziehen",
    "adjust.night_done": (
        "{hours:.1f} h beobachtet: das Bett {outcome}, {range_um:.1f} µm im Ganzen, {drift_um_per_h:+.2f} µm je Stunde."
    ),
    "adjust.outcome_stays": "bleibt",
    "adjust.outcome_drifts": "wandert",
    "adjust.outcome_jumped": "ist gesprungen",
    "adjust.night_drifts": (
        "Die Anzeige ging in {hours:.1f} h durch {range_um:.1f} µm, mehr als {limit_um:g} µm, gleichmäßig "
        "({drift_um_per_h:+.2f} µm je Stunde). Vergleichen Sie mit den Temperaturen, bevor etwas verstellt wird."
    ),
    "adjust.night_jumped": (
        "Die Anzeige ging in {hours:.1f} h durch {range_um:.1f} µm, mehr als {limit_um:g} µm, mit einem Sprung von "
        "{jump_um:+.1f} µm. Etwas ist verrutscht: prüfen Sie die Aufstellelemente und den Fuß des Detektors von Hand."
    ),
    "adjust.round_read": (
        "Runde {number}: {before_um:.1f} µm vorher, {expected_um:.1f} µm erwartet, {after_um:.1f} µm gelesen."
    ),
    "adjust.surprise": "Die Runde kam anders heraus, als sie sollte. Was geschehen sein kann:",
    "adjust.as_believed": "Die Runde kam heraus wie angenommen.",
    "adjust.shim_pack": "{foils} µm: {pieces} Folien, {off_um:+.0f} µm daneben.",
    "adjust.at_mm": "bei, mm",
    "adjust.take_off": "abtragen, µm",
    "adjust.scraping": "{volume_mm3:.0f} mm³ im Ganzen, {deepest_um:.1f} µm an der tiefsten Stelle.",
    "adjust.table_written": "{points} Punkte in {path} geschrieben.",
    "adjust.sign_kept": "{applied_um:+g} µm gaben {change_um:+g} µm: die Tabelle gilt, wie sie ist.",
    "adjust.sign_turned": "{applied_um:+g} µm gaben {change_um:+g} µm: kehren Sie alle Vorzeichen der Tabelle um.",
    "adjust.state_done": "erledigt",
    "adjust.state_now": "JETZT",
    "adjust.state_later": "später",
    "adjust.stage_rough": "grob auf wenigen Aufstellelementen",
    "adjust.stage_contact": "jedes Aufstellelement trägt",
    "adjust.stage_twist": "Verwindung",
    "adjust.stage_height": "Höhe",
    "adjust.stage_side": "Seite",
    "adjust.stage_joints": "Stöße",
    "adjust.stage_bolts": "Schrauben",
}
