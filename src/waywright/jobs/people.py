"""People: who does something, by name; records refer to them by id, and a name can be taken out on request."""

from __future__ import annotations

import getpass
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import new_id
from waywright.errors import BadInput
from waywright.visit import Person

ACCOUNT = "account of the computer"
"""Role of somebody known only by the account that the program ran under."""


def person_named(archive: Archive, name: str, role: str | None = None) -> Person:
    """The person of a name; made and kept if there is none yet."""
    said = name.strip()
    known = next((person for person in archive.people() if person.name == said), None)
    if known is not None:
        return known
    person = Person(new_id(), said, role)
    archive.save(person)
    return person


def who(archive: Archive, by: str | None) -> UUID | None:
    """Who does something: the named person, otherwise the account of this computer, None where it has no name."""
    if by and by.strip():
        return person_named(archive, by).id
    try:
        return person_named(archive, getpass.getuser(), ACCOUNT).id
    except (OSError, KeyError, ImportError):  # an account without a name; on Windows without the right variables
        return None


def blank_person(archive: Archive, name: str, reason: str, by: str | None = None) -> Person:
    """Take a person's name out, here and in every earlier revision. Raises BadInput unless exactly one has it."""
    found = [person for person in archive.people() if name in (person.name, str(person.id))]
    if len(found) != 1:
        raise BadInput("keep.which_person", wanted=name, found=len(found))
    archive.blank(found[0].id, who(archive, by), reason)
    return archive.load(Person, found[0].id)
