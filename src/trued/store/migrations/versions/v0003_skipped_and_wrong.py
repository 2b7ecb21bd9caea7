"""A ticket may be skipped for a reason, or cut wrong and measured.

A released step is never changed, so it says everything itself and imports nothing of ours.
"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

CHECKS = {
    "what": "what IN ('done', 'undone', 'skipped', 'wrong')",
    "reason": "(what = 'skipped') = (reason IS NOT NULL)",
    "size": "size_mm IS NULL OR (what = 'wrong' AND size_mm > 0)",
}


def upgrade() -> None:
    """The table of marks made anew: SQLite can change no constraint, and what is made anew has lost its guards."""
    with op.batch_alter_table("mark", recreate="always") as mark:
        mark.add_column(sa.Column("reason", sa.Text(), nullable=True), insert_after="what")
        mark.add_column(sa.Column("size_mm", sa.Float(), nullable=True), insert_after="reason")
        mark.drop_constraint(op.f("ck_mark_what"), type_="check")
        for name, holds in CHECKS.items():
            mark.create_check_constraint(op.f(f"ck_mark_{name}"), sa.text(holds))
    _refuse("mark_is_kept", "UPDATE ON mark", "a row of mark is never changed")
    _refuse("mark_stays", "DELETE ON mark", "a row of mark is never deleted")


def _refuse(name: str, when: str, why: str) -> None:
    op.execute(f"CREATE TRIGGER {name} BEFORE {when} BEGIN SELECT RAISE(ABORT, '{why}'); END")
