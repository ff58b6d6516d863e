"""The archive: machines, visits and readings in one SQLite file, kept for good.

``open_archive(path, create=True)`` gives an :class:`Archive`, which is the sink that capture announces readings to.
Readings are append-only, committed one by one (write-ahead log, ``synchronous=FULL``) and chained by hashes. What is
committed survives the death of the process at any moment; that it survives a loss of power rests on the disk honouring
the flush.
"""

from waywright.archive.checking import CheckProgress, CheckUp, Finding
from waywright.archive.conflicts import Conflict
from waywright.archive.counting import Page, PassCount
from waywright.archive.merging import Fork, Merged, Progress
from waywright.archive.opening import default_path, open_archive
from waywright.archive.revisions import Revision
from waywright.archive.server import is_address, shown
from waywright.archive.store import Archive

__all__ = [
    "Archive",
    "CheckProgress",
    "CheckUp",
    "Conflict",
    "Finding",
    "Fork",
    "Merged",
    "Page",
    "PassCount",
    "Progress",
    "Revision",
    "default_path",
    "is_address",
    "open_archive",
    "shown",
]
