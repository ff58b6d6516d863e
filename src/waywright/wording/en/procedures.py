"""How the tests along a way are done: title, steps, what goes wrong, cautions; one sentence a line."""

_LASER = (
    "A class 2 laser is still a laser: never look into the beam, keep it off eye height and end it on something dull."
)
_MOVING = "The axis moves: one person commands, everybody else keeps clear of its path."

TEXT = {
    "procedures.straightness_beam.title": "Straightness by a beam and a two-axis detector",
    "procedures.straightness_beam.steps": (
        "Wipe the bare metal where magnets stand; put the source on the bed and the detector where the tool meets the "
        "work.\n"
        "Let source and detector run for half an hour in the hall.\n"
        "Lay the beam along the travel: near end by shifting, far end by tilting, until the excursion is below 5 % of "
        "the detector's range.\n"
        "Push the detector up by a known shim, then towards you: sign and size must be right.\n"
        "Stand still at the far end for some minutes and look how much the air moves the figure.\n"
        "Take a pass forward and one back, with every station approached in the direction of the pass.\n"
        "Return to the start: the closing difference says what the source did meanwhile."
    ),
    "procedures.straightness_beam.wrong": (
        "A magnet on paint or on a cover creeps: all later readings are off by a step.\n"
        "A beam above a warm bed bends; a bow that is the weather's is not to be turned away at the supports.\n"
        "A detector that hangs upside down turns the sign over.\n"
        "Somebody leans on the bed, or a door is opened, during a reading."
    ),
    "procedures.straightness_beam.cautions": f"{_LASER}\n{_MOVING}",
    "procedures.straightness_level.title": "Straightness by a level, step by step",
    "procedures.straightness_level.steps": (
        "Put the level on a bridge whose feet are as far apart as one step.\n"
        "Turn it end for end on one spot: half the difference is its own error.\n"
        "Set the bridge foot to foot along the way; wait until the figure rests, then take it.\n"
        "Go back the same way: both passes should differ by little more than the resolution.\n"
        "The steps are summed; the first and the last station make the end-point line."
    ),
    "procedures.straightness_level.wrong": (
        "A step that is not the base length leaves gaps or laps over.\n"
        "Dirt under one foot tilts one step, and all heights behind it are wrong.\n"
        "A hand that was on the vial for long warms it.\n"
        "A level follows gravity: over 20 m the earth's curve is 8 um of bow."
    ),
    "procedures.straightness_level.cautions": (
        "Lift the bridge, do not push it over a step.\nKeep fingers from under its feet."
    ),
    "procedures.level_along.title": "Level along",
    "procedures.level_along.steps": (
        "Turn the level end for end at the first place to find its own error.\n"
        "Put it along the way at both ends and in the middle, then at every support.\n"
        "Write down which end is high, not only how much."
    ),
    "procedures.level_along.wrong": (
        "Level and straight are two things: a bowed bed can stand level at its ends.\n"
        "The moving mass tilts the bed: say where it stood."
    ),
    "procedures.level_along.cautions": "Nothing but the level stands on the way while it is read.",
    "procedures.twist_level.title": "Twist: the bed across, place by place",
    "procedures.twist_level.steps": (
        "Put the level across, on a bridge over both guideways or on the carriage.\n"
        "Read it at the same places as the straightness, always the same way round.\n"
        "Only the change along the bed is twist; the same figure everywhere is tilt."
    ),
    "procedures.twist_level.wrong": (
        "A level that was turned round on the way turns the sign over.\n"
        "A carriage with a loose gib rolls by itself.\n"
        "Supports in one row cannot change twist: look at both rows."
    ),
    "procedures.twist_level.cautions": f"{_MOVING}",
    "procedures.angle_level.title": "Roll and nod by a level on what moves",
    "procedures.angle_level.steps": (
        "Fix a level on what moves: across for roll, along for nod.\n"
        "Fix a second one on what stands still if the whole machine rocks, and take the difference.\n"
        "Move to each station, wait until the figure rests, then take it; there and back."
    ),
    "procedures.angle_level.wrong": (
        "The machine rocks on its supports as the mass moves: without the second level that looks like nodding.\n"
        "A level cannot see turning about the upright: that needs a reflector."
    ),
    "procedures.angle_level.cautions": f"{_MOVING}",
    "procedures.angle_reflector.title": "Turning left and right by a reflector and an angle instrument",
    "procedures.angle_reflector.steps": (
        "Put the angle instrument on what stands still, its line of sight along the travel.\n"
        "Fix the reflector on what moves, square to the line of sight.\n"
        "Tilt the reflector by a known shim: sign and size must be right.\n"
        "Take every station there and back."
    ),
    "procedures.angle_reflector.wrong": (
        "A reflector on a thin bracket shivers.\n"
        "Warm air across the line of sight moves the image.\n"
        "Which way counts positive is lost when the reflector is turned over."
    ),
    "procedures.angle_reflector.cautions": f"{_LASER}\n{_MOVING}",
    "procedures.two_rails.title": "Two rails: equal height and equal distance",
    "procedures.two_rails.steps": (
        "Make the master rail straight first, up and down and sideways.\n"
        "Lay a bridge with a level over both rails and read it at every support: that is height against height.\n"
        "Carry an indicator on the master rail and touch the other rail's side: that is the distance.\n"
        "Turn the bridge end for end once to find the error of its feet."
    ),
    "procedures.two_rails.wrong": (
        "A bridge that is not turned puts its own feet into every figure.\n"
        "Rails on a hall floor move with the season: write the temperature down.\n"
        "Correcting the second rail before the first is straight is done twice."
    ),
    "procedures.two_rails.cautions": "Two people lift a long bridge.\nNo fingers between bridge and rail.",
    "procedures.joint_indicator.title": "The step at a joint",
    "procedures.joint_indicator.steps": (
        "Clean and feel the joint; a burr is stoned off first.\n"
        "Carry the indicator on a short base that stands on one side, and pass its tip over the joint.\n"
        "Do it at both edges and in the middle of the way."
    ),
    "procedures.joint_indicator.wrong": (
        "A base that itself rides over the joint tilts and shows half the truth.\n"
        "A step in the joint is never corrected with supports alone."
    ),
    "procedures.joint_indicator.cautions": "Draw the bolts of a joint only as its maker says.",
}
