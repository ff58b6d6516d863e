"""Sentences of the sheet of tests: what is refused, what a row says, how it is asked for."""

TEXT = {
    "sheet.unknown_kind": "Row {number}: there is no kind {kind!r}. Known kinds: {known}.",
    "sheet.too_few_places": "Row {number} needs at least {needed} places; it names {places}.",
    "sheet.other_places": "Row {number} is read at exactly {needed} places; it names {places}.",
    "sheet.row_lacks": "Row {number} is a {kind!r}: it also needs {name}.",
    "sheet.positions_and_places": "Row {number}: {name} holds {n} positions for {places} places.",
    "sheet.not_turned": "Row {number}: a {kind!r} is not read again with something turned; leave out `turned`.",
    "sheet.joint_places": (
        "Row {number}: a step needs at least {needed} places on each side of the joint at {joint_mm:g} mm and none on "
        "it; there are {before} before and {after} after it."
    ),
    "sheet.too_few_readings": "This needs at least {needed} readings; there are {readings}.",
    "sheet.reading_not_a_number": "A reading is no number.",
    "sheet.no_first_group": "There must be readings on the table and on the column.",
    "sheet.no_tilts_along": "Without a level along one way there are no heights: fill a row along the front or the rear.",
    "sheet.taper_held": "The work is held in the chuck or between centres, not {held!r}.",
    "sheet.no_template": "There is no example {name!r}. There are: {known}.",
    "sheet.format": "{file} has format {found}; this program knows format {known}.",
    "sheet.no_rows": "{file} has no row: add at least one [[row]].",
    "sheet.number_twice": "{file}: the number {number} stands on two rows.",
    "sheet.place_twice": "Row {number}: the place {place!r} is named twice.",
    "sheet.division": "Row {number} is read in divisions: state division and division_unit, such as 0.02 and mm/m.",
    "sheet.none_kept": "There is no sheet in {archive}. Begin one with `waywright sheet fill lathe`.",
    "sheet.which": "{found} sheets fit {wanted!r}. `waywright sheet list` shows them with their ids.",
    "sheet.no_place": "There is no place {place!r} in row {row!r}.",
    "sheet.confirmed_by": "A value is confirmed by one of {allowed}, not by {by!r}.",
    "sheet.machine_not_named": "machine not named",
    "sheet.needs_length": "{part!r} goes by length: state length_mm in the row.",
    "sheet.needs_angle": "{part!r} is no limit of an angle: write it as 0.02/1000 or in arcsec, or state length_mm.",
    "sheet.needs_direction": "{part!r} needs to know where positive readings point: state positive and ahead in the row.",
    "sheet.needs_curve": "{part!r} looks at a curve; this row has a single value.",
    "sheet.needs_stations": "A part of {window_mm:g} mm holds too few places to be judged.",
    "sheet.not_measured": "Not measured.",
    "sheet.incomplete": "{missing} of {places} values are missing, next {next}.",
    "sheet.no_limit": "No limit was agreed on.",
    "sheet.no_source": "Nothing to take {of!r} from: state files or a kept line in the row.",
    "sheet.unknown_evaluation": "There is no evaluation {of!r}. There are: {known}.",
    "sheet.evaluation_needs": "The evaluation {of!r} also needs {name}: state it in the row's settings.",
    "sheet.no_figure": "The result has no figure {take!r}. It has: {known}.",
    "sheet.figure_not_judged": "The figure {take!r} was not judged.",
    "sheet.too_many_readings": (
        "The tables hold more than {most} readings; state uncertainty_um in the row, as `waywright evaluate` gives it."
    ),
    "sheet.undecided": "{value:+.1f} {unit} lies within {guard:.1f} {unit} of {limit:g} {unit} ({part}).",
    "sheet.undecided_by": (
        "{value:+.1f} {unit} lies within {guard:.1f} {unit} of {limit:g} {unit} ({part}). Most of the uncertainty is: "
        "{largest} (±{largest_expanded:.1f} {unit})."
    ),
}
