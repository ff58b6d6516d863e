"""How the tests of axes, spindles, tables and plates are done: title, steps, what goes wrong, cautions."""

_STILL = "The spindle cannot start: drive off, key with whoever touches it. Turn it by hand."
_MOVING = "The axis moves: one person commands, everybody else keeps clear of its path."

TEXT = {
    "procedures_parts.squareness_square.title": "Squareness of two axes by a square and an indicator",
    "procedures_parts.squareness_square.steps": (
        "Lay the square on the table and turn it until one arm runs along the first axis: the indicator shows the same "
        "at both its ends.\n"
        "Touch the other arm and move the second axis along it.\n"
        "The slope of the figures is the error; take several stations, not only the two ends.\n"
        "Turn the square over and do it again: half the sum is the machine, half the difference the square."
    ),
    "procedures_parts.squareness_square.wrong": (
        "A square that is not turned over puts its own error into the result.\n"
        "A short axis gives a poor angle: the uncertainty grows as the length shrinks.\n"
        "An indicator on a long arm sags when it is turned."
    ),
    "procedures_parts.squareness_square.cautions": f"{_MOVING}\nA heavy square is lifted by two, or by a crane.",
    "procedures_parts.squareness_level.title": "Squareness of an upright axis with a level as the link",
    "procedures_parts.squareness_level.steps": (
        "Read the level along the level axis, at several places: its line against gravity.\n"
        "Carry the same level, square side against the upright way, and read it along its height.\n"
        "The difference of the two slopes is the error of squareness.\n"
        "Turn the level end for end at both to find its own error."
    ),
    "procedures_parts.squareness_level.wrong": (
        "The bed tilts as the column moves along it: say where it stood.\n"
        "A level's own error counts here: it does not cancel as it does for straightness."
    ),
    "procedures_parts.squareness_level.cautions": "Secure an upright axis against falling before a hand goes under it.",
    "procedures_parts.facing.title": "Cross slide square to the spindle axis",
    "procedures_parts.facing.steps": (
        "Clamp a flat disc on the spindle and touch its face with an indicator on the cross slide.\n"
        "Move the cross slide from the edge to the middle and read.\n"
        "Turn the spindle by half a turn and do it again: the mean is free of the disc.\n"
        "A face that comes out hollow is usual, a face that comes out domed is not."
    ),
    "procedures_parts.facing.wrong": (
        "A disc that is not turned round puts its own tilt in.\nA worn cross slide lifts at its end."
    ),
    "procedures_parts.facing.cautions": f"{_STILL}",
    "procedures_parts.spindle_bar.title": "Spindle axis along an axis, by a test bar",
    "procedures_parts.spindle_bar.steps": (
        "Clean taper and bar; seat the bar without a blow.\n"
        "Touch it from above near the nose and at the free end, moving the axis between.\n"
        "Turn the spindle by half a turn, do it again and take the mean: the bar's run-out cancels.\n"
        "Do the same from the side."
    ),
    "procedures_parts.spindle_bar.wrong": (
        "A bar that is read in one position only shows its own run-out.\n"
        "Dirt in the taper looks like a bent spindle.\n"
        "A long bar sags at its end: correct it or say so."
    ),
    "procedures_parts.spindle_bar.cautions": f"{_STILL}\nA bar falls out when the drawbar is slack: hold it.",
    "procedures_parts.centres_bar.title": "Line between centres, by a bar between them",
    "procedures_parts.centres_bar.steps": (
        "Take the bar between clean centres with light pressure, tailstock clamped.\n"
        "Move the indicator along it from above, then from the side.\n"
        "Turn the bar by half a turn and do it again."
    ),
    "procedures_parts.centres_bar.wrong": (
        "Too much pressure bends the bar.\nA tailstock that is clamped afterwards lifts or leans."
    ),
    "procedures_parts.centres_bar.cautions": f"{_STILL}\nThe bar is heavy: support it until both centres hold.",
    "procedures_parts.run_out.title": "Run-out and slip of a spindle",
    "procedures_parts.run_out.steps": (
        "Touch the nose, or a bar near the nose, with an indicator that stands on the machine.\n"
        "Turn the spindle by hand for two turns; the largest minus the smallest figure is the run-out.\n"
        "For slip, touch a ball in the centre hole, along the axis."
    ),
    "procedures_parts.run_out.wrong": (
        "A burr or dirt at the nose is no run-out of the spindle.\n"
        "Slip measured off centre is partly the face's run-out."
    ),
    "procedures_parts.run_out.cautions": f"{_STILL}",
    "procedures_parts.table_indicator.title": "Table top along an axis, by an indicator",
    "procedures_parts.table_indicator.steps": (
        "Put the indicator on what carries the tool, its tip on the table (or on a straightedge that lies on it).\n"
        "Move the axis under it and read at even steps.\n"
        "Say where the other axes stood and whether their clamps were on."
    ),
    "procedures_parts.table_indicator.wrong": (
        "A scratch under the tip is read as a hill: use a gauge block.\nA table that is clamped lifts."
    ),
    "procedures_parts.table_indicator.cautions": f"{_MOVING}",
    "procedures_parts.tramming.title": "Spindle square to the table, by swinging an indicator",
    "procedures_parts.tramming.steps": (
        "Fix the indicator on an arm in the spindle, its tip on the table.\n"
        "Swing it by hand to four places a quarter turn apart, over a gauge block.\n"
        "Opposite figures, divided by the diameter, are the two angles.\n"
        "Do it again with the spindle head at another height."
    ),
    "procedures_parts.tramming.wrong": (
        "An arm that bends under its own weight shows the same at all four places: check it at a ring first.\n"
        "Four places are needed; two opposite ones show one direction only."
    ),
    "procedures_parts.tramming.cautions": f"{_STILL}",
    "procedures_parts.flatness_grid.title": "Flatness of a plate or table over a grid of lines",
    "procedures_parts.flatness_grid.steps": (
        "Mark the grid: edges, diagonals, lines between, with steps of the base length.\n"
        "Read each line there and back with the level or the angle instrument on its bridge.\n"
        "Lines that cross must agree where they meet: the closures say how good the readings are.\n"
        "Heights are joined over all lines at once, then laid into the smallest zone."
    ),
    "procedures_parts.flatness_grid.wrong": (
        "Levels all over need the plate to stand still: nobody leans on it.\n"
        "A line that was read the other way round turns its sign over; its closures show it.\n"
        "A plate in the sun is warm on top and domed."
    ),
    "procedures_parts.flatness_grid.cautions": "Nothing heavy is put on the plate between the lines.",
}
