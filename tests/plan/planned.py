"""Jobs planned in the invented shop of the examples, for the tests of orders and tickets."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

from trued.equipment.file.read_shop import read_shop
from trued.equipment.shop import Shop
from trued.job.file.read import read_job
from trued.job.job import Job
from trued.plan.from_job import rules_of, stocks_of, wants_of
from trued.plan.lay_out import lay_out
from trued.plan.layout.cut_tree import Axis, Cut, Node, Part, Sized, Used, Waste
from trued.plan.layout.pieces import Rect, Stock
from trued.plan.layout.result import Layout
from trued.plan.layout.strip_order import tidied
from trued.plan.order.order import Order, order_cuts
from trued.plan.stations.break_down import broken_down
from trued.plan.stations.reach import reach_of
from trued.plan.stations.station import Reach

ROOT = Path(__file__).parents[2]
INCH = 254_000_000
KERF = Fraction("0.094") * Fraction("25.4")


def inch(size: float) -> int:
    """Inches in the units of a layout."""
    return round(size * INCH)


@cache
def shop() -> Shop:
    """The shop of the examples."""
    return read_shop((ROOT / "examples" / "shop.toml").read_text(encoding="utf-8"))


@cache
def job(name: str) -> Job:
    """One of the example jobs, or of the variants made for tests."""
    for folder in ("examples", "tests/data/jobs"):
        path = ROOT / folder / f"{name}.toml"
        if path.exists():
            return read_job(path.read_text(encoding="utf-8"))
    raise FileNotFoundError(name)


@dataclass(frozen=True, slots=True)
class Planned:
    """A job with its layout and order."""

    job: Job
    layout: Layout
    order: Order


@cache
def planned(name: str, reach: Reach | None = None) -> Planned:
    """The job, laid out and ordered in the shop of the examples."""
    here = job(name)
    rules = rules_of(here, KERF if here.kerf is None else here.kerf.exact_mm)
    stocks, wants, stations = stocks_of(here), wants_of(here), reach or reach_of(shop())
    found = lay_out(stocks, wants, rules)
    assert isinstance(found, Layout)
    layout = broken_down(tidied(found, stocks, wants, rules), stocks, wants, rules, stations)
    return Planned(here, layout, order_cuts(layout.used, stations))


def cut(axis: Axis, length: float, width: float, at: float, *, sized: Sized = Sized.LOW) -> Cut:
    """One cut on a piece of that size in inches, with a kerf of 1/8 and plain leaves."""
    piece, position, kerf = Rect(0, 0, inch(length), inch(width)), inch(at), inch(0.125)
    if axis is Axis.ACROSS:
        low = Rect(0, 0, position, piece.width)
        high = Rect(position + kerf, 0, piece.length - position - kerf, piece.width)
    else:
        low = Rect(0, 0, piece.length, position)
        high = Rect(0, position + kerf, piece.length, piece.width - position - kerf)
    leaves: tuple[Node, Node] = (Part(low, "part", 1), Waste(high))
    if sized is Sized.HIGH:
        leaves = (Waste(low), Part(high, "part", 1))
    return Cut(piece, axis, position, kerf, *leaves, sized)


def used(tree: Cut) -> Used:
    """A stock piece that comes apart like this."""
    return Used(Stock("B", tree.piece.length, tree.piece.width, material="pine", thickness=inch(0.75)), 1, tree)
