"""Files that belong to something: photos, certificates, contracts; kept in the archive with their SHA-256."""

from __future__ import annotations

import mimetypes
import re
from pathlib import Path
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import new_id
from waywright.errors import BadInput
from waywright.visit import Attachment

LARGEST_BYTES = 50_000_000
"""An archive is copied every evening; a film does not belong into it."""
_NO_NAME = re.compile(r'[\x00-\x1f\x7f<>"|?*]')


def attach(
    archive: Archive, subject: UUID, file: Path, role: str | None, caption: str | None, by: UUID | None
) -> Attachment:
    """Keep a file for a machine, visit, line, set-up or instrument. Raises BadInput for one that cannot be read."""
    try:
        with file.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
            size = max(len(data), file.stat().st_size)
    except OSError as error:
        raise BadInput("keep.cannot_read", file=str(file), reason=error.strerror or str(error)) from error
    _check_size(file.name, size)
    return attach_bytes(archive, subject, file.name, data, role, caption, by)


def attach_bytes(
    archive: Archive, subject: UUID, name: str, data: bytes, role: str | None, caption: str | None, by: UUID | None
) -> Attachment:
    """The same for bytes that come from a page. Raises BadInput for more than is sensible."""
    _check_size(name, len(data))
    media = mimetypes.guess_type(name)[0] or "application/octet-stream"
    kind = role or ("photo" if media.startswith("image/") else "other")
    made = Attachment(new_id(), subject, name, media, len(data), archive.keep_content(data), kind, caption)
    archive.save(made, by=by)
    return made


def extract(archive: Archive, wanted: str, target: Path) -> Path:
    """Write an attached file, by its id or the end of it, to ``target`` (a file, or a folder: under its own name).

    A name that came in with a file from elsewhere never leads out of the folder. Raises BadInput for another id, and
    where it cannot be written.
    """
    found = [each for each in archive.every(Attachment) if str(each.id).endswith(wanted.lower())]
    if len(found) != 1:
        raise BadInput("keep.which_attachment", wanted=wanted, found=len(found))
    place = target / plain_name(found[0]) if target.is_dir() else target
    data = archive.content(found[0].sha256)
    try:
        place.write_bytes(data)
    except (OSError, ValueError) as error:
        raise BadInput("files.cannot_write", file=str(place), reason=str(error)) from error
    return place


def plain_name(kept: Attachment) -> str:
    """The name of a file without folders, drives and signs that are none of a name; its id where nothing is left."""
    last = _NO_NAME.sub("", re.split(r"[/\\:]", kept.name)[-1]).strip(". ")[-120:]
    return last or str(kept.id)


def _check_size(name: str, size: int) -> None:
    if size > LARGEST_BYTES:
        raise BadInput("keep.too_large", file=name, size_mb=size / 1e6, largest_mb=LARGEST_BYTES / 1e6)
