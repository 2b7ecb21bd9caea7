"""The searches one by one: what each of them makes can be cut, and is repeatable."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.plan.layout_jobs import overlaps

from trued.plan.lay_out import lay_out
from trued.plan.layout.cut_tree import Cut, Sized, Used, cuts, parts
from trued.plan.layout.free_pieces import open_bed
from trued.plan.layout.freeze import frozen
from trued.plan.layout.pieces import PartGrain, Rules, Stock, Want
from trued.plan.layout.result import Layout
from trued.plan.layout.task import Task, task_of
from trued.plan.rng import Rng
from trued.plan.search.best import Best
from trued.plan.search.boards import board_filler
from trued.plan.search.decode import Recipe, decode
from trued.plan.search.exact import Box, Exhaustive, TooManyWaysError, shortfall
from trued.plan.search.objective import judge
from trued.plan.search.search import search
from trued.plan.search.sheets import number_copies, rooms_with_parts, sheet_filler, sheets_of

MM = 10_000_000
SHEET = Stock("sheet", 1200 * MM, 600 * MM)


def task(*wants: Want, stocks: tuple[Stock, ...] = (SHEET,), rules: Rules | None = None) -> Task:
    return task_of(stocks, wants, rules or Rules(3 * MM, effort=50), priced=False)


def want(name: str, copies: int, length: int, width: int, grain: PartGrain = PartGrain.ANY, together: str = "") -> Want:
    return Want(name, copies, length * MM, width * MM, grain, together=together)


def test_chance_is_the_same_everywhere() -> None:
    # First outputs of SplitMix64 for the seed 1234567, as published with its reference code (from memory).
    chance = Rng(1234567)
    whole = 1 << 64
    assert [chance.below(whole) for _ in range(3)] == [6457827717110365317, 3203168211198807973, 9817491932198370423]


@st.composite
def small_tasks(draw: st.DrawFn) -> Task:
    wants = [
        want(
            f"p{n}",
            draw(st.integers(1, 2)),
            draw(st.integers(40, 700)),
            draw(st.integers(40, 400)),
            together=draw(st.sampled_from(["", "m"])),
        )
        for n in range(draw(st.integers(1, 4)))
    ]
    trims = draw(st.sampled_from([(0, 0), (9 * MM, 0), (0, 9 * MM), (5 * MM, 5 * MM)]))
    stock = Stock("sheet", 1000 * MM, 500 * MM, trim_ends=trims, trim_edges=trims)
    rules = Rules(draw(st.sampled_from([0, 3 * MM])), remainder=draw(st.booleans()), effort=5_000)
    return task_of((stock,), tuple(wants), rules, priced=False)


@settings(max_examples=80)
@given(small_tasks())
def test_every_way_gives_layouts_that_can_be_cut(small: Task) -> None:
    """What the exhaustive search finds is a layout, and what it excludes no other search finds."""
    lengths = [small.lies[0][number] for number in range(len(small.wants))]
    if not all(lengths):
        return
    for pieces in (1, 2):
        trial = Exhaustive(small).place((0,) * pieces)
        if trial is None:
            tries = [
                decode(
                    small, Recipe(tuple((n, w.copies) for n, w in enumerate(small.wants)), fit, split), (0,) * pieces
                )
                for fit in range(4)
                for split in range(5)
            ]
            assert not any(other.complete for other in tries)
            continue
        assert trial.complete
        placed = Counter(room.part[0] for _, root in trial.bins for room in rooms_with_parts(root) if room.part)
        assert placed == Counter({number: w.copies for number, w in enumerate(small.wants)})
        for number, (stock, root) in enumerate(trial.bins):
            used = Used(small.stocks[stock], number + 1, frozen(root, small.beds[stock], small.wants, small.rules))
            assert not overlaps(used)
            for part in parts(used.tree):
                rect = part.piece
                (start, end), (low, high) = used.stock.trim_ends, used.stock.trim_edges
                assert rect.x >= start and rect.end_x <= used.stock.length - end
                assert rect.y >= low and rect.end_y <= used.stock.width - high


def test_a_piece_of_no_part_s_size_is_freed_with_room_for_its_last_cut() -> None:
    """Two parts end to end, then two one above the other: the blade between them sets no size."""
    small = task(*(want(f"p{n}", 1, 200 + n, 150 + n) for n in range(4)))
    a, b, c, d = (Box(lie[0], lie[1], False, False, lie, number) for number, (lie, *_) in enumerate(small.lies[0]))
    kerf = small.rules.kerf
    pair = Box(a.length + kerf + b.length + 1, b.width, True, False, across=True, low=a, high=b)
    stack = Box(d.length, c.width + kerf + d.width + 1, False, True, low=c, high=d)
    whole = Box(pair.length + kerf + stack.length + 1, stack.width, True, True, across=True, low=pair, high=stack)
    root = open_bed(small.beds[0], 0)
    Exhaustive(small).realise(root, whole, [0] * 4)
    tree = frozen(root, small.beds[0], small.wants, small.rules)
    assert isinstance(tree, Cut)
    assert tree.setting is None
    assert tree.position == pair.length + kerf  # room for a whole kerf behind b
    assert sorted(part.want for part in parts(tree)) == ["p0", "p1", "p2", "p3"]
    assert not overlaps(Used(small.stocks[0], 1, tree))


def test_every_way_is_given_up_where_there_are_too_many() -> None:
    many = task(*(want(f"p{n}", 2, 100 + n, 50 + n) for n in range(8)))
    exhaustive = Exhaustive(many)
    with pytest.raises(TooManyWaysError):
        exhaustive.place((0,))
    assert not exhaustive.possible
    assert shortfall(many, 0) is None


def test_every_way_is_given_up_where_the_work_is_too_much() -> None:
    small = task(*(want(f"p{n}", 3, 100 + n, 50 + n) for n in range(5)), rules=Rules(0, effort=1))
    with pytest.raises(TooManyWaysError):
        Exhaustive(small).place((0, 0))


def test_shares_are_given_up_too(monkeypatch: pytest.MonkeyPatch) -> None:
    small = task(want("p", 3, 500, 400))
    exhaustive = Exhaustive(small)
    exhaustive.ways(0)
    monkeypatch.setattr("trued.plan.search.exact.MOST_WORK", 0)
    with pytest.raises(TooManyWaysError):
        exhaustive.place((0, 0))


def test_shortfall_needs_every_part_to_lie_there() -> None:
    assert shortfall(task(want("tall", 1, 300, 700, PartGrain.LENGTH)), 0) is None
    long = task(want("p", 3, 500, 600, PartGrain.LENGTH))
    assert shortfall(long, 0) == 3 * 500 * MM + 2 * 3 * MM - 1200 * MM + 2  # two own cuts of one unit each
    far = task(want("p", 9, 500, 600, PartGrain.LENGTH))
    assert shortfall(far, 0) is None  # more than twice its length


def test_sheets_are_filled_emptied_and_filled_again() -> None:
    sheets = task(*(want(f"p{n}", 2, 400 + 41 * n, 160 + 23 * n) for n in range(7)))
    filler = sheet_filler(sheets, 3)
    left = [w.copies for w in sheets.wants]
    bins = (0, 0)
    filled = filler.fill(bins, left, 8)
    before = sum(n * w.length * w.width for n, w in zip(left, sheets.wants, strict=True))
    assert any(left)
    for _ in range(20):
        filled = filler.refill(filled, bins, left, 8)
        now = sum(n * w.length * w.width for n, w in zip(left, sheets.wants, strict=True))
        assert now <= before
        before = now
    filler.learn(left)
    placed = sum((Counter(sheet.placed) for sheet in filled), Counter(dict(enumerate(left))))
    assert placed == Counter({n: w.copies for n, w in enumerate(sheets.wants)})
    trial = filler.trial(filled, left)
    assert [s.placed for s in sheets_of(trial)] == [s.placed for s in filled]
    number_copies(trial)
    copies = [room.part[:2] for _, root in trial.bins for room in rooms_with_parts(root) if room.part]
    assert len(set(copies)) == len(copies)


def test_parts_that_no_sheet_takes_leave_it_closed() -> None:
    sheets = task(want("tall", 1, 300, 700, PartGrain.LENGTH))
    left = [1]
    assert sheet_filler(sheets, 1).fill((0,), left, 3) == []
    assert left == [1]


def test_mates_on_two_sheets_are_parted() -> None:
    mates = task(want("leg", 2, 1000, 500, together="legs"))
    filler = sheet_filler(mates, 1)
    left = [2]
    trial = filler.trial(filler.fill((0, 0), left, 3), left)
    assert trial.split == {0}
    assert Exhaustive(mates).place((0, 0)).split == {0}  # type: ignore[union-attr]
    boards = board_filler(task(want("leg", 2, 1000, 500, PartGrain.LENGTH, together="legs")))
    assert boards is not None
    assert boards.trial((0, 0)).split == {0}


def test_a_search_finds_what_the_first_answers_miss() -> None:
    """Six sheets' worth of parts on few sheets: the later stages are reached and keep to the parts."""
    wants = [want(f"p{n}", 2, 200 + 47 * (n * 7 % 11), 90 + 29 * (n * 5 % 9)) for n in range(11)]
    best = search(task(*wants, rules=Rules(3 * MM, effort=600)), ())
    assert best.trial is not None
    assert best.verdict == judge(best.task, best.trial)
    # Without scales the bound is nothing, so that every choice of fewer sheets was tried in vain.
    assert best.floor.cost <= best.verdict.cost


