"""Instruments: a description file gives the bytes of a link their meaning."""

from waywright.instruments.batches import Flaw, Happening, SampleBatch, Source
from waywright.instruments.decoding import Decoded, Decoder
from waywright.instruments.delays import Delay, estimate_delay
from waywright.instruments.description import Channel, Description
from waywright.instruments.link_records import SerialLink, TcpLink
from waywright.instruments.reading_file import Instrument, description_schema, parse_instrument, read_instrument
from waywright.instruments.receive import InstrumentSource, Tally

__all__ = [
    "Channel",
    "Decoded",
    "Decoder",
    "Delay",
    "Description",
    "Flaw",
    "Happening",
    "Instrument",
    "InstrumentSource",
    "SampleBatch",
    "SerialLink",
    "Source",
    "Tally",
    "TcpLink",
    "description_schema",
    "estimate_delay",
    "parse_instrument",
    "read_instrument",
]
