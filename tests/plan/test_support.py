"""The four moments of a sled cut, against sums worked by hand in inches."""

from dataclasses import replace
from random import Random

import pytest
from tests.plan.sled_s import INCH, MAPLE, POUND, SHELF, SLED, TABLE, board, cut
from tests.plan.test_support_tipping import drawn

from trued.errors import InputRefused
from trued.plan.support.stages import RESERVE_MM, moments, problems, worst_between
from trued.plan.support.support import (
    CAUTIONS,
    NOT_CHECKED,
    Extension,
    Ground,
    Side,
    Stage,
    StageLoad,
    SupportFault,
    support_of,
)

WING = Extension(Side.KEEPER, 12 * INCH, load_tested=True)


def stage(finding_moments: tuple[StageLoad, ...], wanted: Stage) -> StageLoad:
    return next(moment for moment in finding_moments if moment.stage is wanted)


def inches(mm: float) -> str:
    return f"{mm / INCH:.2f} in"


def test_maple_board_tips_at_once_on_the_table_alone() -> None:
    """By hand: 48 × 5.5 × 0.75 at 44 lb/ft³ = 5.04 lb at 16; (9·9 + 5.04·16)/14.04 = 11.51 > 11.0; after: 12.50."""
    finding = support_of(cut(MAPLE))
    before, after = stage(finding.moments, Stage.BEFORE), stage(finding.moments, Stage.AFTER)
    assert before.mass_kg / POUND == pytest.approx(14.04, abs=0.005)
    assert before.centre[0] / INCH == pytest.approx(11.51, abs=0.005)
    assert after.centre[0] / INCH == pytest.approx(12.50, abs=0.005)
    assert all(moment.margin_mm < 0 and moment.nearest_side is Side.KEEPER for moment in finding.moments)
    assert finding.tips and not finding.nothing_found and after.press.newton == 0


def test_maple_board_with_the_wing() -> None:
    """Edge of the wing at 23: 23 − 12.50 = 10.5 in of margin; but the sled's base ends at 20, so it tips there: 7.5."""
    finding = support_of(cut(MAPLE, extensions=(WING,), clamped=True, tail_held=True))
    after = stage(finding.moments, Stage.AFTER)
    assert after.to_ground.keeper_mm / INCH == pytest.approx(10.5, abs=0.005)
    assert after.contact.keeper_mm / INCH == pytest.approx(7.5, abs=0.005)
    assert finding.nothing_found and finding.mends == () and finding.worst.margin_mm > RESERVE_MM


def test_the_board_itself_would_tip_off_the_sled() -> None:
    """By hand: the 40 in keeper's centre is at 20, right over the end of the 20 in base: it must be clamped."""
    finding = support_of(cut(MAPLE, extensions=(WING,), tail_held=True))
    (problem,) = finding.problems
    assert problem.trouble is SupportFault.PIECE_TIPS and problem.amount_mm == pytest.approx(0, abs=1e-9)


def test_deep_panel_at_the_start_wants_a_support_on_the_operators_side() -> None:
    """Half an inch clear of the blade: centre of mass 11.1 in to the operator's side of the arbor, table 11.5: only
    0.4 in, also with the wing. By hand: far edge at 4.099 + 0.5, (9·5 + 7.96·8.15)/16.96 = 6.48 from there.
    """
    panel = board(30, 16.3, 0.703, 40, keeper=30)
    finding = support_of(cut(panel, extensions=(WING,), clamped=True, clear_mm=0.5 * INCH))
    start = stage(finding.moments, Stage.START)
    assert start.centre[1] / INCH == pytest.approx(11.1, abs=0.05)
    assert start.margin_mm / INCH == pytest.approx(0.4, abs=0.05)
    assert start.nearest_side is Side.OPERATOR
    assert [problem.trouble for problem in finding.problems] == [SupportFault.CLOSE]
    assert finding.mends is not None
    ((extension,),) = [[mend.extension for mend in finding.mends]]
    assert extension is not None and extension.side is Side.OPERATOR
    assert extension.reach_mm / INCH == pytest.approx(2 - 0.4, abs=0.05)
    touching = support_of(cut(panel, extensions=(WING,), clamped=True))
    assert not touching.nothing_found and touching.moments[0].margin_mm / INCH == pytest.approx(0.9, abs=0.05)


