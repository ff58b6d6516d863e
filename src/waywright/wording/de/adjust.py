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
}
