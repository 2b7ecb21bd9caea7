"""The smallest change really mends, and no smaller one does."""

from dataclasses import replace
from random import Random

import pytest
from tests.plan.sled_s import INCH, MAPLE, SHELF, SLED, board, cut
from tests.plan.test_support_tipping import drawn

from trued.plan.support.remedy import smallest_change
from trued.plan.support.stages import bears, problems
from trued.plan.support.support import Change, Extension, Remedy, Side, SledCut, support_of

WING = Extension(Side.KEEPER, 12 * INCH, load_tested=True)


def mended(before: SledCut, mends: tuple[Remedy, ...]) -> SledCut:
    """The cut with the changes carried out, as a person would."""
    after = before
    for mend in mends:
        match mend.change:
            case Change.CLAMP:
                after = replace(after, clamped=True)
            case Change.ROUGH:
                after = replace(after, piece=replace(after.piece, length_mm=after.piece.keeper_mm + 12.7))
            case Change.TAIL:
                after = replace(after, tail_held=True)
            case Change.TEST:
                after = replace(after, extensions=tuple(replace(e, load_tested=True) for e in after.extensions))
            case Change.TAKE_OFF:
                after = replace(after, extensions=())
            case Change.EXTEND:
                assert mend.extension is not None
                after = replace(after, extensions=(*after.extensions, mend.extension))
    return after


def changes(before: SledCut) -> list[Change]:
    mends = smallest_change(before)
    assert mends is not None and not problems(mended(before, mends))
    return [mend.change for mend in mends]


def test_the_quick_answer_is_the_long_one() -> None:
    random = Random(11)
    answers = [(bears(case), not problems(case)) for case in (_eased(drawn(random), random) for _ in range(150))]
    assert all(quick == slow for quick, slow in answers)
    assert sum(quick for quick, _ in answers) >= 20


def _eased(case: SledCut, random: Random) -> SledCut:
    return replace(case, clamped=random.random() < 0.7, tail_held=random.random() < 0.7)


def test_nothing_wrong_wants_no_change() -> None:
    assert smallest_change(cut(SHELF)) == ()


def test_the_maple_board_wants_clamp_short_tail_and_wing() -> None:
    """By hand: after separation the centre of mass is at 12.50, so a wing of 12.50 + 2 − 11 = 3.50 in is the least."""
    before = cut(MAPLE)
    assert changes(before) == [Change.CLAMP, Change.ROUGH, Change.EXTEND]
    mends = smallest_change(before)
    assert mends is not None and mends[-1].extension is not None
    assert mends[-1].extension.side is Side.KEEPER
    assert mends[-1].extension.reach_mm / INCH == pytest.approx(3.50, abs=0.005)


def test_a_wing_that_is_there_wants_only_its_load_test() -> None:
    untested = replace(WING, load_tested=False)
    assert changes(cut(MAPLE, extensions=(untested,), clamped=True, tail_held=True)) == [Change.TEST]


def test_a_long_tail_wants_another_order() -> None:
    long_tail = board(40, 3.5, 0.75, 26, keeper=18)
    assert changes(cut(long_tail)) == [Change.ROUGH]


def test_a_tail_on_a_base_that_reaches_under_it_is_no_trouble() -> None:
    both_sides = replace(SLED, offcut_mm=20 * INCH)
    long_tail = replace(cut(board(36, 3.5, 0.75, 26, keeper=18)), sled=both_sides)
    assert smallest_change(long_tail) == ()


def test_a_forbidden_wing_that_is_not_needed_comes_off() -> None:
    before = cut(SHELF, extensions=(WING,), maker_forbids=frozenset({"wing"}))
    assert changes(before) == [Change.TAKE_OFF]


def test_where_the_maker_forbids_a_wing_none_is_proposed() -> None:
    assert smallest_change(cut(MAPLE, clamped=True, tail_held=True, maker_forbids=frozenset({"wing"}))) is None


def test_a_wing_too_short_to_help_is_topped_up() -> None:
    """A tested wing of 1 in: a longer one is asked for."""
    stub = Extension(Side.KEEPER, 1 * INCH, load_tested=True)
    before = cut(MAPLE, extensions=(stub,), clamped=True, tail_held=True)
    assert changes(before) == [Change.EXTEND]


def test_no_table_helps_a_piece_beyond_its_sled() -> None:
    """Mass out past the end of the base: only another sled, or another way."""
    short_base = replace(cut(board(70, 9, 1.5, 44, keeper=69), clamped=True), sled=replace(SLED, keeper_mm=12 * INCH))
    assert smallest_change(short_base) is None
    assert "None of the usual changes mends it" in support_of(short_base).words()


def test_in_any_shop_the_proposed_changes_take_every_problem_away_and_none_can_be_left_out() -> None:
    """30 drawn shops: with all the changes nothing is found; with any one left out something is."""
    random = Random(7)
    proposed = 0
    for _ in range(30):
        before = drawn(random)
        mends = smallest_change(before)
        if not mends:
            continue
        proposed += 1
        assert not problems(mended(before, mends))
        for left_out in range(len(mends)):
            rest = mends[:left_out] + mends[left_out + 1 :]
            assert problems(mended(before, rest)), (before, rest)
    assert proposed >= 10