def test_a_short_shelf_shows_no_problem() -> None:
    finding = support_of(cut(SHELF))
    assert finding.nothing_found and finding.worst.margin_mm >= RESERVE_MM


def test_places_along_the_travel() -> None:
    """By hand: arbor 1.9 under the table; blade half-length at 0.5 up √(4.75² − 2.4²) = 4.099, at 1.25 up
    √(4.75² − 3.15²) = 3.555. Start: piece's far edge there. Separation: its operator's edge at 3.555, far edge at
    −1.945."""
    start, mid, before, after = moments(cut(MAPLE))
    sled_y, piece_y = 5, 2.75  # centres from the fence's face
    for moment, far_edge in ((start, 4.099), (mid, (4.099 - 1.945) / 2), (before, -1.945)):
        by_hand = far_edge + (9 * sled_y + 5.042 * piece_y) / 14.042
        assert moment.centre[1] / INCH == pytest.approx(by_hand, abs=0.002)
    assert after.stage is Stage.AFTER and after.mass_kg < before.mass_kg


def test_an_operators_side_fence_carries_the_piece_in_front_of_it() -> None:
    """By hand: face on the operator's edge of the piece; base from 14 in beyond the face to 4 in before it."""
    flipped = replace(SLED, fence=Side.OPERATOR)
    start = moments(replace(cut(MAPLE), sled=flipped))[0]
    face = 4.099 + 5.5
    by_hand = (9 * (face - 14 + 9) + 5.042 * (face - 2.75)) / 14.042
    assert start.centre[1] / INCH == pytest.approx(by_hand, abs=0.002)


def test_the_sleds_own_centre_along_the_travel_counts() -> None:
    heavy_fence = replace(SLED, centre_along_mm=12 * INCH)  # 12 in from the operator's edge, not 9
    plain, heavy = moments(cut(MAPLE))[0], moments(replace(cut(MAPLE), sled=heavy_fence))[0]
    assert plain.centre[1] - heavy.centre[1] == pytest.approx(3 * INCH * 9 / 14.042, abs=0.01)


def test_an_untested_wing_does_not_count_until_a_reason_is_typed() -> None:
    untested = Extension(Side.KEEPER, 12 * INCH)
    excused = replace(untested, typed_reason="bolted and loaded last winter")
    assert support_of(cut(MAPLE, extensions=(untested,), clamped=True, tail_held=True)).tips
    finding = support_of(cut(MAPLE, extensions=(excused,), clamped=True, tail_held=True))
    assert finding.nothing_found
    assert "without a load test, because: bolted and loaded last winter." in finding.words()


def test_what_the_maker_forbids_is_refused_whatever_the_sums_say() -> None:
    finding = support_of(cut(SHELF, maker_forbids=frozenset({"sled"})))
    assert [problem.trouble for problem in finding.problems] == [SupportFault.MAKER_FORBIDS]
    assert finding.mends is None
    assert "maker forbids the sled" in finding.words() and "another way, or not at all" in finding.words()


def test_a_forbidden_wing_is_not_counted() -> None:
    forbidden = cut(MAPLE, extensions=(WING,), clamped=True, tail_held=True, maker_forbids=frozenset({"wing"}))
    finding = support_of(forbidden)
    assert finding.tips and finding.mends is None
    assert "forbids the wing on the keeper side" in finding.words()


def test_a_sled_wholly_beside_the_table_is_held_by_nothing() -> None:
    far_table = Ground(keeper_mm=11 * INCH, offcut_mm=11 * INCH, operator_mm=-30 * INCH, far_mm=60 * INCH)
    finding = support_of(replace(cut(SHELF), table=far_table))
    assert all(moment.margin_mm < 0 and moment.press.newton == 0 for moment in finding.moments)


