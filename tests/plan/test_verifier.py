"""The checker finds every kind of fault: a good layout is spoilt in one place, and it must say where."""

from dataclasses import replace

import pytest
from tests.plan.layout_jobs import inch, laid, rack_board, rack_wants, rules

from trued.plan.lay_out import lay_out
from trued.plan.layout.cut_tree import Axis, Cut, Node, Offcut, Part, Sized, Used, Waste
from trued.plan.layout.pieces import PartGrain, Rect, Rules, Stock, Want
from trued.plan.layout.result import Ended, Layout
from trued.plan.layout.verifier import violations_of

KERF = 3
RULES = Rules(KERF, least_offcut=20)
BOARD = Stock("board", 100, 50, have=2, price=5.0)
WANTS = (Want("a", 1, 40, 50, together="ab"), Want("b", 1, 30, 20, together="ab"))


def tree() -> Cut:
    """a off the reference end; then b out of the corner of what is left; an offcut remains."""
    part_b = Cut(
        Rect(43, 0, 30, 50), Axis.ALONG, 20, KERF, Part(Rect(43, 0, 30, 20), "b", 1), Offcut(Rect(43, 23, 30, 27))
    )
    rest = Cut(Rect(43, 0, 57, 50), Axis.ACROSS, 30, KERF, part_b, Offcut(Rect(76, 0, 24, 50)))
    return Cut(Rect(0, 0, 100, 50), Axis.ACROSS, 40, KERF, Part(Rect(0, 0, 40, 50), "a", 1), rest)


def good(root: Node | None = None, stock: Stock = BOARD, copy: int = 1) -> Layout:
    worth = (30 * 27 / 10**20) ** 1.5 + (24 * 50 / 10**20) ** 1.5
    used = (Used(stock, copy, root or tree()),)
    return Layout(used, 5.0, "price", 5.0, (), worth, 3, (), Ended.PROVED, 1)


def said(
    layout: Layout, *, stocks: tuple[Stock, ...] = (BOARD,), wants: tuple[Want, ...] = WANTS, with_rules: Rules = RULES
) -> str:
    return " ".join(violations_of(layout, stocks, wants, with_rules))


def test_a_good_layout_has_no_faults() -> None:
    assert not said(good())


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"position": 41}, "is said to lie at"),
        ({"kerf": 2}, "a cut takes 2, the kerf is 3"),
        ({"kerf": -1}, "does not lie on a piece of 100"),
        ({"position": 98, "kerf": 3}, "does not lie on a piece of 100"),
        ({"high": None}, "the tree has no piece there"),
        ({"axis": Axis.ALONG}, "is said to lie at"),
        ({"sized": Sized.NONE}, "a@1 gets its size from what other cuts leave over"),
        ({"sized": Sized.HIGH}, "a@1 gets its size from what other cuts leave over"),
    ],
)
def test_a_spoilt_cut_is_found(change: dict[str, object], fault: str) -> None:
    assert fault in said(good(replace(tree(), **change)))  # type: ignore[arg-type]


def test_a_piece_beside_the_blade_is_found() -> None:
    whole = Rect(0, 0, 100, 50)
    none_left = Cut(whole, Axis.ACROSS, 100, 0, Waste(whole), None)
    assert "takes no wood" in said(good(none_left), with_rules=Rules(0, least_offcut=20))
    extra = Cut(whole, Axis.ACROSS, 97, 3, Waste(Rect(0, 0, 97, 50)), Waste(Rect(97, 0, 3, 50)))
    assert "the tree has a piece there" in said(good(extra))


@pytest.mark.parametrize(
    ("part", "fault"),
    [
        (Part(Rect(0, 0, 40, 50), "c", 1), "c is not a wanted part"),
        (Part(Rect(0, 0, 40, 50), "a", 2), "a@2 is one too many"),
        (Part(Rect(0, 0, 40, 50), "a", 1, turned=True), "a@1 is 40 × 50, wanted 50 × 40"),
        (Part(Rect(0, 0, 40, 50), "b", 1), "b@1 is cut 2 times"),
        (Waste(Rect(0, 0, 40, 50)), "a@1 is cut 0 times"),
    ],
)
def test_a_spoilt_part_is_found(part: Node, fault: str) -> None:
    assert fault in said(good(replace(tree(), low=part)))


def test_an_offcut_that_is_too_small_is_found() -> None:
    assert "too small to be useful" in said(good(), with_rules=Rules(KERF, least_offcut=28))


def test_grain_is_kept() -> None:
    turned = (Want("a", 1, 50, 40, together="ab"), WANTS[1])
    root = replace(tree(), low=Part(Rect(0, 0, 40, 50), "a", 1, turned=True))
    assert "a@1 lies with its grain the wrong way" in said(good(root), wants=turned)
    free = (replace(turned[0], grain=PartGrain.ANY), WANTS[1])
    assert not said(good(root), wants=free)


