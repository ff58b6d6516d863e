"""Sentences of a report that is verified."""

TEXT = {
    "report_verify.agrees": "The report agrees with its data.",
    "report_verify.counted": (
        "Report {number}, revision {revision}: {numbers} printed numbers on {pages} pages computed again from "
        "{readings} sealed readings in {passes} passes. Root over all chains: {root}"
    ),
    "report_verify.disagrees": "The report does not agree with its data in {findings} places:",
    "report_verify.number_differs": (
        "Page {page}, after “{before}”: printed is “{printed}”, the data give “{computed}”."
    ),
    "report_verify.word_differs": (
        "Page {page}, after “{before}”: the words are “{printed}”, the data give “{computed}”."
    ),
    "report_verify.drawn_differently": "Page {page}: the words agree, but something is drawn differently.",
    "report_verify.other_pages": "There are {printed} pages, the data give {computed}.",
    "report_verify.file_missing": "The file {name} that should lie inside is missing.",
    "report_verify.file_differs": "{name}, line {line}: it says “{printed}”, the data give “{computed}”.",
    "report_verify.reading_changed": (
        "Pass …{pass_id}, reading {number} at {position_mm:.1f} mm is not what was sealed: its hash is another one."
    ),
    "report_verify.reading_unreadable": "Pass …{pass_id}, reading {number} is not a sealed reading.",
    "report_verify.chain_broken": "Pass …{pass_id}, reading {number} does not follow the reading before it.",
    "report_verify.root_differs": "The root over all chains is {computed}…, the data say {printed}….",
    "report_verify.signed_something_else": "{name} signed other data ({signed}…) than these.",
    "report_verify.not_computed": "The report cannot be computed again: {why}",
    "report_verify.not_in_archive": "Pass …{pass_id} is not in the archive as the report has it.",
    "report_verify.records_not_in_archive": (
        "The {links} records of computer {name} are not in the archive as the report has them."
    ),
    "report_verify.other_version": (
        "The report was made with Waywright {made}, this is {now}; another version may set pages differently."
    ),
    "report_verify.carries_signature": "The file carries a digital signature; “waywright report signed” checks it.",
    "report_verify.no_data": (
        "{file} holds no {name}: it is not a report of this program, or was printed anew. Ask for the original file."
    ),
    "report_verify.data_unreadable": "The data inside the report cannot be read: {detail}.",
    "report_verify.data_too_large": "The data inside the report are larger than {limit_mb:.0f} MB. They are not read.",
    "report_verify.other_format": (
        "The data inside are of format “{found}”, this program knows “{known}”. Use a newer program to verify it."
    ),
    "report_verify.too_large": "{file} is larger than {limit_mb:.0f} MB and is not read.",
    "report_verify.too_many_pages": "{file} has more than {limit} pages and is not read.",
    "report_verify.too_many_files": "{file} holds more than {limit} files and is not read.",
    "report_verify.locked": "{file} is encrypted. Reports of this program never are; ask for the original file.",
    "report_verify.not_a_pdf": "{file} cannot be read as a PDF: {detail}.",
}
