"""The first book.

A released step is never changed, so it says everything itself and imports nothing of ours.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Every table and guard of version 1."""
    _shop()
    _measured()
    _jobs()
    _stock()
    _guards()


def _shop() -> None:
    op.create_table(
        "book",
        _id("id"),
        _text("name"),
        _text("unit"),
        _time("made"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_book")),
    )
    op.create_table(
        "saw", _text("id"), _text("facts"), _yes("current"), sa.PrimaryKeyConstraint("id", name=op.f("pk_saw"))
    )
    op.create_table(
        "blade", _text("id"), _text("facts"), _yes("current"), sa.PrimaryKeyConstraint("id", name=op.f("pk_blade"))
    )
    op.create_table(
        "fixture",
        _text("id"),
        _text("kind"),
        _text("facts"),
        _yes("retired"),
        _whole("place"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_fixture")),
    )
    op.create_table(
        "instrument",
        _text("id"),
        _text("kind"),
        _number("resolution"),
        _number("limit_of_error"),
        _number("repeat"),
        _number("repeat_dof"),
        _whole("repeat_seen"),
        _whole("repeat_pairs"),
        _number("range_mm", nullable=True),
        _yes("digital"),
        _text("source"),
        _whole("place"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_instrument")),
    )
    op.create_table(
        "device",
        _id("id"),
        _text("name"),
        _text("role"),
        _text("key_sha"),
        _time("revoked", nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_device")),
    )
    op.create_table(
        "filter_cache",
        _text("feature"),
        _time("upto"),
        _id("upto_id"),
        _text("json"),
        sa.PrimaryKeyConstraint("feature", "upto", "upto_id", name=op.f("pk_filter_cache")),
    )


def _measured() -> None:
    op.create_table(
        "run",
        _id("id"),
        _text("check"),
        _whole("check_version"),
        _text("fixture"),
        _text("unit"),
        _text("facts"),
        _time("started"),
        _time("taken"),
        _id("device", nullable=True),
        _id("supersedes", nullable=True),
        _yes("withdrawn"),
        _id("chain"),
        _whole("arrived"),
        sa.CheckConstraint("supersedes <> id", name=op.f("ck_run_not_itself")),
        _points("fk_run_device_device", "device", "device"),
        _points("fk_run_supersedes_run", "supersedes", "run"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_run")),
        _once("uq_run_arrived", "arrived"),
    )
    op.create_index(op.f("ix_run_chain_arrived"), "run", ["chain", "arrived"])
    op.create_index(op.f("ix_run_taken_id"), "run", ["taken", "id"])
    op.create_table(
        "reading",
        _id("id"),
        _id("run"),
        _whole("seq"),
        _text("name"),
        _text("station"),
        _text("typed"),
        _text("unit"),
        _big("mm_num", nullable=True),
        _big("mm_den", nullable=True),
        _text("instrument"),
        _time("taken"),
        _time("received"),
        _id("supersedes", nullable=True),
        _whole("arrived"),
        sa.CheckConstraint("(mm_num IS NULL) = (mm_den IS NULL)", name=op.f("ck_reading_whole_ratio")),
        sa.CheckConstraint("mm_den > 0", name=op.f("ck_reading_above_nought")),
        sa.CheckConstraint("supersedes <> id", name=op.f("ck_reading_not_itself")),
        _points("fk_reading_run_run", "run", "run"),
        _points("fk_reading_supersedes_reading", "supersedes", "reading"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading")),
        _once("uq_reading_arrived", "arrived"),
    )
    op.create_index("ix_reading_run_seq_arrived", "reading", ["run", "seq", "arrived"])
    op.create_index(
        "uq_reading_first",
        "reading",
        ["run", "seq"],
        unique=True,
        sqlite_where=sa.text("supersedes IS NULL"),
    )
    op.create_table(
        "move",
        _id("id"),
        _text("feature"),
        _time("at"),
        _text("typed"),
        _number("amount"),
        _text("unit"),
        _text("direction"),
        _id("device", nullable=True),
        _id("supersedes", nullable=True),
        _yes("withdrawn"),
        _id("chain"),
        _whole("arrived"),
        sa.CheckConstraint("unit IN ('rad', 'mm')", name=op.f("ck_move_unit")),
        sa.CheckConstraint("supersedes <> id", name=op.f("ck_move_not_itself")),
        _points("fk_move_device_device", "device", "device"),
        _points("fk_move_supersedes_move", "supersedes", "move"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_move")),
        _once("uq_move_arrived", "arrived"),
    )
    op.create_index(op.f("ix_move_at_id"), "move", ["at", "id"])
    op.create_index(op.f("ix_move_chain_arrived"), "move", ["chain", "arrived"])
    op.create_table(
        "event",
        _id("id"),
        _text("kind"),
        _text("subject"),
        _time("at"),
        _id("device", nullable=True),
        _id("supersedes", nullable=True),
        _yes("withdrawn"),
        _id("chain"),
        _whole("arrived"),
        sa.CheckConstraint("supersedes <> id", name=op.f("ck_event_not_itself")),
        _points("fk_event_device_device", "device", "device"),
        _points("fk_event_supersedes_event", "supersedes", "event"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_event")),
        _once("uq_event_arrived", "arrived"),
    )
    op.create_index(op.f("ix_event_at_id"), "event", ["at", "id"])
    op.create_index(op.f("ix_event_chain_arrived"), "event", ["chain", "arrived"])


def _jobs() -> None:
    op.create_table(
        "job",
        _id("id"),
        _text("name"),
        _text("text"),
        _text("sha"),
        _time("made"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job")),
        _once("uq_job_sha", "sha"),
    )
    op.create_table(
        "plan",
        _id("id"),
        _id("job"),
        _text("version"),
        _big("seed"),
        _text("json"),
        _time("made"),
        _time("frozen", nullable=True),
        _points("fk_plan_job_job", "job", "job"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_plan")),
    )
    op.create_index(op.f("ix_plan_job_made"), "plan", ["job", "made"])
    op.create_table(
        "mark",
        _id("id"),
        _id("plan"),
        _text("ticket"),
        _text("what"),
        _time("at"),
        _id("device", nullable=True),
        _whole("arrived"),
        sa.CheckConstraint("what IN ('done', 'undone')", name=op.f("ck_mark_what")),
        _points("fk_mark_device_device", "device", "device"),
        _points("fk_mark_plan_plan", "plan", "plan"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_mark")),
        _once("uq_mark_arrived", "arrived"),
    )
    op.create_index(op.f("ix_mark_plan_arrived"), "mark", ["plan", "arrived"])
    op.create_table(
        "stated",
        _id("id"),
        _id("plan"),
        _text("fit"),
        _number("chance"),
        _time("at"),
        sa.CheckConstraint("chance BETWEEN 0 AND 1", name=op.f("ck_stated_chance")),
        _points("fk_stated_plan_plan", "plan", "plan"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stated")),
    )
    op.create_index(op.f("ix_stated_plan_fit"), "stated", ["plan", "fit"])
    op.create_table(
        "came",
        _id("id"),
        _id("stated"),
        _id("run"),
        _yes("fitted"),
        _time("at"),
        _whole("arrived"),
        _points("fk_came_run_run", "run", "run"),
        _points("fk_came_stated_stated", "stated", "stated"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_came")),
        _once("uq_came_arrived", "arrived"),
    )
    op.create_index(op.f("ix_came_stated_arrived"), "came", ["stated", "arrived"])


def _stock() -> None:
    op.create_table(
        "stock",
        _id("id"),
        _text("material"),
        _text("length_typed"),
        _big("length_num"),
        _big("length_den"),
        _text("width_typed"),
        _big("width_num"),
        _big("width_den"),
        _text("thickness_typed"),
        _big("thickness_num"),
        _big("thickness_den"),
        _text("origin"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock")),
    )
    op.create_table(
        "stock_change",
        _id("id"),
        _id("stock"),
        _text("what"),
        _whole("by"),
        _time("at"),
        sa.CheckConstraint('"by" <> 0', name=op.f("ck_stock_change_some")),
        _points("fk_stock_change_stock_stock", "stock", "stock"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_change")),
    )
    op.create_index(op.f("ix_stock_change_stock_at"), "stock_change", ["stock", "at"])


def _guards() -> None:
    added_to = ("run", "reading", "move", "event", "job", "mark", "stated", "came", "stock", "stock_change")
    for table in added_to:
        _refuse(f"{table}_is_kept", f"UPDATE ON {table}", f"a row of {table} is never changed")
    for table in (*added_to, "plan"):
        _refuse(f"{table}_stays", f"DELETE ON {table}", f"a row of {table} is never deleted")
    _refuse("plan_is_kept", "UPDATE OF id, job, version, seed, json, made ON plan", "a plan is never changed")
    _refuse("plan_is_frozen", "UPDATE OF frozen ON plan WHEN OLD.frozen IS NOT NULL", "a plan freezes once")


def _refuse(name: str, when: str, why: str) -> None:
    op.execute(f"CREATE TRIGGER {name} BEFORE {when} BEGIN SELECT RAISE(ABORT, '{why}'); END")


def _id(name: str, *, nullable: bool = False) -> "sa.Column[str]":
    return sa.Column(name, sa.String(32), nullable=nullable)


def _text(name: str, *, nullable: bool = False) -> "sa.Column[str]":
    return sa.Column(name, sa.Text(), nullable=nullable)


def _time(name: str, *, nullable: bool = False) -> "sa.Column[object]":
    return sa.Column(name, sa.DateTime(), nullable=nullable)


def _yes(name: str, *, nullable: bool = False) -> "sa.Column[bool]":
    return sa.Column(name, sa.Boolean(), nullable=nullable)


def _whole(name: str, *, nullable: bool = False) -> "sa.Column[int]":
    return sa.Column(name, sa.Integer(), nullable=nullable)


def _big(name: str, *, nullable: bool = False) -> "sa.Column[int]":
    return sa.Column(name, sa.BigInteger(), nullable=nullable)


def _number(name: str, *, nullable: bool = False) -> "sa.Column[float]":
    return sa.Column(name, sa.Float(), nullable=nullable)


def _points(name: str, column: str, table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{table}.id"], name=op.f(name))


def _once(name: str, column: str) -> sa.UniqueConstraint:
    return sa.UniqueConstraint(column, name=op.f(name))
