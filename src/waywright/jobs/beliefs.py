"""What was learnt of a machine's bed, kept with the machine and used again at a later visit."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.correct import Belief, bed_model
from waywright.correct.notes import Note
from waywright.correct.reuse import reused
from waywright.machine import Machine
from waywright.visit.adjustment import BedBelief

DAY_S = 86_400.0


def keep_belief(
    archive: Archive, machine: UUID, belief: Belief, clock: Clock, round_id: UUID | None = None
) -> BedBelief:
    """Keep a belief with a machine; earlier ones stay."""
    now = clock.utc()
    kept = BedBelief(
        id=new_id(now),
        machine_id=machine,
        supports=belief.supports,
        mean=belief.mean,
        covariance=belief.covariance,
        rounds=belief.rounds,
        made_utc=now,
        placed=belief.placed,
        round_id=round_id,
    )
    archive.save(kept)
    return kept


def last_belief(archive: Archive, machine: UUID, sideways: bool = False) -> BedBelief | None:
    """The belief that was learnt last from turning, or None."""
    every = archive.every(BedBelief, machine)
    found = [each for each in every if each.sideways == sideways and each.rounds > 0]
    return max(found, key=lambda each: (each.made_utc, each.id), default=None)


def belief_again(archive: Archive, machine: Machine, now: datetime) -> tuple[Belief | None, tuple[Note, ...]]:
    """What earlier visits told of this machine's bed, with the caution to be said; nothing where nothing was kept."""
    kept = last_belief(archive, machine.id)
    if kept is None or machine.bed is None:
        return None, ()
    age_days = max((now - kept.made_utc).total_seconds() / DAY_S, 0.0)
    belief, caution = reused(as_believed(kept), bed_model(machine.bed), age_days)
    return belief, (caution,)


def as_believed(kept: BedBelief) -> Belief:
    """The belief of a record, as it was when it was kept."""
    return Belief(kept.supports, kept.mean, kept.covariance, kept.placed, kept.rounds)
