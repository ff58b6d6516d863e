"""What was read: samples of a window, the reading made of them, the stream of a whole pass, and its seal."""

from waywright.readings.canonical import canonical_bytes, read_canonical, seal, sealed_hash
from waywright.readings.records import ChannelValue, Floats, Reading, Trace, standing
from waywright.readings.stream import StreamBlock, packed, unpacked

__all__ = [
    "ChannelValue",
    "Floats",
    "Reading",
    "StreamBlock",
    "Trace",
    "canonical_bytes",
    "packed",
    "read_canonical",
    "seal",
    "sealed_hash",
    "standing",
    "unpacked",
]
