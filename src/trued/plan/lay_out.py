"""Lay parts out on stock: `lay_out` is the one function of this half of the room."""

from collections.abc import Callable

from trued.errors import Faults, TruedError
from trued.plan.bounds.bound import Floor, too_much, weighings
from trued.plan.layout.cut_tree import Axis, Used, cuts
from trued.plan.layout.freeze import frozen
from trued.plan.layout.pieces import Rules, Stock, Want, same_wood
from trued.plan.layout.result import Bound, Ended, Layout, NoLayout, SoFar
from trued.plan.layout.task import Task, task_of
from trued.plan.layout.verifier import violations_of
from trued.plan.no_layout import no_layout, scale_of, too_large
from trued.plan.search.best import Best
from trued.plan.search.objective import Objective
from trued.plan.search.search import search


def lay_out(
    stocks: tuple[Stock, ...], wants: tuple[Want, ...], rules: Rules, told: Callable[[SoFar], None] | None = None
) -> Layout | NoLayout:
    """Where every part comes from, with a lower bound on the cost; or why there is no layout.

    In order: every part is placed; mates come from one piece; cost; offcuts of use to the shop; settings; pieces
    opened. The answer is cut again by `plan/layout/verifier.py` before it is given. told: hears of every
    cheaper layout of a wood as it is found.
    """
    _refuse_doubles(stocks, wants)
    bought = [s for s in stocks if not s.offcut and any(same_wood(want, s) for want in wants)]
    priced = all(stock.price is not None for stock in bought) and bool(bought)
    found: list[tuple[Task, Best]] = []
    for task in _tasks(stocks, wants, rules, priced=priced):
        large = too_large(task)
        if large is not None:
            return NoLayout(large, task.stocks)
        best = search(task, weighings(task), None if told is None else _telling(task, told, priced=priced))
        if best.trial is None:
            return NoLayout(no_layout(task, too_much(task, best.scales), best), task.stocks, best.tried)
        found.append((task, best))
    layout = _layout(found, priced=priced)
    faults = violations_of(layout, stocks, wants, rules)
    if faults:
        raise TruedError.of(
            "layout", "", "The layout found cannot be cut as stated, a fault of ours: " + " ".join(faults)
        )
    return layout


def _telling(task: Task, told: Callable[[SoFar], None], *, priced: bool) -> Callable[[Objective, Floor], None]:
    unit, name = (1_000_000, "price") if priced else (10**20, "m2")

    def tell(verdict: Objective, floor: Floor) -> None:
        told(SoFar(task.wants[0].material, verdict.cost / unit, floor.cost / unit, name, verdict.pieces))

    return tell


def _refuse_doubles(stocks: tuple[Stock, ...], wants: tuple[Want, ...]) -> None:
    faults = Faults()
    for place, ids in (("stock", [s.id for s in stocks]), ("part", [w.id for w in wants])):
        for name in sorted({name for name in ids if ids.count(name) > 1}):
            faults.add(place, name, "Each needs an id of its own.")
    if not wants:
        faults.add("part", "", "Name at least one part to lay out.")
    faults.raise_if_any()


def _tasks(stocks: tuple[Stock, ...], wants: tuple[Want, ...], rules: Rules, *, priced: bool) -> list[Task]:
    """One task for each material and thickness: they share nothing."""
    woods = list(dict.fromkeys((want.material, want.thickness) for want in wants))
    tasks = []
    for wood in woods:
        mine = tuple(want for want in wants if (want.material, want.thickness) == wood)
        there = tuple(stock for stock in stocks if same_wood(mine[0], stock))
        tasks.append(task_of(there, mine, rules, priced=priced))
    return tasks


def _layout(found: list[tuple[Task, Best]], *, priced: bool) -> Layout:
    used = tuple(piece for task, best in found for piece in _used(task, best))
    unit = 1_000_000 if priced else 10**20
    verdicts = [best.verdict for _, best in found if best.verdict is not None]
    bounds = tuple(_bound(task, best, unit) for task, best in found)
    settings: set[tuple[Axis, int]] = {
        (cut.axis, cut.setting) for piece in used for cut in cuts(piece.tree) if cut.setting is not None
    }
    return Layout(
        used=used,
        cost=sum(verdict.cost for verdict in verdicts) / unit,
        unit="price" if priced else "m2",
        bound=sum(best.floor.cost for _, best in found) / unit,
        bounds=bounds,
        offcut_value=-sum(verdict.less_offcuts for verdict in verdicts),
        settings=len(settings),
        split=_split(found),
        ended=max((best.ended for _, best in found), key=list(Ended).index),
        tried=sum(best.tried for _, best in found),
    )


def _bound(task: Task, best: Best, unit: int) -> Bound:
    scale = best.floor.scale
    return Bound(best.floor.cost / unit, None if scale is None else scale_of(task, scale), every_way=best.every_way)


def _used(task: Task, best: Best) -> list[Used]:
    if best.trial is None:
        raise AssertionError("a layout without a trial")
    copies: dict[int, int] = {}
    used = []
    for stock, root in best.trial.bins:
        copies[stock] = copies.get(stock, 0) + 1
        used.append(Used(task.stocks[stock], copies[stock], frozen(root, task.beds[stock], task.wants, task.rules)))
    return used


def _split(found: list[tuple[Task, Best]]) -> tuple[str, ...]:
    return tuple(
        sorted({task.words[word] for task, best in found if best.trial is not None for word in best.trial.split})
    )
