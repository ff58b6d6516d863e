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
    "keep.machine_without_name": "What is the machine called? Give --name, or a machine file.",
    "keep.attached": "{name} is kept ({size_kb:.0f} kB); its id ends in {id}.",
    "keep.more": "There are more; go on with --after {after}.",
}
