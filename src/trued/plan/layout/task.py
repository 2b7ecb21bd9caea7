"""What the searches and the bound work on: one material and thickness, numbered, with all that is fixed worked out."""

from dataclasses import dataclass

from trued.plan.layout.free_pieces import REST, SET, Bed, bed_of
from trued.plan.layout.pieces import PartGrain, Rules, Stock, StockGrain, Want, may_lie

Lie = tuple[int, int, bool]
"""Size along the stock, size across it, turned."""


@dataclass(frozen=True, slots=True)
class Task:
    """Parts and stock of one wood, by number.

    stocks:  those with a usable rectangle; beds: that rectangle.
    lies:    for each stock and want, the ways in which a blank of it may lie there and is not too large.
    costs:   whole numbers: millionths of the price, or square units where prices are not known. 0 for an offcut.
    least:   for each stock the least length and the least width that any part takes there.
    groups:  for each want the number of its `together` word, -1 without one.
    rest:    the state of what a cut leaves over (see `search_room`).
    """

    stocks: tuple[Stock, ...]
    wants: tuple[Want, ...]
    rules: Rules
    beds: tuple[Bed, ...]
    lies: tuple[tuple[tuple[Lie, ...], ...], ...]
    costs: tuple[int, ...]
    least: tuple[tuple[int, int], ...]
    groups: tuple[int, ...]
    words: tuple[str, ...]
    rest: int

    @property
    def copies(self) -> int:
        """How many parts there are in all."""
        return sum(want.copies for want in self.wants)

    @property
    def share(self) -> int:
        """How many times the effort a job may take: twice up to 30 parts, whose layouts are quickly made."""
        return 2 if self.copies <= 30 else 1

    def most(self, stock: int) -> int:
        """The largest number of pieces of this stock that could be of use."""
        have = self.stocks[stock].have
        return self.copies if have is None else min(have, self.copies)

    def rate(self, stock: int) -> float:
        """What its wood costs, by area."""
        return self.costs[stock] / self.beds[stock].area


def task_of(stocks: tuple[Stock, ...], wants: tuple[Want, ...], rules: Rules, *, priced: bool) -> Task:
    """Number the parts and stock of one wood."""
    every = [bed_of(stock, rules, straight_only=_straight(stock, wants)) for stock in stocks if stock.have != 0]
    beds = tuple(bed for bed in every if bed is not None)
    stocks = tuple(bed.stock for bed in beds)
    lies = tuple(tuple(_lies(want, bed, rules) for want in wants) for bed in beds)
    least = tuple(
        (
            min((way[0] for ways in here for way in ways), default=0),
            min((way[1] for ways in here for way in ways), default=0),
        )
        for here in lies
    )
    words = tuple(sorted({want.together for want in wants if want.together}))
    groups = tuple(words.index(want.together) if want.together else -1 for want in wants)
    costs = tuple(_cost(stock, priced=priced) for stock in stocks)
    return Task(stocks, wants, rules, beds, lies, costs, least, groups, words, SET if rules.remainder else REST)


def _cost(stock: Stock, *, priced: bool) -> int:
    if stock.offcut:
        return 0
    return round((stock.price or 0.0) * 1_000_000) if priced else stock.area


def _straight(stock: Stock, wants: tuple[Want, ...]) -> bool:
    """Whether no part may lie turned on this stock."""
    if stock.grain is not StockGrain.LENGTH:
        return False
    return all(want.grain is PartGrain.LENGTH for want in wants)


def _lies(want: Want, bed: Bed, rules: Rules) -> tuple[Lie, ...]:
    length, width = want.length + rules.allowance, want.width
    ways: list[Lie] = []
    if may_lie(want, bed.stock, turned=False):
        ways.append((length, width, False))
    if may_lie(want, bed.stock, turned=True) and (length != width or not ways or rules.allowance):
        ways.append((width, length, True))
    return tuple(way for way in ways if _fits(way, bed))


def _fits(way: Lie, bed: Bed) -> bool:
    along = way[0] < bed.length or (way[0] == bed.length and bed.state_x != REST)
    across = way[1] < bed.width or (way[1] == bed.width and bed.state_y != REST)
    return along and across
