"""What lay_out answers: reasons that can be checked, mates kept together, offcuts, defects, trims, time and effort."""

from dataclasses import replace

import pytest
from tests.plan.layout_jobs import carcass_wants, inch, laid, rack_board, rack_wants, refused, rules, sheet

from trued.errors import InputRefused, TruedError
from trued.plan import lay_out as layout_module
from trued.plan.lay_out import lay_out
from trued.plan.layout.cut_tree import Axis, Cut, Offcut, Part, Sized, Waste, cuts, offcuts, parts, walk
from trued.plan.layout.pieces import PartGrain, Rect, Rules, Stock, StockGrain, Want, to_mm, units_down, units_up
from trued.plan.layout.result import Ended, Layout, NotFound, TooLarge, TooMuch

MM = 10_000_000
KERF = 3 * MM


def board(length: int = 1000, width: int = 100, **more: object) -> Stock:
    return replace(Stock("board", length * MM, width * MM, have=1, price=10.0), **more)  # type: ignore[arg-type]


def part(length: int, width: int = 100, copies: int = 1, name: str = "part", **more: object) -> Want:
    return replace(Want(name, copies, length * MM, width * MM), **more)  # type: ignore[arg-type]


def test_a_part_larger_than_all_stock_is_named_with_the_largest_free_piece() -> None:
    answer = refused(lay_out((board(trim_ends=(10 * MM, 0)),), (part(995),), Rules(KERF)))
    assert isinstance(answer.reason, TooLarge)
    assert answer.reason.proven
    assert answer.reason.rooms == (("board", Rect(10 * MM, 0, 990 * MM, 100 * MM)),)
    assert answer.text() == (
        "part (995.00 mm × 100.00 mm) fits on no piece of stock; "
        "the largest free piece is 990.00 mm × 100.00 mm, on board."
    )


def test_a_part_of_another_wood_has_no_stock() -> None:
    answer = refused(lay_out((board(),), (part(10, material="oak"),), Rules(KERF)))
    assert answer.text() == "There is no stock of the material and thickness of part."


def test_a_defect_can_make_a_part_too_large() -> None:
    knot = board(defects=(Rect(400 * MM, 40 * MM, 10 * MM, 10 * MM),))
    answer = refused(lay_out((knot,), (part(600, 60),), Rules(KERF)))
    assert isinstance(answer.reason, TooLarge)
    laid(lay_out((knot,), (part(600, 40),), Rules(KERF)))  # behind the knot's edge there is room


def test_a_kerf_may_swallow_a_defect() -> None:
    # Board 100, kerf 3, a defect from 40 to 42, parts of 40 and 55.
    knot = Stock("board", 100 * MM, 10 * MM, have=1, defects=(Rect(40 * MM, 0, 2 * MM, 10 * MM),))
    layout = laid(lay_out((knot,), (part(40, 10, name="a"), part(55, 10, name="b")), Rules(KERF, effort=30)))
    assert len(layout.used) == 1


def test_a_defect_at_the_reference_end_is_cut_away_or_nibbled() -> None:
    for depth in (1, 20):
        knot = board(defects=(Rect(0, 0, depth * MM, 100 * MM),))
        layout = laid(lay_out((knot,), (part(900, 60),), Rules(KERF, effort=10)))
        first = layout.used[0].tree
        assert isinstance(first, Cut)
        assert (first.sized, first.setting) == (Sized.NONE, None)
        assert first.position + first.kerf == depth * MM
        assert (first.low is None) == (depth == 1)


def test_a_defect_below_is_ripped_away() -> None:
    knot = board(defects=(Rect(300 * MM, 0, 200 * MM, 10 * MM),))
    layout = laid(lay_out((knot,), (part(900, 80),), Rules(KERF, effort=10)))
    assert next(parts(layout.used[0].tree)).piece.y >= 10 * MM


def test_a_part_between_defects_is_freed_on_both_sides() -> None:
    # A split end over the whole width, and a bad edge over the whole length: two cuts free the rest.
    marks = (Rect(0, 40 * MM, 60 * MM, 10 * MM), Rect(500 * MM, 0, 20 * MM, 15 * MM))
    layout = laid(lay_out((board(defects=marks),), (part(930, 80),), Rules(KERF, effort=10)))
    found = next(parts(layout.used[0].tree)).piece
    assert (found.x, found.y) == (60 * MM, 15 * MM)


def test_a_part_of_the_stock_s_own_width_is_not_ripped() -> None:
    layout = laid(lay_out((board(),), (part(300, copies=3),), Rules(KERF, effort=10)))
    assert {cut.axis for cut in cuts(layout.used[0].tree)} == {Axis.ACROSS}