def test_wood_trims_and_defects_are_respected() -> None:
    oak = replace(BOARD, material="oak")
    assert "another material or thickness" in said(good(stock=oak), stocks=(oak,))
    trimmed = replace(BOARD, trim_ends=(1, 0))
    assert "a@1 lies in a trim" in said(good(stock=trimmed), stocks=(trimmed,))
    knotty = replace(BOARD, defects=(Rect(44, 5, 2, 2),))
    assert said(good(stock=knotty), stocks=(knotty,)) == "board/1: b@1 holds a defect."
    swallowed = replace(BOARD, defects=(Rect(40, 5, 3, 2),))
    assert not said(good(stock=swallowed), stocks=(swallowed,))


def test_a_falling_piece_is_no_finished_part() -> None:
    """A part's final size is never made by what remains (unless the rules allow it)."""
    whole = Rect(0, 0, 100, 50)
    root = Cut(whole, Axis.ACROSS, 40, KERF, Part(Rect(0, 0, 40, 50), "a", 1), Part(Rect(43, 0, 57, 50), "b", 1))
    wants = (WANTS[0], Want("b", 1, 57, 50, together="ab"))
    layout = replace(good(root), offcut_value=0.0, settings=1)
    assert said(layout, wants=wants) == "board/1: b@1 gets its size from what other cuts leave over."
    assert not said(layout, wants=wants, with_rules=Rules(KERF, least_offcut=20, remainder=True))


def test_stock_is_counted() -> None:
    assert "there are only 2" in said(good(copy=3))
    assert "not one of the stock pieces given" in said(good(), stocks=(replace(BOARD, length=99),))
    twice = replace(good(), used=(*good().used, *good().used), cost=10.0)
    assert "it is cut up 2 times" in said(twice)
    empty = replace(good(), used=(Used(BOARD, 1, Waste(Rect(0, 0, 100, 50))),))
    assert "it is cut for nothing" in said(empty)


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"cost": 4.0, "bound": 4.0}, "the cost is 5.0, not 4.0"),
        ({"bound": 6.0}, "the bound 6.0 is above the cost"),
        ({"settings": 2}, "there are 3 settings, not 2"),
        ({"offcut_value": 1.0}, "the offcuts are worth"),
        ({"split": ("ab",)}, "the mates parted are ()"),
        ({"unit": "m2"}, "the cost is"),
    ],
)
def test_a_spoilt_sum_is_found(change: dict[str, object], fault: str) -> None:
    assert fault in said(replace(good(), **change))  # type: ignore[arg-type]


def test_a_price_that_is_not_known_is_found() -> None:
    unknown = replace(BOARD, price=None)
    assert "the cost is" in said(good(stock=unknown), stocks=(unknown,))


def test_mates_on_two_pieces_are_found() -> None:
    first = Cut(
        Rect(0, 0, 100, 50), Axis.ACROSS, 40, KERF, Part(Rect(0, 0, 40, 50), "a", 1), Offcut(Rect(43, 0, 57, 50))
    )
    strip = Cut(Rect(0, 0, 30, 50), Axis.ALONG, 20, KERF, Part(Rect(0, 0, 30, 20), "b", 1), Offcut(Rect(0, 23, 30, 27)))
    second = Cut(Rect(0, 0, 100, 50), Axis.ACROSS, 30, KERF, strip, Offcut(Rect(33, 0, 67, 50)))
    layout = replace(good(), used=(Used(BOARD, 1, first), Used(BOARD, 2, second)), cost=10.0)
    assert "the mates parted are ('ab',), not ()" in said(layout)


def test_every_single_spoilt_number_of_a_real_layout_is_found() -> None:
    """Each cut of the rack is moved by a hundredth of an inch: the replay sees every one of them."""
    layout = laid(lay_out((rack_board(),), rack_wants(), rules(effort=1)))
    used = layout.used[0]
    spoilt = list(_moved(used.tree, inch("0.01")))
    assert len(spoilt) > 8
    for root in spoilt:
        bad = replace(layout, used=(replace(used, tree=root),))
        assert violations_of(bad, (rack_board(),), rack_wants(), rules())


def _moved(node: Node, step: int) -> list[Node]:
    """The tree with one cut moved, for each of its cuts."""
    if not isinstance(node, Cut):
        return []
    found: list[Node] = [replace(node, position=node.position + step)]
    if node.low is not None:
        found += [replace(node, low=low) for low in _moved(node.low, step)]
    if node.high is not None:
        found += [replace(node, high=high) for high in _moved(node.high, step)]
    return found
