"""Sentences about tables of other programs."""

TEXT = {
    "foreign.too_large": "{file} is larger than {limit_mb:.0f} MB and is not read. Cut it into parts.",
    "foreign.too_many_rows": "{file} has more than {limit} rows and is not read. Cut it into parts.",
    "foreign.too_many_columns": "{file}, row {line}: more than {limit} columns. That is no table of readings.",
    "foreign.long_cell": "{file}, row {line}: a cell is longer than {limit} signs. That is no table of readings.",
    "foreign.broken_line": "{file}, row {line} cannot be cut into cells. Save the table anew as CSV.",
    "foreign.old_workbook": "{file} is a workbook of the old kind (.xls). Save it as .xlsx or CSV.",
    "foreign.not_a_workbook": "{file} cannot be read as a workbook: {detail}. Save it anew as .xlsx or CSV.",
    "foreign.no_sheet": "{file} has no sheet {sheet!r}. It has: {known}.",
    "foreign.zip_tricks": "{file} is not built as a workbook is built. It is not read; save it anew as .xlsx or CSV.",
    "foreign.unpacks_too_large": "{file} unpacks to more than {limit_mb:.0f} MB and is not read.",
    "foreign.entities": "{file} defines entities, which no workbook needs. It is not read.",
    "foreign.locked": "{file} is protected by a password. Save it without one.",
    "foreign.no_header": "{file} has {rows} rows, and the mapping looks for headings in row {row}. Mend header_row.",
    "foreign.few_rows": "{file} has {rows} rows with a position; {needed} are needed. Check header_row and the column.",
    "foreign.no_values": "The mapping names no value column for {file}. Add a [[value]].",
    "foreign.no_axes": (
        "The mapping says positive for {column!r}, so it must also say how the axes lie: up and operator."
    ),
    "foreign.no_column": "{file} has no column {column!r}. Its headings are: {known}.",
    "foreign.bad_number": (
        "{file}, row {row}, column {column}: {found!r} is no number with the decimal mark {decimal!r}. Mend the cell "
        "or the mapping."
    ),
    "foreign.bad_pass": "{file}, column {column}: numbers of passes must be whole, from 0.",
    "foreign.bad_direction": (
        "{file}, row {row}, column {column}: {found!r} is neither {forward!r} nor {backward!r}. Mend the mapping."
    ),
    "foreign.no_table": (
        "{file} has no three rows of numbers below each other, with headings above. Add a row of headings."
    ),
    "foreign.looked": "{file}: headings in row {row}: {headings}",
    "foreign.sheets": "Sheets: {sheets}",
    "foreign.mapping_written": "A mapping to be looked over lies in {file}: check codes, units and signs.",
    "foreign.converted": "{rows} readings in {file}: {codes}",
}