def test_the_last_part_gets_a_cut_of_its_own() -> None:
    # 2 × 498.5 + 3 = 1000 exactly: the second would be what the first leaves over.
    wants = (Want("half", 2, 4_985_000_000, 100 * MM),)
    assert isinstance(refused(lay_out((board(),), wants, Rules(KERF))).reason, NotFound | TooMuch)
    assert laid(lay_out((board(),), wants, Rules(KERF, remainder=True)))
    assert laid(lay_out((board(length=1001),), wants, Rules(KERF)))


def test_the_far_trim_falls_off_whole_behind_the_last_cut() -> None:
    trimmed = board(trim_ends=(5 * MM, 8 * MM), trim_edges=(2 * MM, 4 * MM))
    # 1000 - 5 - 8 and the kerf before the far trim leave 984; 100 - 2 - 4 - 3 leave 91.
    layout = laid(lay_out((trimmed,), (part(984, 91),), Rules(KERF, effort=5)))
    tree = layout.used[0].tree
    assert [cut.sized for cut in cuts(tree)] == [Sized.NONE, Sized.NONE, Sized.LOW, Sized.LOW]
    assert [cut.setting for cut in cuts(tree)][2:] == [984 * MM, 91 * MM]
    assert refused(lay_out((trimmed,), (part(985, 91),), Rules(KERF))).reason.proven
    assert {leaf.piece.length for leaf in walk(tree) if isinstance(leaf, Waste)} >= {8 * MM}


def test_mates_come_from_one_piece_though_two_would_do() -> None:
    boards = replace(board(), have=None)
    wants = (part(450, name="leg", copies=2, together="legs"), part(450, name="other", copies=2))
    layout = laid(lay_out((boards,), wants, Rules(KERF, effort=30)))
    homes = {
        p.want: {(u.stock.id, u.copy) for u in layout.used for q in parts(u.tree) if q.want == p.want}
        for u in layout.used
        for p in parts(u.tree)
    }
    assert len(homes["leg"]) == 1
    assert layout.split == ()


def test_mates_that_no_piece_can_hold_are_named() -> None:
    boards = replace(board(), have=None)
    layout = laid(lay_out((boards,), (part(600, name="leg", copies=2, together="legs"),), Rules(KERF, effort=30)))
    assert layout.split == ("legs",)
    assert len(layout.used) == 2


def test_the_offcut_stays_in_one_piece() -> None:
    layout = laid(lay_out((sheet("96", "48"),), (Want("part", 1, inch("20"), inch("10")),), rules(effort=60)))
    sizes = sorted(off.piece.area for off in offcuts(layout.used[0].tree))
    assert sizes[-1] > 0.75 * inch("96") * inch("48")


def test_a_narrow_board_leaves_useful_offcuts_all_the_same() -> None:
    layout = laid(lay_out((board(),), (part(300),), Rules(KERF, effort=10)))
    assert [type(leaf) for leaf in walk(layout.used[0].tree)] == [Cut, Part, Offcut]


def test_grain_across_the_stock_turns_the_part() -> None:
    across = Stock("panel", 500 * MM, 800 * MM, have=1, grain=StockGrain.WIDTH)
    layout = laid(lay_out((across,), (part(700, 90),), Rules(KERF, effort=5)))
    found = next(parts(layout.used[0].tree))
    assert (found.turned, found.length, found.width) == (True, 700 * MM, 90 * MM)
    assert refused(lay_out((across,), (part(700, 90, grain=PartGrain.WIDTH),), Rules(KERF))).reason.proven


def test_rough_blanks_are_squared_and_cut_to_length() -> None:
    layout = laid(lay_out((board(),), (part(300, 80, copies=2),), Rules(KERF, allowance=12 * MM, effort=10)))
    settings = [cut.setting for cut in cuts(layout.used[0].tree) if cut.axis is Axis.ACROSS]
    assert settings.count(312 * MM) >= 1
    assert settings.count(300 * MM) == 2
    assert settings.count(None) == 2


def test_a_rough_blank_at_the_raw_end_gives_its_allowance_to_the_trim() -> None:
    trimmed = board(trim_ends=(12 * MM, 0))
    layout = laid(
        lay_out((trimmed,), (part(300, 80, grain=PartGrain.LENGTH),), Rules(KERF, allowance=12 * MM, effort=10))
    )
    assert next(parts(layout.used[0].tree)).piece.x == 12 * MM
    assert Sized.HIGH in {cut.sized for cut in cuts(layout.used[0].tree)}
    high = next(cut for cut in cuts(layout.used[0].tree) if cut.sized is Sized.HIGH)
    assert high.setting == 300 * MM


def test_a_rough_blank_behind_a_defect_keeps_clear_of_the_trim() -> None:
    # The defect is shorter than the trim that the blank's allowance takes.
    knot = board(trim_ends=(12 * MM, 0), defects=(Rect(0, 0, MM, MM),))
    layout = laid(lay_out((knot,), (part(900, 80),), Rules(0, allowance=13 * MM, effort=10)))
    assert next(parts(layout.used[0].tree)).piece.x >= 12 * MM


