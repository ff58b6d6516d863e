"""Objections at the gates: plan, instruments, state of the machine, heat, after adjusting."""

TEXT = {
    "guard_gates.plan_missing": "Not agreed yet: {point}. Until it is, the result is for information only.",
    "guard_gates.plan_none": (
        "No plan is kept for this visit: nobody agreed what is measured, against which tolerance and how it is decided."
        " Until it is, the result is for information only."
    ),
    "guard_gates.no_tolerance": ("No tolerance is recorded for {line}. Say it, or put it into the plan of the visit."),
    "guard_gates.no_as_found": (
        "There is no other line of this axis as found at this visit to compare {line} with. Name one."
    ),
    "guard_gates.two_passes": (
        "{line} has no earlier pass of the same set-up. Take a pass, and on the next day three stations of it."
    ),
    "guard_gates.other_stations": (
        "Nothing was read near {position_mm:.0f} mm before. Read three stations of the earlier pass: both ends and the "
        "middle."
    ),
    "guard_gates.no_place": "Say where the temperature was read, for example bed top.",
    "guard_gates.no_pass": "{line} has no pass {number}. Take it first.",
    "guard_gates.no_certificate": "{title} has no certificate on record. Record it, or take another instrument.",
    "guard_gates.no_due_date": "The certificate of {title} has no due date on record. Look it up and record it.",
    "guard_gates.overdue": "The certificate of {title} ran out on {due}. Take another instrument.",
    "guard_gates.uncertainty": (
        "An expanded uncertainty of {uncertainty_um:.1f} um is more than a third of the tolerance ({worst_um:.1f} "
        "um): the verdict will often be undecided."
    ),
    "guard_gates.state_missing": "Not answered yet: {point}. Ask the operator, and record it.",
    "guard_gates.change_unknown": (
        "How fast the temperature changes is not known. Read the thermometer twice, half an hour apart."
    ),
    "guard_gates.change": "The temperature changes by {change:+.1f} K per hour, more than {limit:g}. Wait.",
    "guard_gates.gradient_unknown": (
        "The temperature of the air at two heights is not known. Measure it at the beam and half a metre above."
    ),
    "guard_gates.gradient": (
        "The air is layered: {gradient:+.2f} K per metre, more than {limit:g}. Mix it with fans along the beam, or "
        "shield the beam."
    ),
    "guard_gates.differs": (
        "The states differ in {point}: {first} before, {second} now. Bring the machine into the same state before "
        "comparing."
    ),
    "guard_gates.temperatures_differ": (
        "The bed had {first_degc:.1f} degrees before and has {second_degc:.1f} now, more than {limit_k:g} K apart. "
        "Compare at like temperatures, or say what the heat does."
    ),
    "guard_gates.compensation_on": (
        "The controller's compensation is on: readings show the machine with it, and no support should be turned by "
        "them."
    ),
    "guard_gates.bolts": "The anchor bolts are {bolts}, not at final torque. The result is provisional.",
    "guard_gates.creep_unknown": (
        "Nobody watched whether the bed still moves. Read one station twice, half an hour apart."
    ),
    "guard_gates.creep": (
        "The bed still moves by {creep:+.1f} um per hour, more than {limit:.1f}. Wait; until then the result is "
        "provisional."
    ),
    "guard_gates.wait": "Only {minutes:.0f} min have passed since the last move; {limit:.0f} min are usual.",
    "guard_gates.wait_unknown": (
        "How long ago the last support was turned is not known; {limit:.0f} min are usual before measuring as left."
    ),
    "guard_gates.recheck": "The result is provisional. Check it again on {on}.",
    "guard_gates.three_stations": (
        "The check of the baseline needs three stations: both ends and the middle; there are {stations}."
    ),
    "guard_gates.baseline": (
        "The line has bent since the last day: the middle by {bow_um:+.1f} um against the ends, {limit_um:.1f} um can"
        " be noise. Take a whole pass before going on."
    ),
}
