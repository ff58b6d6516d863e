"""What stays true of a machine between visits: axes, bed, supports, marks."""

from waywright.machine.checks import checked_bed
from waywright.machine.records import Bed, Carriage, Joint, Machine, Mark, Support, Travel

__all__ = ["Bed", "Carriage", "Joint", "Machine", "Mark", "Support", "Travel", "checked_bed"]
