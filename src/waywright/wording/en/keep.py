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
    "keep.no_such_row": "{said!r}: there is no such row. There are: {known}.",
    "keep.bad_id": "{said!r} is not an id. Use the one that ended the page before.",
}
