"""Sentences of the verbs."""

TEXT = {
    "jobs.no_straightness": (
        "{file} holds no straightness quantity (it has: {columns}). Name a column by its ISO 230-1 code and unit, for "
        "example EYZ_um."
    ),
    "jobs.left_out": "pass {number}, {position_mm:g} mm, {why}",
    "jobs.one_link": "Several links were given. Two lines are tied by one: a bridge, a level, or one beam for both.",
    "jobs.level_base": "{file}: a level as link needs the distance of its feet. Give --level-base-mm.",
    "jobs.no_joint": (
        "Where is the joint? Give its position, or the machine file whose bed has joints with a table that says where "
        "its positions count from; {file} says of no joint within its stations."
    ),
    "jobs.no_joint_of_machine": (
        "{file} has no joint that lies between the first and the last station. Look at bed_mm of its joints, and at "
        "the remarks `zero mark`, `zero offset mm` and `positions grow` of the table."
    ),
    "jobs.not_answered": "This cannot be computed any more. {why}",
    "jobs.which_question": (
        "{wanted!r} fits {found} kept results, and it must fit one. `waywright evaluate kept` shows the ids; their "
        "last characters are enough."
    ),
    "jobs.sag_share": "{share:g} cannot be the uncertainty of a sag. Give a share of it, for example 0.1 for 10 %.",
    "jobs.straightedge_size": "The sag needs the straightedge's size too: give --length-mm and --height-mm.",
    "jobs.no_visit": "There is no visit in {archive} yet. Begin one with `waywright capture` or `waywright type`.",
    "jobs.reflector_sees_no_earth": "An autocollimator sees a straight beam: leave --beam out, nothing is removed.",
    "jobs.no_rotation": (
        "{file} holds no rotation to use (it has: {columns}). Name a column by its ISO 230-1 code and unit, for "
        "example EAZ_um_per_m."
    ),
    "jobs.quantity_missing": "{file} has no straightness quantity {quantity}; it has: {present}.",
    "jobs.which_pass": (
        "{wanted!r} fits {found} passes, and it must fit one. `waywright archive list` shows the ids; their last "
        "characters are enough."
    ),
    "jobs.archive_sound": (
        "Everything is as it was written: {readings} readings, {records} records, {blocks} blocks of streams; every "
        "seal and every chain holds."
    ),
    "jobs.excluded": "left out: {reason}",
    "jobs.superseded_by": "taken again as no. {number}",
    "jobs.repeat": "repeat",
    "jobs.bad_axis": "{axis!r} is not an axis. Write X, Y or Z.",
    "jobs.position_channels": (
        "Exactly one channel of the instruments must be a position; there are {found} ({channels}). Add the "
        "description of the distance meter, or leave one out."
    ),
    "jobs.no_line": "{archive} holds no line {wanted!r}. `waywright archive list` shows what there is.",
    "jobs.no_readings": "The line {line!r} has no readings yet. Take a pass first.",
    "jobs.quantity_not_measured": "{quantity} was not measured on the line {line!r}.",
    "jobs.no_such_channel": "There is no channel {channel!r} in the set-up of this line; it has: {known}.",
    "jobs.no_such_direction": "{direction!r} is not a physical direction. Write one of: {allowed}.",
    "jobs.nothing_to_continue": "The line {line!r} has no pass that was interrupted. Start a new pass.",
    "jobs.unknown_mark": (
        "Position zero is tied to the mark {mark!r}, which {machine} does not have (it has: {known}). Add the mark "
        "to the machine file, or name one of these."
    ),
    "jobs.two_planes": (
        "{file} must hold two straightness quantities of one axis, for example EYZ_um and EXZ_um; it has: {present}."
    ),
    "jobs.which_quantity": "{file} has no single quantity {wanted} to use; it has: {present}. Name one of these.",
    "jobs.level_positions": (
        "{file}, line {line}: the positions of the near foot must go on in one direction, two steps at least. Sort the "
        "rows as they were measured."
    ),
    "jobs.no_positioning": ("{file} must hold one positioning quantity, EXX_um, EYY_um or EZZ_um (it has: {columns})."),
    "jobs.positioning_direction": (
        "{file}: every run needs a direction, forward for the approach in the positive sense, backward for the other. "
        "Fill in the column direction."
    ),
    "jobs.positioning_one_way": (
        "{file} has no {missing} run. Measure both directions: without it there is no reversal."
    ),
    "jobs.positioning_target": (
        "{file}: {direction} run {run} has no reading at the target {target_mm:g} mm. Measure every target in "
        "every run."
    ),
    "jobs.step_without_length": "{file}, line {line}: both feet stand at one place. Correct this row.",
    "jobs.step_not_joined": (
        "{file}, line {line}: this step of the line {name!r} does not begin where the one before ended, or leaves the "
        "straight line. Correct the places, or give the rest a name of its own."
    ),
    "jobs.axes_not_said": (
        "{file} does not say how the axes lie. Add the remarks `# up: -Y` and `# operator: +X` (as on your machine), "
        "or give the offset along X, Y, Z."
    ),
    "jobs.sag_twice": (
        "{file} has a column for the sag of the mandrel, and its size was given too. Leave one of them out."
    ),
    "jobs.no_reason": "Say why the reading is left out; the report carries the reason.",
    "jobs.too_little_heard": (
        "Channel {channel} gave {samples} values; {needed} are needed. Look at the health of the instrument, wait, and "
        "try again."
    ),
    "jobs.bad_stock": "{part!r} is no foil. Write thickness in µm and number, such as 50 x 4.",
    "jobs.no_setup": "Line {line} has no set-up yet. Take a pass of it first.",
    "jobs.nothing_proved": "This test does not say in which directions the channels count. Move the detector again.",
    "jobs.unknown_fact": "{name!r} is nothing that the report asks for. It asks for: {allowed}.",
    "jobs.bad_fact": "{value!r} cannot be recorded as {name}. Write something; where only some answers fit: {allowed}.",
    "jobs.bad_temperature": "{value!r} is not a temperature. Write degrees Celsius, for example 20.6.",
    "jobs.no_height": (
        "{file} holds no height (it has: {columns}). A plan needs the straightness in the vertical direction of a "
        "horizontal axis."
    ),
    "jobs.no_supports": "{machine} has no bed with supports. Describe them in the machine file ([[bed.support]]).",
    "jobs.typed_vertical": "Typed readings are of a horizontal axis; {axis} is vertical here.",
    "jobs.not_typed": (
        "Pass {number} takes no typed readings: it has ended, or it is taken by instruments. Begin a typed pass."
    ),
    "jobs.typed_channels": "Typed values here are of {allowed}; {channels} does not fit.",
    "jobs.typed_number": "A typed position or value is no number.",
    "jobs.which_limit": "Give either a limit in µm, or a tolerance rule together with the length it is asked for.",
    "jobs.not_stated": (
        "No uncertainty is stated for this result ({result}). It is for straightness, segments, level, guideway, "
        "flatness, angles, twist, roll, squareness, squares, parallelism, joints, positioning and straightness in "
        "space."
    ),
    "jobs.rule_without_uncertainty": (
        "A verdict needs the uncertainty of the value. Add --uncertainty with a budget file, or with one of the ready "
        "budgets: beam, level, autocollimator, straightedge, cross-level, positioning."
    ),
}