def test_the_words_promise_nothing() -> None:
    for piece in (SHELF, MAPLE):
        words = support_of(cut(piece)).words(inches)
        assert "safe" not in words.lower() and "Not checked: " in words
        assert all(item in words for item in NOT_CHECKED)
    assert support_of(cut(SHELF)).words().startswith("No problem found in these checks: ")
    assert not any("safe" in caution.lower() for caution in CAUTIONS)


def test_the_words_say_what_where_and_by_how_much_once() -> None:
    words = support_of(cut(MAPLE)).words(inches)
    assert "Just after separation it tips over the edge on the keeper side, by 1.50 in." in words
    assert words.count("it tips over") == 1
    assert "A tail of 8.00 in hangs on the offcut side with nothing under it." in words
    assert "a wing on the keeper side that reaches at least 3.50 in (load-tested)" in words


def test_the_words_for_close_calls_and_for_a_piece_that_tips() -> None:
    long = board(60, 5.5, 0.75, 44, keeper=50)
    assert "the piece itself tips off the sled's base, by 5.00 in" in support_of(cut(long)).words(inches)
    near = board(44, 3.5, 0.75, 44, keeper=38)
    assert "the piece itself is only 1.00 in from tipping" in support_of(cut(near)).words(inches)
    assert "from tipping on the keeper side" in support_of(cut(near)).words(inches)


def test_the_press_that_would_tip_it_is_told() -> None:
    """By hand, with the wing, half way: 14.04 lb·8.487 in over the 20 in edge, pressed at 40 in: 5.96 lb = 26.5 N."""
    finding = support_of(cut(MAPLE, extensions=(WING,), clamped=True, tail_held=True))
    mid = stage(finding.moments, Stage.MID)
    assert mid.press.newton == pytest.approx(14.042 * 8.4867 / 20 * POUND * 9.80665, rel=1e-3)
    assert mid.press.at[0] == pytest.approx(40 * INCH)
    assert "on a corner tips it" in finding.words()


def test_nothing_to_press_on_says_nothing() -> None:
    """Base and piece wholly over table: no corner hangs over."""
    wide = Ground(*(edge * INCH for edge in (60, 60, 60, 60)))
    no_tail = cut(board(13.375, 3.5, 0.742, 26, keeper=13.375))
    assert "on a corner tips it" not in support_of(replace(no_tail, table=wide)).words()


def test_between_the_moments_is_told_only_when_it_is_worse() -> None:
    """Beside a wing that does not reach along the whole table the four moments are not always the worst places."""
    random, told, silent = Random(3), 0, 0
    for _ in range(60):
        case = drawn(random)
        between, four = worst_between(case), min(moment.margin_mm for moment in moments(case))
        assert between.margin_mm <= four + 1e-9
        stages = {
            problem.where.stage for problem in problems(case) if problem.where and problem.trouble != "piece-tips"
        }
        worse = between.margin_mm < min(RESERVE_MM, four - 0.01)
        assert (Stage.BETWEEN in stages) == worse
        told, silent = told + worse, silent + (not worse)
    assert told >= 3 and silent >= 10


def test_table_edges_are_the_origin_of_everything() -> None:
    """A table shifted outward by 1 in gives 1 in more where the table is the limit."""
    wider = Ground(12 * INCH, 22.75 * INCH, 11.5 * INCH, 10.5 * INCH)
    narrow, wide = moments(cut(MAPLE)), moments(replace(cut(MAPLE), table=wider))
    assert wide[0].contact.keeper_mm - narrow[0].contact.keeper_mm == pytest.approx(INCH)
    assert TABLE.keeper_mm == 11 * INCH


@pytest.mark.parametrize("what", ["roof"])
def test_unknown_bans_are_refused(what: str) -> None:
    with pytest.raises(InputRefused, match="sled, wing"):
        cut(SHELF, maker_forbids=frozenset({what}))
