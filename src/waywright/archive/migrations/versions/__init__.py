"""One file a format. They are frozen once released: nothing here follows later changes of the tables.

A migration that makes a table anew (batch mode on SQLite) makes its append-only triggers anew too.
"""
