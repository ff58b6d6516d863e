"""Sentences about angles summed to heights, target curves, and the choice of the reference line."""

TEXT = {
    "angles.guideway_averaged": (
        "{code} from {rotation}: the shape of the guideway averaged over the carriage. It is not the straightness of "
        "the axis at the functional point; for that measure there, or add the angles times their arms."
    ),
    "angles.no_straightness": "{code} is not a straightness. Name one such as EYZ: E, direction, moving axis.",
    "angles.across": "The {axis} axis does not run {direction}. Say in which direction the positions grow along it.",
    "angles.step_differs": (
        "Step {step} is {step_mm:g} mm, the base length {base_mm:g} mm: they differ by {share:.1%}. Beyond 2 % the "
        "steps leave gaps or overlap. Move by the base length."
    ),
    "angles.target_too_short": (
        "The target curve reaches from {from_mm:g} to {to_mm:g} mm, but there is a station at {position_mm:g} mm. "
        "Extend the curve, or leave the station out."
    ),
    "angles.one_reference": "Values about at least two reference lines are needed to compare them (here: {lines}).",
    "angles.lines_differ": (
        "The value depends on the reference line: {smallest_um:.1f} µm about the {smallest} line, {largest_um:.1f} µm "
        "about the {largest} line ({share:.0%} more). Agree with the customer which one counts."
    ),
    "angles.line_decides": (
        "The reference line decides: {smallest_um:.1f} µm about the {smallest} line, {largest_um:.1f} µm about the "
        "{largest} line, the limit of {limit_um:.1f} µm lies between. Agree with the customer which one counts."
    ),
}
