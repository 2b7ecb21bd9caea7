"""Why there is no layout, with what anyone needs to check it."""

from trued.plan.bounds.boards import lengths_of
from trued.plan.bounds.scales import Weighing
from trued.plan.layout.free_pieces import Bed
from trued.plan.layout.pieces import Rect
from trued.plan.layout.result import Miss, NotFound, Reason, Scale, TooLarge, TooMuch
from trued.plan.layout.task import Task
from trued.plan.search.best import Best
from trued.plan.search.exact import shortfall


def too_large(task: Task) -> TooLarge | None:
    """The first part that no piece of stock can hold, with the largest free rectangles."""
    for number, want in enumerate(task.wants):
        if not any(_holds(task, stock, number) for stock in range(len(task.stocks))):
            rooms = tuple(
                (stock.id, max(free_rooms(bed), key=lambda room: room.area))
                for stock, bed in zip(task.stocks, task.beds, strict=True)
                if free_rooms(bed)
            )
            return TooLarge(want.id, want.length + task.rules.allowance, want.width, rooms)
    return None


def _holds(task: Task, stock: int, want: int) -> bool:
    bed = task.beds[stock]
    lies = task.lies[stock][want]
    if not bed.defects:
        return bool(lies)
    rooms = free_rooms(bed)
    return any(lie[0] <= room.length and lie[1] <= room.width for lie in lies for room in rooms)


def free_rooms(bed: Bed) -> list[Rect]:
    """Every largest rectangle of the bed that holds no defect."""
    rooms = [Rect(bed.x, bed.y, bed.length, bed.width)]
    for mark in bed.defects:
        cut = [piece for room in rooms for piece in (_around(room, mark) if room.overlaps(mark) else [room])]
        rooms = [room for room in dict.fromkeys(cut) if not any(_inside(room, other) for other in cut)]
    return rooms


def _around(room: Rect, mark: Rect) -> list[Rect]:
    sides = (
        (room.x, room.y, mark.x - room.x, room.width),
        (mark.end_x, room.y, room.end_x - mark.end_x, room.width),
        (room.x, room.y, room.length, mark.y - room.y),
        (room.x, mark.end_y, room.length, room.end_y - mark.end_y),
    )
    return [Rect(*side) for side in sides if side[2] > 0 and side[3] > 0]


def _inside(room: Rect, other: Rect) -> bool:
    if room == other:
        return False
    return other.x <= room.x and room.end_x <= other.end_x and other.y <= room.y and room.end_y <= other.end_y


def no_layout(task: Task, heavy: Weighing | None, best: Best) -> Reason:
    """The reason, with the nearest miss."""
    miss = _miss(task, best, sums=heavy is None or heavy.name != "area")
    if heavy is None:
        return NotFound(best.every_way, miss)
    have = sum(task.most(stock) * capacity for stock, capacity in enumerate(heavy.capacities))
    return TooMuch(scale_of(task, heavy), heavy.need, have, miss)


def _miss(task: Task, best: Best, *, sums: bool) -> Miss:
    """What was left over in the best try, and how much longer a single piece would have to be."""
    left = best.near.missing if best.near else {}
    missing = tuple((w.id, left[n], w.length, w.width) for n, w in enumerate(task.wants) if n in left)
    pieces = [stock for stock in range(len(task.stocks)) for _ in range(min(2, task.most(stock)))]
    short = shortfall(task, pieces[0]) if len(pieces) == 1 else None
    name = task.stocks[pieces[0]].id if short is not None else ""
    return Miss(missing, lengths_of(task) is not None, sums, short, name)


def scale_of(task: Task, scale: Weighing) -> Scale:
    """A scale with ids in place of numbers."""
    weights = tuple((want.id, weight) for want, weight in zip(task.wants, scale.weights, strict=True))
    capacities = tuple((stock.id, most) for stock, most in zip(task.stocks, scale.capacities, strict=True))
    return Scale(scale.name, weights, capacities)
