"""A kept plan says what has happened since that touches what its open cuts rest on, and nothing else."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.errors import InputRefused
from trued.usecases.changes.record_event import record_event
from trued.usecases.changes.record_move import record_move
from trued.usecases.plan.plan_job import plan_job
from trued.usecases.runs.run_check import run_check
from trued.usecases.saved.mark_ticket import mark_ticket
from trued.usecases.saved.saved_plan import kept_plan
from trued.usecases.shop.describe_shop import describe_shop

ROOT = Path(__file__).parents[2]
NOW = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)
LATER = NOW + timedelta(hours=1)
AGAIN = "Plan again before you cut."
PINCHING = (
    *("slot=beyond-blade", "dial=shrinks", "length=20", "blade_operator=0.050", "blade_far=0.054", "blade_span=7"),
    *("operator_end=0.010", "middle=0.0115", "far_end=0.013", "operator_end=0.011", "middle=0.0125", "far_end=0.014"),
    *("operator_end=0.010", "middle=0.0115", "far_end=0.013"),
)


@pytest.fixture
def planned(tmp_path: Path) -> tuple[str, Path]:
    """The rack, planned in a book of the example shop."""
    book = tmp_path / "shop.trued"
    describe_shop(ROOT / "examples" / "shop.toml", book)
    text = (ROOT / "examples" / "rack.toml").read_text(encoding="utf-8")
    return plan_job(text, book=book, effort=200, at=NOW).kept, book


def since(planned: tuple[str, Path]) -> str:
    return kept_plan(*planned).since


def test_what_happened_before_or_touches_nothing_of_the_plan_is_not_told(planned: tuple[str, Path]) -> None:
    _, book = planned
    assert since(planned) == ""
    record_event("blade-thinner", "", book, at=NOW - timedelta(hours=1))
    record_event("wing-touched", "", book, at=LATER)
    record_event("caliper-dropped", "", book, at=LATER)
    run_check("stop-repeat", ["set=7", "part=7", "part=7", "part=7.0005"], {}, book=book, at=LATER)
    assert since(planned) == ""


def test_events_and_moves_are_told_once_each(planned: tuple[str, Path]) -> None:
    _, book = planned
    for hours in (1, 2):
        record_event("saw-carried", "", book, at=NOW + timedelta(hours=hours))
    record_move("fence-angle", "open", "0.004", book, at=NOW + timedelta(hours=3))
    carried = "saw moved, dropped or re-clamped"
    assert since(planned) == f"Since this was planned: {carried}; fence angle (sled) was turned. {AGAIN}"


def test_a_scale_found_anew_is_told_where_a_setting_would_be_another(planned: tuple[str, Path]) -> None:
    """The stop reads 1/16 in short at every length: far beyond half of its divisions of 1/64 in."""
    _, book = planned
    typed = [f"measured@{at}:caliper-1={at + 0.0625}" for at in (2, 4, 6)]
    run_check("stop-scale", typed, {"angle": "0"}, book=book, at=LATER)
    told = since(planned)
    assert "the stop scale was measured again, the planned sizes would come out 0.0" in told and "in over" in told
    assert told.endswith(AGAIN)


def test_a_kerf_found_other_than_planned_is_told_with_its_size(planned: tuple[str, Path]) -> None:
    _, book = planned
    run_check("kerf", ["whole=5", "keeper_piece=2.4", "offcut_piece=2.490"], {}, book=book, at=LATER)
    assert "the kerf was found to be 0.1" in since(planned)


def test_a_fence_found_out_is_told_while_a_rip_is_open(planned: tuple[str, Path]) -> None:
    id, book = planned
    run_check("rip-fence", PINCHING, {}, book=book, at=LATER)
    run_check("rip-fence", PINCHING, {}, book=book, at=LATER + timedelta(minutes=20))
    assert "rip-fence-to-blade angle (saw) is out of tolerance" in since(planned)
    rips = [ticket for ticket in kept_plan(id, book).tickets if ticket.cut.station == "rip fence"]
    assert rips and all(ticket.closed and not ticket.said for ticket in rips)
    with pytest.raises(InputRefused, match="not made as things are"):
        mark_ticket(id, rips[0].id, book, what="done")


def test_a_fence_found_out_is_not_told_once_the_rips_are_done(planned: tuple[str, Path]) -> None:
    id, book = planned
    cut(planned, but="sled")
    for minutes in (0, 20):
        run_check("rip-fence", PINCHING, {}, book=book, at=LATER + timedelta(minutes=minutes))
    assert "rip-fence-to-blade" not in since(planned)
    assert not any(ticket.closed for ticket in kept_plan(id, book).tickets if ticket.done)


def cut(planned: tuple[str, Path], but: str = "") -> None:
    """Mark every cut done, each after those before it; then take back those of one station."""
    id, book = planned
    for ticket in kept_plan(id, book).tickets:
        mark_ticket(id, ticket.id, book, what="done")
    for ticket in kept_plan(id, book).tickets:
        if ticket.cut.station == but:
            mark_ticket(id, ticket.id, book, what="undone")


def test_nothing_is_told_of_a_plan_that_is_cut(planned: tuple[str, Path]) -> None:
    cut(planned)
    record_event("blade-thinner", "", planned[1], at=LATER)
    assert since(planned) == ""
