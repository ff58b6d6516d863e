"""What stays true of a machine between visits: axes, bed, supports, marks."""

from waywright.machine.records import Bed, Machine, Mark, Support, Travel

__all__ = ["Bed", "Machine", "Mark", "Support", "Travel"]
