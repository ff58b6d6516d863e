"""Sentences of what is kept: machines, visits, people, files."""

TEXT = {
    "keep.which_person": (
        "{wanted!r} fits {found} people, and it must fit one. Use the whole name, or the id that `waywright archive "
        "people` shows."
    ),
    "keep.which_machine": (
        "{wanted!r} fits {found} machines, and it must fit one. The archive knows: {known}. A name, a serial number or "
        "the last characters of an id will do."
    ),
    "keep.which_visit": (
        "{wanted!r} fits {found} visits, and it must fit one. `waywright visit list` shows the ids; their last "
        "characters are enough."
    ),
    "keep.machine_exists": "The archive has a machine {name} already. Change it with `waywright machine edit`.",
    "keep.bad_change": (
        "{said!r} is no change. Write name=value with the names of the machine file, such as serial=0815."
    ),
    "keep.no_such_row": (
        "{said!r}: there is no such row. There are: {known}. To add one, write the machine file with `machine show "
        "NAME --write FILE`, edit it and give it with `machine edit NAME --file FILE`."
    ),
    "keep.bad_id": "{said!r} is not an id. Use the one that ended the page before.",
    "keep.cannot_read": "{file} cannot be read: {reason}.",
    "keep.too_large": (
        "{file} has {size_mb:.0f} MB; an archive takes files of up to {largest_mb:.0f} MB. Make it smaller."
    ),
    "keep.which_attachment": (
        "{wanted!r} fits {found} attached files, and it must fit one. `waywright machine show` and `waywright visit "
        "show` list them with their ids."
    ),
    "keep.machine_kept": "{name} is kept.",
    "keep.visit_begun": "The visit to {machine} has begun. Its id ends in {id}; name it with --visit.",
    "keep.not_recorded": "not recorded",
    "keep.blanked": "The name is taken out of every revision here. Other archives follow when they are merged.",
    "keep.nothing_found": "Nothing has all these words in it.",
    "keep.empty": "The archive is empty.",
    "keep.no_instruments": (
        "No instrument with a serial number has been used yet. One is kept when a line begins with its description."
    ),
    "keep.machine_without_name": "What is the machine called? Give --name, or a machine file.",
    "keep.attached": "{name} is kept ({size_kb:.0f} kB); its id ends in {id}.",
    "keep.more": "There are more; go on with --after {after}.",
    "keep.file_exists": "{file} is there already. Name another file.",
    "keep.which_conflict": (
        "{wanted!r} with version {version} fits {found} conflicts, and it must fit one. `waywright archive conflicts` "
        "shows them with their numbers."
    ),
    "keep.missing_cluster": (
        "A cluster needs an optional part that is not installed. Bring it with `python3 x.py add cluster`."
    ),
    "keep.missing_department": (
        "A department's archive needs an optional part that is not installed. Bring it with `python3 x.py add "
        "department`."
    ),
    "keep.no_cluster": (
        "The cluster at {address} does not answer, or has no worker ({reason}). Check the address; without it all "
        "cores of this computer are used."
    ),
    "keep.exported": (
        "{file}: {passes} passes with {readings} readings, {records} descriptions, {results} results computed now."
    ),
    "keep.backed_up": "{file} is a whole copy ({size_mb:.1f} MB); it was checked and is sound.",
    "keep.restored": "The backup is in place.",
    "keep.restored_over": "The backup is in place. What was there before is {file}.",
    "keep.received": "Added: {added}.",
    "keep.nothing_new": "Nothing was missing.",
    "keep.refused": (
        "{count} rows were refused by the rules of the department's archive. They stay in yours; the head of the "
        "department can push them."
    ),
    "keep.forked": (
        "Passes that were gone on with on two computers stay apart, nothing of them was sent: {passes}. Their readings "
        "are in the archive they were taken into."
    ),
    "keep.damaged": (
        "Passes with a reading that does not match its seal: {passes}. From that reading on nothing was sent; run "
        "`waywright archive check`."
    ),
    "keep.conflicts": (
        "{count} descriptions were edited on two computers. `waywright archive conflicts` shows them side by side."
    ),
    "keep.no_conflicts": "No description was edited on two computers.",
    "keep.decide": (
        "Let one hold with `waywright archive decide ID VERSION --reason ...`; until then the last one does."
    ),
    "keep.decided": "Version {version} holds now.",
    "keep.why": "why",
    "keep.blank_name": "(blanked)",
    "keep.reassessed": "{lines} lines: {computed} computed, {up_to_date} up to date, {not_judged} cannot be judged.",
    "keep.verdict_changed": "{line}, {quantity}: {before} is now {after}.",
    "keep.sheet": "sheet",
    "keep.filled": "{filled} of {places} filled",
    "keep.reads": "Read with: {title}, serial number {serial}.",
    "keep.overdue": "{due}, was past",
    "keep.instrument_kept": "{title} is kept; certificates: {papers}.",
    "keep.scan_without_number": "{file} is the scan of a certificate: give its number too, with --certificate.",
    "keep.which_instrument": (
        "Several instruments have the serial number {serial}: {found}. Name the description file instead."
    ),
    "keep.bad_day": "{said!r} is not a day. Write it as 2026-03-01.",
    "keep.read_with": "read with: serial numbers, with ; between (may stay empty)",
}