def three_sizes() -> tuple[Stock, ...]:
    """Sheets, halves and three quarters, the small ones dearer by area."""
    return (
        Stock("whole", 2440 * MM, 1220 * MM, price=60.0),
        Stock("half", 1220 * MM, 1220 * MM, price=34.0),
        Stock("quarter", 1220 * MM, 610 * MM, price=19.0, have=3),
    )


def test_several_sizes_are_never_dearer_than_one_alone() -> None:
    wants = tuple(want(f"p{n}", 1 + n % 3, 240 + 83 * (n * 7 % 11), 90 + 41 * (n * 5 % 9)) for n in range(12))
    rules = Rules(3 * MM, effort=400)
    several = lay_out(three_sizes(), wants, rules)
    alone = lay_out(three_sizes()[:1], wants, rules)
    assert isinstance(several, Layout) and isinstance(alone, Layout)
    assert several.cost <= alone.cost
    assert several.bound <= several.cost


def test_the_last_few_parts_move_to_a_smaller_piece() -> None:
    # 1500 fits no smaller piece; what stands over it goes to a quarter, not to a second whole sheet.
    wants = (want("long", 2, 1500, 600, PartGrain.LENGTH), want("short", 3, 900, 590, PartGrain.LENGTH))
    layout = lay_out(three_sizes(), wants, Rules(3 * MM, effort=200))
    assert isinstance(layout, Layout)
    assert Counter(used.stock.id for used in layout.used) == {"whole": 1, "quarter": 1}
    assert layout.cost == layout.bound == 79.0


def test_boards_with_a_defect_or_a_part_of_their_own_length_are_left_to_the_other_searches() -> None:
    whole = (want("p", 1, 1200, 600, PartGrain.LENGTH),)
    assert board_filler(task(*whole)) is None
    assert board_filler(task(*whole, rules=Rules(0, remainder=True))) is not None


def test_a_board_narrower_than_its_stock_is_ripped() -> None:
    boards = task(want("p", 2, 500, 400, PartGrain.LENGTH))
    filler = board_filler(boards)
    assert filler is not None
    trial = filler.trial((0,))
    tree = frozen(trial.bins[0][1], boards.beds[0], boards.wants, boards.rules)
    assert [cut.sized for cut in cuts(tree)].count(Sized.LOW) == 4


def test_best_counts_the_effort() -> None:
    best = Best(task(want("p", 1, 100, 100)), Rng(1))
    assert best.left == 0  # no round has begun
    best.begin(100)
    assert best.left == 100
    best.spend(99)
    assert best.left == 1
    assert not best.proved
