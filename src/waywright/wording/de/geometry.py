"""Deutsch: Sätze über Funktionspunkte, Stöße, zwei Bahnen, Spindeln, Durchhang."""

TEXT = {
    "geometry.no_displacement": (
        "{code} ist eine Drehung und an jedem Punkt gleich. Nennen Sie eine Geradheit oder ein Positionieren, zum "
        "Beispiel EYZ."
    ),
    "geometry.rotation_of_another": (
        "{code} ist keine Drehung der Achse {axis}. Geben Sie EA{axis}, EB{axis} oder EC{axis} an."
    ),
    "geometry.offset_shape": (
        "Der Versatz des Funktionspunkts hat die Form {shape}. Geben Sie X, Y und Z in mm an, einmal oder für jede "
        "der {stations} Stationen."
    ),
    "geometry.rotation_missing": (
        "Nicht vollständig: {rotations} wurde nicht gemessen, und der Funktionspunkt liegt dort abseits. {code} an "
        "diesem Punkt gilt nur, wenn diese Drehung klein ist; messen Sie sie auch."
    ),
    "geometry.no_level_on_vertical": (
        "{axis} steht senkrecht: keine Wasserwaage zeigt ihr Rollen. Nehmen Sie es aus zwei Geradheiten an versetzten "
        "Armen."
    ),
    "geometry.no_arm": (
        "Die Arme liegen {arm_mm:g} mm auseinander. Geben Sie den Ort des zweiten minus den des ersten in mm an; "
        "nicht null."
    ),
    "geometry.no_gauge": (
        "Die Spurweite ist {gauge_mm:g} mm. Geben Sie den Ort der zweiten minus den der ersten in mm an; nicht null."
    ),
    "geometry.sets_differ": (
        "Die beiden Sätze haben die Formen {first} und {second}. Beide brauchen dieselben Stationen und Wiederholungen."
    ),
    "geometry.even_roll_unknown": (
        "Die beiden Linien wurden gegen verschiedene Bezüge gelesen: ein Rollen, das längs der Achse gleichmäßig "
        "wächst, zeigt sich nicht. Lesen Sie beide gegen einen Bezug, um es zu sehen."
    ),
    "geometry.noise_not_positive": (
        "Das Rauschen eines Messwerts ist hier {noise_um:g} µm. Geben Sie seine Standardabweichung in µm an, über "
        "null, oder lassen Sie sie weg."
    ),
    "geometry.joint_not_judged": (
        "Stoß bei {at_mm:g} mm: nicht beurteilt. Es sind {before} Stationen davor und {after} dahinter; auf jeder "
        "Seite sind {needed} nötig, um Absatz und Knick vom Rauschen zu unterscheiden. Nehmen Sie mehr Stationen nahe "
        "am Stoß."
    ),
    "geometry.one_side_only": (
        "Die Seite ist nur für eine Bahn angegeben. Messen Sie die Seite beider, oder lassen Sie beide weg."
    ),
    "geometry.bore": (
        "Eine Bohrung von {bore_mm:g} mm passt nicht zu einem Durchmesser von {diameter_mm:g} mm. Berichtigen Sie "
        "eines von beiden."
    ),
    "geometry.supports": (
        "Auflagen bei {first_mm:g} und {second_mm:g} mm tragen kein Lineal von {length_mm:g} mm. Geben Sie zwei "
        "verschiedene Orte darauf an, von seinem ersten Ende gezählt."
    ),
    "geometry.off_the_straightedge": (
        "Der Ort {place_mm:g} mm liegt nicht auf den {length_mm:g} mm des Lineals oder Dorns. Zählen Sie Orte von "
        "seinem ersten Ende."
    ),
    "geometry.not_above_zero": "{value:g} kann hier nicht stimmen: die Zahl muss über null liegen.",
    "geometry.sd_negative": "Eine Standardabweichung von {value:g} µm kann nicht sein. Geben Sie null oder mehr an.",
    "geometry.three_gaps": (
        "Es sind {gaps} Spalte angegeben. Drei Winkel brauchen drei Paare: 1 und 2, 2 und 3, 3 und 1."
    ),
    "geometry.which_faces": "{faces!r} sind keine bekannten Flächen. Möglich sind: {known}.",
}
