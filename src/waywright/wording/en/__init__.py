"""English, the complete language."""
