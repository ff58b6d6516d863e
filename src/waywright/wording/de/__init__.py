"""German, in the words of EN and DIN ISO standards where they have one."""