def test_turned_rough_blanks_get_their_final_cut_too() -> None:
    panel = Stock("panel", 500 * MM, 800 * MM, have=1, grain=StockGrain.NONE)
    layout = laid(lay_out((panel,), (part(700, 90),), Rules(KERF, allowance=10 * MM, effort=5)))
    assert next(parts(layout.used[0].tree)).turned


def test_time_that_is_up_ends_the_search_and_is_said() -> None:
    layout = laid(lay_out((rack_board(),), rack_wants(), replace(rules(), time_up=lambda: True)))
    assert layout.ended in {Ended.TIME, Ended.PROVED}
    asked: list[int] = []

    def after_three() -> bool:
        asked.append(1)
        return len(asked) > 3

    assert laid(lay_out((sheet("96", "48"),), carcass_wants(), replace(rules(), time_up=after_three))).tried <= 6


def test_time_that_is_up_before_anything_fits_is_no_proof() -> None:
    wants = tuple(part(90 + n, 30, copies=2, name=f"p{n}") for n in range(9))
    answer = lay_out((board(width=65),), wants, Rules(KERF, time_up=lambda: True))
    assert isinstance(answer, Layout) or not answer.reason.proven


def test_a_search_that_finds_nothing_says_that_this_is_no_proof() -> None:
    # Four of 600 × 400 go round a hole, but not edge to edge; ten small parts in it make too many ways to try.
    wants = (part(600, 400, copies=4, name="wing", grain=PartGrain.ANY),)
    small = tuple(part(20 + n, 20, copies=2, name=f"s{n}") for n in range(10))
    sheet_1000 = Stock("sheet", 1000 * MM, 1000 * MM, have=1)
    answer = refused(lay_out((sheet_1000,), wants + small, Rules(0, remainder=True, effort=100)))
    assert isinstance(answer.reason, NotFound)
    assert not answer.reason.proven
    assert "the bound does not exclude one" in answer.text()


def test_two_woods_are_laid_out_apart() -> None:
    stocks = (board(), replace(board(), id="oak", material="oak"))
    layout = laid(lay_out(stocks, (part(300), part(400, name="o", material="oak")), Rules(KERF, effort=5)))
    assert [used.stock.id for used in layout.used] == ["board", "oak"]
    assert len(layout.bounds) == 2
    assert layout.cost == 20.0


def test_doubles_and_nothing_are_refused_all_at_once() -> None:
    with pytest.raises(InputRefused) as refusal:
        lay_out((board(), board()), (part(1), part(2)), Rules(KERF))
    assert len(refusal.value.faults) == 2
    with pytest.raises(InputRefused, match="at least one part"):
        lay_out((board(),), (), Rules(KERF))


def test_a_layout_that_fails_its_replay_is_never_given(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(layout_module, "violations_of", lambda *_: ("it overlaps.",))
    with pytest.raises(TruedError, match="a fault of ours: it overlaps"):
        lay_out((board(),), (part(300),), Rules(KERF, effort=1))


@pytest.mark.parametrize(
    "make",
    [
        lambda: Stock("s", 0, 1),
        lambda: Stock("s", 10, 10, have=-1),
        lambda: Stock("s", 10, 10, price=-1.0),
        lambda: Stock("s", 10, 10, price=float("nan")),
        lambda: Stock("s", 10, 10, trim_ends=(5, 5)),
        lambda: Stock("s", 10, 10, trim_edges=(-1, 0)),
        lambda: Stock("s", 10, 10, thickness=-1),
        lambda: Stock("s", 10, 10, defects=(Rect(5, 5, 6, 1),)),
        lambda: Want("w", 0, 1, 1),
        lambda: Want("w", 1, -1, 1),
        lambda: Want("w", 1, 1, 1, thickness=-2),
        lambda: Rules(-1),
        lambda: Rules(1, effort=0),
        lambda: Rules(1, least_offcut=-1),
    ],
)
def test_values_cannot_be_built_wrong(make: object) -> None:
    with pytest.raises(InputRefused):
        make()  # type: ignore[operator]


def test_all_faults_of_a_stock_are_said_at_once() -> None:
    with pytest.raises(InputRefused) as refusal:
        Stock("s", 0, -1, have=-1)
    assert len(refusal.value.faults) >= 3


def test_a_rectangle_needs_two_sizes() -> None:
    with pytest.raises(ValueError, match="two sizes"):
        Rect(0, 0, 0, 5)


def test_sizes_round_to_the_safe_side() -> None:
    from fractions import Fraction

    assert units_up(Fraction(254, 10) / 128) == units_down(Fraction(254, 10) / 128) == 1_984_375
    third = Fraction(254, 30)
    assert units_up(third) == units_down(third) + 1
    assert to_mm(units_up(Fraction(25))) == 25.0
