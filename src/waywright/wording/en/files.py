"""Sentences of the files that people exchange."""

TEXT = {
    "files.cannot_read": "{file} cannot be read: {reason}. Check the name and the folder.",
    "files.cannot_write": "{file} cannot be written: {reason}. Choose another folder or free some space.",
    "files.table_too_large": (
        "{file} is larger than {limit_mb:.0f} MB, the limit for a readings table. Split it, one line measured per file."
    ),
    "files.table_not_text": (
        "{file} is not a text table. Save it as CSV (UTF-8) from the program that made it and read that file."
    ),
    "files.table_not_utf8": "{file}, line {line}: this is not UTF-8 text. Save the table as CSV with encoding UTF-8.",
    "files.table_empty": (
        "{file} is empty. A readings table has a header such as position_mm,EYZ_um and one row for each station."
    ),
    "files.table_header_only": "{file} has a header in line {line} but no readings below it. Add one row a station.",
    "files.table_broken_line": (
        "{file}, line {line}: a quotation mark is opened and not closed in {found!r}. Remove it."
    ),
    "files.table_ragged": (
        "{file}, line {line}: {found} cells, but the header names {expected} columns. "
        "Give every row as many cells as the header."
    ),
    "files.table_decimal_comma": (
        "{file}, line {line}: {found} cells, but the header names {expected} columns. "
        "If the numbers have a decimal comma, separate the columns by semicolon or tab."
    ),
    "files.table_unknown_column": (
        "{file}, line {line}: the column {column!r} is not known. Columns are position, time, ISO 230-1 codes "
        "with their "
        "unit (EYZ_um, ECZ_um_per_m), sd_ and n_ before a code, pass, direction and n. Put remarks in lines that begin "
        "with #."
    ),
    "files.named_unknown_column": (
        "{file}, line {line}: the column {column!r} is not known here. Columns of this table are {known}."
    ),
    "files.named_column_missing": "{file}, line {line}: no column {column!r}. Add it; its unit may be another one.",
    "files.table_unit_missing": "{file}, line {line}: the column {column!r} has no unit. Write for example {example}.",
    "files.table_unit_unknown": (
        "{file}, line {line}, column {column}: the unit {found!r} is not known here. Use one of: {allowed}."
    ),
    "files.table_column_twice": "{file}, line {line}: the column {column!r} stands twice. Remove one of the two.",
    "files.table_mixed_units": (
        "{file}, line {line}: {first} and {second} give one quantity in two units. Use one unit for both."
    ),
    "files.table_no_position": "{file}, line {line}: no column of positions. Add one, for example position_mm.",
    "files.table_no_quantity": (
        "{file}, line {line}: no column of deviations. Add one, named by its ISO 230-1 code and unit, "
        "for example EYZ_um."
    ),
    "files.cell_number": (
        "{file}, line {line}, column {column}: found {found!r}, expected a number such as -12.5. Correct this cell."
    ),
    "files.cell_empty": (
        "{file}, line {line}, column {column}: the cell is empty, expected a {expected}. "
        "Fill it in, or remove the row if the station was not measured."
    ),
    "files.cell_decimal_mark": (
        "{file}, line {line}, column {column}: found {found!r}, but since line {first_line} the decimal mark of this "
        "file is {expected!r}. Use one decimal mark throughout, and none for thousands."
    ),
    "files.cell_spread": (
        "{file}, line {line}, column {column}: found {found!r}, expected a standard deviation, which is not negative. "
        "Correct this cell or leave it empty."
    ),
    "files.cell_count": (
        "{file}, line {line}, column {column}: found {found!r}, expected a number of samples, a whole number from 1. "
        "Correct this cell or leave it empty."
    ),
    "files.cell_pass": (
        "{file}, line {line}, column {column}: found {found!r}, expected the number of the pass, a whole number "
        "from 1. Correct this cell."
    ),
    "files.cell_direction": (
        "{file}, line {line}, column {column}: found {found!r}, expected forward or backward. "
        "Correct this cell or leave it empty."
    ),
    "files.table_few_stations": (
        "{file}: the number of stations is {stations}; a straight line needs at least {needed}. Take more stations."
    ),
    "files.table_position_twice": (
        "{file}, line {line}: position {position_mm:g} mm stands already in line {first_line} of the same pass. "
        "Keep the reading that holds, or number the passes in a column named pass."
    ),
    "files.metadata_line": (
        "The note {note!r} does not fit on a line of a readings table. Use a name without colon and text without "
        "line breaks or blanks at its ends."
    ),
    "files.record_lengths": (
        "The column {column} has {values} values for {positions} positions. Give one value for each position."
    ),
    "files.record_values": "The column {column} is not a list of finite numbers. Remove what is not a number.",
    "files.budget_format": (
        "{file} is a budget of format {found}; this version reads format {known}. "
        "Begin from a ready budget of this version, or update Waywright."
    ),
    "files.no_ready_budget": "There is no ready budget for {method!r}. Methods with one: {known}.",
    "files.no_visit_file": "{file} is no visit file. A visit file is made by `waywright archive export`.",
    "files.newer_visit_file": (
        "{file} is a visit file of version {found}; this program reads version {known} and those with the same first "
        "number. Update the program."
    ),
    "files.bad_visit_file": "{file} cannot be read as a visit file: {reason}. Nothing was taken from it.",
    "files.visit_file_too_large": "{file} holds more than {limit_mb:.0f} MB: no visit file is that large.",
    "files.cannot_read_visit": "{file} cannot be read: {reason}.",
}
