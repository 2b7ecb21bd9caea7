"""Jobs worked by hand (docs/layout.md), each also with every size times 1.037 and a kerf of 0.087 in."""

from collections import Counter
from fractions import Fraction

import pytest
from tests.plan.layout_jobs import (
    KERF,
    carcass_wants,
    drawer_sheets,
    drawer_wants,
    four_and_two,
    inch,
    laid,
    overlaps,
    rack_board,
    rack_wants,
    refused,
    rules,
    sheet,
    two_boards,
)  # fmt: skip

from trued.plan.lay_out import lay_out
from trued.plan.layout.cut_tree import Axis, Sized, cuts, offcuts, parts
from trued.plan.layout.pieces import PartGrain
from trued.plan.layout.result import Ended, NotFound, TooMuch

SCALES = [(Fraction(1), KERF), (Fraction("1.037"), Fraction("0.087"))]


def in_inches(units: int) -> str:
    return f"{units / inch('1'):.3f} in"


@pytest.mark.parametrize(("scale", "kerf"), SCALES)
def test_rack_comes_from_one_board_in_four_blanks(scale: Fraction, kerf: Fraction) -> None:
    layout = laid(lay_out((rack_board(scale),), rack_wants(scale), rules(scale, kerf)))
    assert [(used.stock.id, used.copy) for used in layout.used] == [("B1", 1)]
    assert (layout.cost, layout.unit, layout.bound, layout.gap) == (14.0, "price", 14.0, 0.0)
    assert layout.split == ()
    assert layout.ended is Ended.PROVED
    assert not overlaps(layout.used[0])
    # Crosscut into four blanks, each with its own stop, then rip: the first cut trims the end.
    across = [cut for cut in cuts(layout.used[0].tree) if cut.axis is Axis.ACROSS]
    assert across[0].sized is Sized.NONE
    assert across[0].position + across[0].kerf == inch("1/2", scale)
    blanks = sorted(cut.position for cut in across[1:])
    assert blanks == sorted(inch(size, scale) for size in ("30", "13 3/8", "13 3/8", "12 57/64"))


def test_rack_in_the_continuous_method_leaves_what_the_hand_sum_says() -> None:
    # 72 - (69.641 + 4 kerfs + 1 in of trims) = 0.983 in are left, with the far trim of 1/2 in still on them.
    layout = laid(lay_out((rack_board(),), rack_wants(), rules()))
    last = max(
        cut.piece.end_x - cut.piece.x - cut.position - cut.kerf
        for cut in cuts(layout.used[0].tree)
        if cut.axis is Axis.ACROSS and cut.low
    )
    tail = min(inch("72") - part.piece.end_x for part in parts(layout.used[0].tree)) - inch(KERF)
    assert tail - inch("1/2") == pytest.approx(inch("0.983"), abs=inch("0.001"))
    assert last >= tail


@pytest.mark.parametrize("ends", [("0", "1/2"), ("1/2", "1/2")])
def test_rack_in_the_rough_method_does_not_fit_and_says_by_how_much(ends: tuple[str, str]) -> None:
    # 69.641 + 4 × 1/2 + 4 kerfs + 1/2 = 72.517 in: short by 0.517.
    answer = refused(lay_out((rack_board(ends=ends),), rack_wants(), rules(allowance="1/2")))
    assert answer.reason.proven
    assert isinstance(answer.reason, TooMuch | NotFound)
    assert answer.reason.miss.short == pytest.approx(inch("0.517"), abs=inch("0.0005"))
    assert "B1 is short by 0.517 in" in answer.text(in_inches)


@pytest.mark.parametrize(("scale", "kerf"), SCALES)
def test_drawers_come_from_one_sheet_of_each_thickness(scale: Fraction, kerf: Fraction) -> None:
    layout = laid(lay_out(drawer_sheets(scale), drawer_wants(scale), rules(scale, kerf)))
    assert Counter(used.stock.id for used in layout.used) == {"half": 1, "quarter": 1}
    assert layout.gap == 0.0
    assert not any(overlaps(used) for used in layout.used)


@pytest.mark.parametrize(("scale", "kerf"), SCALES)
def test_carcass_comes_from_a_full_sheet_with_a_wide_offcut(scale: Fraction, kerf: Fraction) -> None:
    layout = laid(lay_out((sheet("96", "48", scale),), carcass_wants(scale), rules(scale, kerf)))
    assert len(layout.used) == 1
    # Two strips of 15 1/4 leave an offcut 17 in wide over the whole 96; the layout found must be worth as much.
    rest = (inch("96", scale), inch("17 1/4", scale))
    assert layout.offcut_value >= (rest[0] * rest[1] / 10**20) ** 1.5
    assert all(not part.turned for used in layout.used for part in parts(used.tree))
    assert next(offcuts(layout.used[0].tree))


@pytest.mark.parametrize(("scale", "kerf"), SCALES)
def test_carcass_needs_more_than_half_a_sheet_while_the_grain_is_kept(scale: Fraction, kerf: Fraction) -> None:
    half = sheet("48", "48", scale)
    answer = refused(lay_out((half,), carcass_wants(scale), rules(scale, kerf)))
    assert answer.reason.proven
    assert isinstance(answer.reason, TooMuch | NotFound)
    assert answer.reason.miss.missing
    turned = laid(lay_out((half,), carcass_wants(scale, PartGrain.ANY), rules(scale, kerf)))
    assert len(turned.used) == 1
    assert not overlaps(turned.used[0])


@pytest.mark.parametrize(("scale", "kerf"), [(Fraction(1), Fraction("0.125")), (Fraction("1.037"), Fraction("0.087"))])
def test_lengths_add_up_and_still_one_part_is_over(scale: Fraction, kerf: Fraction) -> None:
    answer = refused(lay_out(two_boards(scale), four_and_two(scale), rules(scale, kerf)))
    assert isinstance(answer.reason, TooMuch)
    assert answer.reason.miss.missing == (("four", 1, inch("24", scale), inch("4", scale)),)
    size = in_inches(inch("24", scale))
    assert f"Short by one four ({size}), though the lengths add up." in answer.text(in_inches)


def test_four_of_24_do_not_come_from_96_but_three_do() -> None:
    board = (sheet("96", "4"),)
    kerf = Fraction("0.125")
    assert refused(lay_out(board, four_and_two()[:1], rules(kerf=kerf))).reason.proven
    three = laid(lay_out(board, (four_and_two()[0].__class__("four", 3, inch("24"), inch("4")),), rules(kerf=kerf)))
    assert len(three.used) == 1
