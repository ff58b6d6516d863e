"""Sentences about functional points, joints, two ways, spindles, sag."""

TEXT = {
    "geometry.no_displacement": (
        "{code} is a rotation and the same at every point. Name a straightness or a positioning, for example EYZ."
    ),
    "geometry.rotation_of_another": "{code} is not a rotation of the {axis} axis. Give EA{axis}, EB{axis} or EC{axis}.",
    "geometry.offset_shape": (
        "The offset of the functional point has the shape {shape}. Give X, Y and Z in mm, once, or for each of the "
        "{stations} stations."
    ),
    "geometry.rotation_missing": (
        "Not complete: {rotations} was not measured, and the functional point lies off there. {code} at that point "
        "holds only if this rotation is small; measure it too."
    ),
    "geometry.no_level_on_vertical": (
        "{axis} is vertical: no level shows its roll. Take the roll from two straightness lines on offset arms."
    ),
    "geometry.no_arm": "The arms lie {arm_mm:g} mm apart. Give the second's place minus the first's, in mm; not zero.",
    "geometry.no_gauge": "The gauge is {gauge_mm:g} mm. Give the second's place minus the first's, in mm; not zero.",
    "geometry.sets_differ": (
        "The two sets have the shapes {first} and {second}. Both need the same stations and repetitions."
    ),
    "geometry.even_roll_unknown": (
        "The two lines were read against different references: a roll that grows evenly along the axis does not show. "
        "Read both against one reference to see it."
    ),
    "geometry.noise_not_positive": (
        "The noise of a reading is {noise_um:g} µm here. Give its standard deviation in µm, above zero, or leave it "
        "out."
    ),
    "geometry.joint_not_judged": (
        "Joint at {at_mm:g} mm: not judged. There are {before} stations before it and {after} behind it; {needed} are "
        "needed on each side to tell a step and a kink from the noise. Take more stations near the joint."
    ),
    "geometry.one_side_only": "The side was given for one way only. Measure the side of both, or leave both out.",
    "geometry.bore": "A bore of {bore_mm:g} mm does not fit a diameter of {diameter_mm:g} mm. Correct either.",
    "geometry.supports": (
        "Supports at {first_mm:g} and {second_mm:g} mm do not carry a straightedge of {length_mm:g} mm. Give two "
        "different places on it, counted from its first end."
    ),
    "geometry.off_the_straightedge": (
        "The place {place_mm:g} mm is not on the {length_mm:g} mm of the straightedge or bar. Count places from its "
        "first end."
    ),
    "geometry.not_above_zero": "{value:g} cannot be right here: the figure must be above zero.",
    "geometry.sd_negative": "A standard deviation of {value:g} µm cannot be. Give zero or more.",
    "geometry.three_gaps": "{gaps} gaps were given. Three squares need three pairs: 1 and 2, 2 and 3, 3 and 1.",
    "geometry.which_faces": "{faces!r} are no faces that are known. Use one of: {known}.",
}
