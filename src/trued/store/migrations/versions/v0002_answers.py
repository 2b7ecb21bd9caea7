"""Answers to questions; arrivals counted together from here on.

A released step is never changed, so it says everything itself and imports nothing of ours.
"""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """The table of answers with its guards, and from which arrival on the kinds of row are counted together."""
    op.create_table(
        "answer",
        sa.Column("id", sa.String(32), nullable=False),
        sa.Column("about", sa.Text(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("word", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("device", sa.String(32), nullable=True),
        sa.Column("supersedes", sa.String(32), nullable=True),
        sa.Column("withdrawn", sa.Boolean(), nullable=False),
        sa.Column("chain", sa.String(32), nullable=False),
        sa.Column("arrived", sa.Integer(), nullable=False),
        sa.CheckConstraint("supersedes <> id", name=op.f("ck_answer_not_itself")),
        sa.ForeignKeyConstraint(["device"], ["device.id"], name=op.f("fk_answer_device_device")),
        sa.ForeignKeyConstraint(["supersedes"], ["answer.id"], name=op.f("fk_answer_supersedes_answer")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_answer")),
        sa.UniqueConstraint("arrived", name=op.f("uq_answer_arrived")),
    )
    op.create_index(op.f("ix_answer_at_id"), "answer", ["at", "id"])
    op.create_index(op.f("ix_answer_chain_arrived"), "answer", ["chain", "arrived"])
    _refuse("answer_is_kept", "UPDATE ON answer", "a row of answer is never changed")
    _refuse("answer_stays", "DELETE ON answer", "a row of answer is never deleted")
    with op.batch_alter_table("book", recreate="always") as book:
        book.add_column(sa.Column("counted_apart", sa.Integer(), nullable=True))
    op.execute(
        "UPDATE book SET counted_apart = (SELECT coalesce(max(arrived), 0) FROM"
        " (SELECT arrived FROM run UNION ALL SELECT arrived FROM move UNION ALL SELECT arrived FROM event))"
    )
    with op.batch_alter_table("book", recreate="always") as book:
        book.alter_column("counted_apart", nullable=False)


def _refuse(name: str, when: str, why: str) -> None:
    op.execute(f"CREATE TRIGGER {name} BEFORE {when} BEGIN SELECT RAISE(ABORT, '{why}'); END")
