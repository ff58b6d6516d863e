"""Files that people exchange: readings tables."""

from waywright.files.readings_table import ReadingsTable, read_table, write_table

__all__ = ["ReadingsTable", "read_table", "write_table"]
