"""Mates that were to share one setting and do not: which cut stands against it."""

from tests.plan.planned import inch, job, planned

from trued.job.expression.tree import Side
from trued.job.file.read import read_job
from trued.job.job import Job
from trued.plan.layout.cut_tree import Axis, Cut, Node, Part, Sized, Used, Waste
from trued.plan.layout.pieces import Rect, Stock
from trued.plan.order.order import Order, order_cuts
from trued.plan.stations.station import Reach
from trued.plan.tickets.split_settings import SplitSetting, parted

K = inch(0.125)


def mates(quantity: int = 2) -> Job:
    return read_job(
        f'[[part]]\nid = "leg"\nquantity = {quantity}\nlength = "10"\nwidth = "3"\nthickness = "3/4"\n'
        'together = "legs"\n'
    )


def found(here: Job, *trees: Cut, reach: Reach | None = None) -> tuple[SplitSetting, ...]:
    boards = [Used(Stock(f"B{n}", tree.piece.length, tree.piece.width), 1, tree) for n, tree in enumerate(trees, 1)]
    return parted(here, boards, order_cuts(boards, reach or Reach(crosscut=inch(14), rip=inch(24))))


def across(rect: Rect, at: int, low: Node | None, high: Node | None, sized: Sized = Sized.LOW) -> Cut:
    return Cut(rect, Axis.ACROSS, at, K, low, high, sized)


def leg(rect: Rect, copy: int) -> Part:
    return Part(Rect(rect.x, rect.y, inch(10), rect.width), "leg", copy)


def rest(rect: Rect, at: int) -> Rect:
    return Rect(rect.x + at + K, rect.y, rect.length - at - K, rect.width)


def test_mates_of_the_rack_share_their_settings() -> None:
    here = planned("rack")
    assert parted(here.job, here.layout.used, here.order) == ()


def test_setting_between_two_mates_of_one_board_is_named() -> None:
    # leg at 10, then a blank at 20 that holds the second leg: 10, 20, 10.
    board = Rect(0, 0, inch(50), inch(3))
    second = rest(board, inch(10))
    blank = Rect(second.x, 0, inch(20), inch(3))
    inner = across(blank, inch(10), leg(blank, 2), Waste(rest(blank, inch(10))))
    tree = across(board, inch(10), leg(board, 1), across(second, inch(20), inner, Waste(rest(second, inch(20)))))
    (one,) = found(mates(), tree)
    assert (one.word, one.side) == ("legs", Side.LENGTH)
    assert one.text == (
        "leg@1 gets its length at T1 and leg@2 at T3: T2 needs another setting of the sled first, and frees the second "
        "of them."
    )


def test_mates_at_two_stations_and_with_the_guided_saw() -> None:
    # The second leg is cut out of a panel too deep for the sled, at the rip fence with its longer edge.
    board, panel = Rect(0, 0, inch(30), inch(3)), Rect(0, 0, inch(16), inch(20))
    strip = Rect(0, 0, inch(10), inch(20))
    ripped = Cut(
        strip,
        Axis.ALONG,
        inch(3),
        K,
        Part(Rect(0, 0, inch(10), inch(3)), "leg", 2),
        Waste(Rect(0, inch(3) + K, inch(10), inch(17) - K)),
    )
    first = across(board, inch(10), leg(board, 1), Waste(rest(board, inch(10))))
    second = across(panel, inch(10), ripped, Waste(rest(panel, inch(10))))
    (one,) = found(mates(), first, second)
    assert one.text.endswith("one is cut at the sled, the other on the rip fence.") or "the other at the" in one.text
    (other,) = found(mates(), first, second, reach=Reach(crosscut=inch(14), fence=False))
    assert "guided saw, where no stop holds them alike" in other.text


def test_guided_mates_are_told_to_be_clamped_together() -> None:
    here = planned("carcass")
    told = parted(here.job, here.layout.used, here.order)
    assert {one.word for one in told} >= {"sides"}
    assert all("Clamp the mates together" in one.text for one in told)


def test_settings_saved_elsewhere_are_told_as_such() -> None:
    # Two boards of their own: nothing stands between the legs but the order itself, so make one by hand.
    boards = [Rect(0, 0, inch(30), inch(3)), Rect(0, 0, inch(40), inch(3))]
    trees = [across(rect, inch(10), leg(rect, n), Waste(rest(rect, inch(10)))) for n, rect in enumerate(boards, 1)]
    used = [Used(Stock(f"B{n}", t.piece.length, t.piece.width), 1, t) for n, t in enumerate(trees, 1)]
    order = order_cuts(used, Reach())
    first, second = order.cuts
    apart = Order((first, second.__class__(second.task, second.index, 3)), 3, 3, 0)
    (one,) = parted(mates(), used, apart)
    assert one.text.endswith("one setting for both would cost more settings elsewhere.")


def test_parts_without_the_word_are_free() -> None:
    assert "together" not in {part.together for part in job("carcass").parts if part.id == "shelf"}
