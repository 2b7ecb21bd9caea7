"""A detent is a feature of its own: what is found of one angle says nothing of another (an invented sled)."""

import math
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.errors import InputRefused
from trued.measure.decision import Conformity
from trued.standing.feature_status import FeatureStatus
from trued.usecases.changes.record_event import record_event
from trued.usecases.changes.record_move import record_move
from trued.usecases.runs.run_check import run_check
from trued.usecases.runs.taking import CheckRun
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import shop_now
from trued.usecases.standing.standing import what_stands

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
NOW = datetime.now(UTC) - timedelta(days=1)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    return path


def ring(book: Path, pieces: int, gap: str, minute: int, **facts: str) -> CheckRun:
    where = "none" if gap == "0" else "inside"
    typed = [*["piece=7.5"] * pieces, "width=2", f"where={where}", f"gap={gap}", "swung=closed"]
    return run_check("detent-angle", typed, facts, book=book, at=NOW + timedelta(minutes=minute), answers=("anew",))


def standing(book: Path, feature: str) -> FeatureStatus:
    return next(s for s in shop_now(book).standings() if s.feature == feature)


def test_a_bad_45_is_never_healed_by_a_good_22_5(book: Path) -> None:
    for n in range(3):
        run = ring(book, 4, "0.0197", 30 * n, angle="45")
    assert run.full == {"detent-angle": "sled.detent-angle@45closed"}
    for n in range(3, 6):
        ring(book, 8, "0", 30 * n, angle="22.5")
    bad, good = standing(book, "sled.detent-angle@45closed"), standing(book, "sled.detent-angle@22.5closed")
    # 0.0197 in over a joint of 2 / cos 45° is 0.4° in eight cuts: 0.05° each, worked by hand.
    assert math.degrees(bad.x.value) == pytest.approx(0.05, abs=0.004)
    assert bad.decision is Conformity.PROVEN_OUT and bad.runs == 3
    assert good.decision is not Conformity.PROVEN_OUT and good.runs == 3
    lines = {line.standing.feature for line in what_stands(book).do_first}
    assert "sled.detent-angle@45closed" in lines


def test_parts_cut_at_45_never_teach_the_scale_of_the_square_cut(book: Path) -> None:
    typed = ["measured@4=4.25", "measured@5=5.25", "measured@6=6.25"]
    run_check("stop-scale", typed, {"angle": "45", "swing": "closed"}, book=book, at=NOW)
    features = {s.feature for s in shop_now(book).standings()}
    assert "sled.stop-offset@45closed" in features and "sled.stop-offset@0" not in features
    assert "sled.stop-offset@0" in shop_now(book).holds().assumed


@pytest.mark.parametrize("check", ["stop-scale", "sight-line", "detent-repeat", "detent-angle"])
def test_the_angle_is_said_by_choice_and_never_by_silence(book: Path, check: str) -> None:
    from trued.usecases.shop.list_checks import one_check

    given = one_check(check).example.given
    for where in (book, None):
        with pytest.raises(InputRefused, match="--angle"):
            run_check(check, given, {}, book=where, answers=("anew",))
    if check != "detent-angle":  # which reads the side itself
        with pytest.raises(InputRefused, match="--swing open or --swing closed"):
            run_check(check, given, {"angle": "45"}, book=book, answers=("anew",))
    assert shop_now(book).standings() == ()


def test_a_ring_of_another_number_of_pieces_is_another_detent(book: Path) -> None:
    with pytest.raises(InputRefused, match="4 pieces close at 45°"):
        ring(book, 4, "0.0197", 0, angle="22.5")
    with pytest.raises(InputRefused, match="two sides"):
        ring(book, 4, "0.0197", 0, angle="45", swing="open")


