"""The tables of the book as they are in the newest version; `migrations/` leads there from every older one.

Readings, runs, moves, events, answers, marks, stated chances and what came of them are only added to (`guards.py`).
`arrived` is the order in which rows came in, and `chain` the first row of a line of corrections: of each chain the
row that came in last is the one that stands.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
    text,
)

from trued.store.column_types import UtcTime, Words

NAMES = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}
metadata = MetaData(naming_convention=NAMES)


def _id() -> Column[str]:
    return Column("id", String(32), primary_key=True)


def _to(name: str, table: str, *, needed: bool = True) -> Column[str]:
    return Column(name, String(32), ForeignKey(f"{table}.id"), nullable=not needed)


def _word(name: str) -> Column[str]:
    return Column(name, Text, nullable=False)


def _time(name: str, *, needed: bool = True) -> Column[object]:
    return Column(name, UtcTime, nullable=not needed)


def _own_id() -> Column[str]:
    """The id that the person gave it: sled, caliper-1."""
    return Column("id", Text, primary_key=True)


def _number(name: str, *, needed: bool = True) -> Column[float]:
    return Column(name, Float, nullable=not needed)


def _yes(name: str) -> Column[bool]:
    return Column(name, Boolean, nullable=False)


def _arrived() -> Column[int]:
    return Column("arrived", Integer, nullable=False, unique=True)


def _corrects(table: str) -> tuple[Column[str], Column[bool], Column[str], Column[int], CheckConstraint]:
    return (
        _to("supersedes", table, needed=False),
        _yes("withdrawn"),
        Column("chain", String(32), nullable=False),
        _arrived(),
        CheckConstraint("supersedes <> id", name="not_itself"),
    )


def _size(name: str) -> tuple[Column[str], Column[int], Column[int]]:
    return (
        _word(f"{name}_typed"),
        Column(f"{name}_num", BigInteger, nullable=False),
        Column(f"{name}_den", BigInteger, nullable=False),
    )


# --- the shop: what is, as far as the person has told; the only rows that may change

book = Table(
    "book",
    metadata,
    _id(),
    _word("name"),
    _word("unit"),
    _time("made"),
    Column("counted_apart", Integer, nullable=False),
)
"""Up to `counted_apart` the `arrived` of run, move and event was counted in each table for itself; above it all four
kinds of row, answers too, are counted together, so that they tell which came first."""

saw = Table("saw", metadata, _own_id(), Column("facts", Words, nullable=False), _yes("current"))
blade = Table("blade", metadata, _own_id(), Column("facts", Words, nullable=False), _yes("current"))
fixture = Table(
    "fixture",
    metadata,
    _own_id(),
    _word("kind"),
    Column("facts", Words, nullable=False),
    _yes("retired"),
    Column("place", Integer, nullable=False),
)
instrument = Table(
    "instrument",
    metadata,
    _own_id(),
    _word("kind"),
    _number("resolution"),
    _number("limit_of_error"),
    _number("repeat"),
    _number("repeat_dof"),
    Column("repeat_seen", Integer, nullable=False),
    Column("repeat_pairs", Integer, nullable=False),
    _number("range_mm", needed=False),
    _yes("digital"),
    _word("source"),
    Column("place", Integer, nullable=False),
)
device = Table(
    "device", metadata, _id(), _word("name"), _word("role"), _word("key_sha"), _time("revoked", needed=False)
)

# --- what was measured, turned, and happened: only ever added to

run = Table(
    "run",
    metadata,
    _id(),
    _word("check"),
    Column("check_version", Integer, nullable=False),
    _word("fixture"),
    _word("unit"),
    Column("facts", Words, nullable=False),
    _time("started"),
    _time("taken"),
    _to("device", "device", needed=False),
    *_corrects("run"),
    Index(None, "taken", "id"),
    Index(None, "chain", "arrived"),
)
reading = Table(
    "reading",
    metadata,
    _id(),
    _to("run", "run"),
    Column("seq", Integer, nullable=False),
    _word("name"),
    _word("station"),
    _word("typed"),
    _word("unit"),
    Column("mm_num", BigInteger),
    Column("mm_den", BigInteger),
    _word("instrument"),
    _time("taken"),
    _time("received"),
    _to("supersedes", "reading", needed=False),
    _arrived(),
    CheckConstraint("supersedes <> id", name="not_itself"),
    CheckConstraint("(mm_num IS NULL) = (mm_den IS NULL)", name="whole_ratio"),
    CheckConstraint("mm_den > 0", name="above_nought"),
    Index("ix_reading_run_seq_arrived", "run", "seq", "arrived"),
    Index("uq_reading_first", "run", "seq", unique=True, sqlite_where=text("supersedes IS NULL")),
)
move = Table(
    "move",
    metadata,
    _id(),
    _word("feature"),
    _time("at"),
    _word("typed"),
    _number("amount"),
    _word("unit"),
    _word("direction"),
    _to("device", "device", needed=False),
    *_corrects("move"),
    CheckConstraint("unit IN ('rad', 'mm')", name="unit"),
    Index(None, "at", "id"),
    Index(None, "chain", "arrived"),
)
event = Table(
    "event",
    metadata,
    _id(),
    _word("kind"),
    _word("subject"),
    _time("at"),
    _to("device", "device", needed=False),
    *_corrects("event"),
    Index(None, "at", "id"),
    Index(None, "chain", "arrived"),
)

answer = Table(
    "answer",
    metadata,
    _id(),
    _word("about"),
    _word("code"),
    _word("word"),
    _time("at"),
    _to("device", "device", needed=False),
    *_corrects("answer"),
    Index(None, "at", "id"),
    Index(None, "chain", "arrived"),
)

# --- jobs: their text, their plans, what was told of them and what came

job = Table("job", metadata, _id(), _word("name"), _word("text"), _word("sha"), _time("made"), UniqueConstraint("sha"))
plan = Table(
    "plan",
    metadata,
    _id(),
    _to("job", "job"),
    _word("version"),
    Column("seed", BigInteger, nullable=False),
    _word("json"),
    _time("made"),
    _time("frozen", needed=False),
    Index(None, "job", "made"),
)
mark = Table(
    "mark",
    metadata,
    _id(),
    _to("plan", "plan"),
    _word("ticket"),
    _word("what"),
    Column("reason", Text),
    _number("size_mm", needed=False),
    _time("at"),
    _to("device", "device", needed=False),
    _arrived(),
    CheckConstraint("what IN ('done', 'undone', 'skipped', 'wrong')", name="what"),
    CheckConstraint("(what = 'skipped') = (reason IS NOT NULL)", name="reason"),
    CheckConstraint("size_mm IS NULL OR (what = 'wrong' AND size_mm > 0)", name="size"),
    Index(None, "plan", "arrived"),
)
stated = Table(
    "stated",
    metadata,
    _id(),
    _to("plan", "plan"),
    _word("fit"),
    _number("chance"),
    _time("at"),
    CheckConstraint("chance BETWEEN 0 AND 1", name="chance"),
    Index(None, "plan", "fit"),
)
came = Table(
    "came",
    metadata,
    _id(),
    _to("stated", "stated"),
    _to("run", "run"),
    _yes("fitted"),
    _time("at"),
    _arrived(),
    Index(None, "stated", "arrived"),
)

# --- stock

stock = Table(
    "stock",
    metadata,
    _id(),
    _word("material"),
    *_size("length"),
    *_size("width"),
    *_size("thickness"),
    _word("origin"),
)
stock_change = Table(
    "stock_change",
    metadata,
    _id(),
    _to("stock", "stock"),
    _word("what"),
    Column("by", Integer, nullable=False),
    _time("at"),
    CheckConstraint('"by" <> 0', name="some"),
    Index(None, "stock", "at"),
)

# --- kept for speed alone; may be emptied at any time

filter_cache = Table(
    "filter_cache",
    metadata,
    Column("feature", Text, primary_key=True),
    Column("upto", UtcTime, primary_key=True),
    Column("upto_id", String(32), primary_key=True),
    _word("json"),
)
