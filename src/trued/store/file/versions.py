"""Which versions of the book there are, and how a file tells which one it is."""

from __future__ import annotations

from pathlib import Path

MIGRATIONS = Path(__file__).parents[1] / "migrations"

REVISIONS = ("0001", "0002", "0003")
"""Every revision in order; the book's version is the place of its revision, counted from 1."""

MARK = 0x74727564
"""Application id in the head of the file: "trud"."""

ASK_REVISION = "SELECT version_num FROM alembic_version"
"""The migrations note there which revision they led to."""
