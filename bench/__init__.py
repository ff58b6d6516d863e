"""Speed against well-known libraries, both sides measured in one run on the same data."""
