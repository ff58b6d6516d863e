"""Waywright: take, judge, correct, prove the geometry of machine tools."""
