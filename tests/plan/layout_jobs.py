"""Hand-worked jobs and helpers for the tests of the layout half. Sizes are inches, read exactly."""

from fractions import Fraction

from trued.plan.layout.cut_tree import Part, Used, parts
from trued.plan.layout.pieces import PartGrain, Rules, Stock, Want, units_up
from trued.plan.layout.result import Layout, NoLayout

KERF = Fraction("0.094")


def inch(size: str | Fraction | int, scale: Fraction = Fraction(1)) -> int:
    """`3 1/2` or `0.094` in inches, as units."""
    whole = sum((Fraction(word) for word in size.split()), Fraction(0)) if isinstance(size, str) else Fraction(size)
    return units_up(whole * scale * Fraction(254, 10))


def rules(scale: Fraction = Fraction(1), kerf: Fraction = KERF, *, allowance: str = "0", effort: int = 120) -> Rules:
    return Rules(inch(kerf), inch("12", scale), allowance=inch(allowance, scale), effort=effort)


def laid(answer: Layout | NoLayout) -> Layout:
    assert isinstance(answer, Layout), answer.text()
    return answer


def refused(answer: Layout | NoLayout) -> NoLayout:
    assert isinstance(answer, NoLayout)
    return answer


def overlaps(used: Used) -> list[tuple[Part, Part]]:
    """A second check, made of nothing but corners: parts of one piece that share wood, or leave it."""
    here = list(parts(used.tree))
    corners = [(p.piece.x, p.piece.y, p.piece.x + p.piece.length, p.piece.y + p.piece.width) for p in here]
    bad = [
        (here[i], here[j])
        for i, (ax, ay, bx, by) in enumerate(corners)
        for j, (cx, cy, dx, dy) in enumerate(corners)
        if i < j and max(ax, cx) < min(bx, dx) and max(ay, cy) < min(by, dy)
    ]
    outside = [
        i
        for i, (ax, ay, bx, by) in enumerate(corners)
        if ax < 0 or ay < 0 or bx > used.stock.length or by > used.stock.width
    ]
    return bad + [(here[i], here[i]) for i in outside]


def rack_wants(scale: Fraction = Fraction(1)) -> tuple[Want, ...]:
    """F1: a rack between two studs, six parts of one width out of four blanks."""
    return (
        Want("side", 2, inch("30", scale), inch("3 1/2", scale), together="sides"),
        Want("shelf", 4, inch("13 3/8", scale), inch("3 1/2", scale)),
        Want("rail", 2, inch("12 57/64", scale), inch("3", scale)),
    )


def rack_board(scale: Fraction = Fraction(1), ends: tuple[str, str] = ("1/2", "1/2")) -> Stock:
    trims = (inch(ends[0], scale), inch(ends[1], scale))
    return Stock("B1", inch("72", scale), inch("7 1/4", scale), have=1, price=14, trim_ends=trims)


def drawer_wants(scale: Fraction = Fraction(1)) -> tuple[Want, ...]:
    """F2: three drawers; sides, fronts and backs of one sheet, bottoms of another."""
    heights = ("3", "3 7/8", "4 3/4")
    sides = [Want(f"side {h}", 2, inch("18", scale), inch(h, scale), material="ply", thickness=12) for h in heights]
    ends = [Want(f"end {h}", 2, inch("14 33/64", scale), inch(h, scale), material="ply", thickness=12) for h in heights]
    bottom = Want("bottom", 3, inch("17 15/32", scale), inch("14 29/64", scale), PartGrain.ANY, "ply", 6)
    return (*sides, *ends, bottom)


def drawer_sheets(scale: Fraction = Fraction(1)) -> tuple[Stock, ...]:
    return (
        Stock("half", inch("60", scale), inch("60", scale), material="ply", thickness=12),
        Stock("quarter", inch("48", scale), inch("24", scale), material="ply", thickness=6),
    )


def carcass_wants(scale: Fraction = Fraction(1), grain: PartGrain = PartGrain.LENGTH) -> tuple[Want, ...]:
    """F4: two sides, top and bottom, one shelf."""
    return (
        Want("side", 2, inch("30", scale), inch("15 1/4", scale), grain),
        Want("top and bottom", 2, inch("22 31/32", scale), inch("15 1/4", scale), grain),
        Want("shelf", 1, inch("22 11/32", scale), inch("14 1/2", scale), grain),
    )


def sheet(length: str, width: str, scale: Fraction = Fraction(1)) -> Stock:
    return Stock("sheet", inch(length, scale), inch(width, scale), have=1)


def two_boards(scale: Fraction = Fraction(1)) -> tuple[Stock, ...]:
    """H10: boards of 96 and 72 in, 1 in of each to be trimmed."""
    return tuple(
        Stock(f"board {size}", inch(size, scale), inch("4", scale), have=1, trim_ends=(inch("1", scale), 0))
        for size in ("96", "72")
    )


def four_and_two(scale: Fraction = Fraction(1)) -> tuple[Want, ...]:
    return (
        Want("four", 4, inch("24", scale), inch("4", scale)),
        Want("two", 2, inch("30", scale), inch("4", scale)),
    )
