"""Migrations of the archive, run by Alembic from :mod:`waywright.archive.format`."""