def test_a_detent_that_the_sled_has_not_is_asked_about_and_not_set(book: Path, tmp_path: Path) -> None:
    """One word wrong for the side ordered a detent to be closed that the shop's file does not name."""
    file = tmp_path / "more.toml"
    named = 'detents = { open = ["22.5", "45"], closed = ["45"] }'
    file.write_text(f'[[fixture]]\nid = "sled"\nkind = "crosscut-sled"\n{named}\n', encoding="utf-8")
    describe_shop(file, book)
    with pytest.raises(InputRefused, match=r"no detent at 22.5° closed, but 22.5° open, 45° open, 45° closed"):
        ring(book, 8, "0.0100", 0, angle="22.5")
    ring(book, 4, "0.0197", 0, angle="45")


def test_a_wing_has_no_fence(book: Path) -> None:
    with pytest.raises(InputRefused, match=r"outfeed is a wing\. Name the sled or gauge: sled"):
        run_check("five-cut", ["fence_end=1.0120", "free_end=1.0500", "length=15"], {}, book=book, fixture="outfeed")


def test_a_move_names_its_detent_and_touches_no_other(book: Path) -> None:
    for n in range(2):
        ring(book, 4, "0.0197", 30 * n, angle="45")
        ring(book, 8, "0.0100", 30 * n + 10, angle="22.5")
    before = standing(book, "sled.detent-angle@22.5closed")
    with pytest.raises(InputRefused, match=r"detent-angle@45open or sled\.detent-angle@45closed"):
        record_move("detent-angle@45", "open", "0.05deg", book)
    with pytest.raises(InputRefused, match="square cut"):
        record_move("fence-angle@45", "open", "0.05deg", book)
    kept = record_move("detent-angle@45closed", "open", "0.05deg", book, at=NOW + timedelta(hours=2))
    assert kept.feature == "sled.detent-angle@45closed"
    assert standing(book, "sled.detent-angle@22.5closed").x.value == pytest.approx(before.x.value)
    assert abs(standing(book, "sled.detent-angle@45closed").x.value) < math.radians(0.02)


def test_events_and_the_screw_of_the_fence_reach_the_detents(book: Path) -> None:
    ring(book, 4, "0", 0, angle="45")
    feature = "sled.detent-angle@45closed"
    assert standing(book, feature).stale == ()
    record_move("fence-angle", "open", "0.0050", book, at=NOW + timedelta(hours=1))
    turned = standing(book, feature)
    assert turned.stale and turned.decision is not Conformity.PROVEN_IN
    ring(book, 4, "0", 90, angle="45")
    assert standing(book, feature).stale == ()
    record_event("facing-renewed", "sled", book, at=NOW + timedelta(hours=3))
    assert standing(book, feature).stale


def test_a_screw_that_moves_the_zero_stop_alone_leaves_the_detents(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "more.toml"
    file.write_text('[[fixture]]\nid = "sled"\nkind = "crosscut-sled"\nscrew_moves = "zero-stop"\n', encoding="utf-8")
    describe_shop(file, book)
    ring(book, 4, "0", 0, angle="45")
    run_check("five-cut", ["fence_end=1.0120", "free_end=1.0500", "length=15"], {}, book=book, at=NOW)
    record_move("fence-angle", "open", "0.0050", book, at=NOW + timedelta(hours=1))
    assert standing(book, "sled.detent-angle@45closed").stale == ()
    record_event("screw-touched", "sled", book, at=NOW + timedelta(hours=2))
    assert standing(book, "sled.detent-angle@45closed").stale == ()
    assert standing(book, "sled.fence-angle@0").stale
    record_event("bar-adjusted", "sled", book, at=NOW + timedelta(hours=3))
    assert standing(book, "sled.detent-angle@45closed").stale


def test_the_page_asks_for_the_angle_first_and_only_once_for_the_side(book: Path) -> None:
    from trued.usecases.runs.check_form import check_form

    assert [fact.name for fact in check_form("stop-scale", book).asked][:2] == ["angle", "swing"]
    assert "swing" not in [fact.name for fact in check_form("detent-angle", book).asked]
