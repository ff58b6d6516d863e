"""Which support to turn, which way, how far; and what was learnt from it."""
