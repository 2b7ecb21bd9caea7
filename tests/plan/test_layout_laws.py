"""Laws of every layout, on random jobs: the checker, a second check of corners in the tests, and the bound."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.plan.layout_jobs import overlaps

from trued.plan.lay_out import lay_out
from trued.plan.layout.cut_tree import Cut, cuts, parts, walk
from trued.plan.layout.pieces import PartGrain, Rect, Rules, Stock, StockGrain, Want
from trued.plan.layout.result import Layout
from trued.plan.layout.verifier import violations_of

MM = 10_000_000


@st.composite
def stocks(draw: st.DrawFn) -> tuple[Stock, ...]:
    made = []
    for number in range(draw(st.integers(1, 3))):
        length, width = draw(st.integers(300, 2500)), draw(st.integers(60, 1300))
        trims = st.sampled_from([(0, 0), (0, 0), (12, 12), (0, 20), (15, 0), (1, 0)])
        ends, edges = draw(trims), draw(trims)
        marks = []
        for _ in range(draw(st.sampled_from([0, 0, 0, 1, 2]))):
            x, y = draw(st.integers(0, length - 2)), draw(st.integers(0, width - 2))
            size = draw(st.integers(1, length - x)), draw(st.integers(1, min(80, width - y)))
            marks.append(Rect(x * MM, y * MM, min(size[0], 120) * MM, size[1] * MM))
        made.append(
            Stock(
                f"S{number}",
                length * MM,
                width * MM,
                have=draw(st.sampled_from([None, None, 1, 2, 3])),
                price=draw(st.sampled_from([None, 10.0, 14.5])),
                trim_ends=(ends[0] * MM, ends[1] * MM),
                trim_edges=(edges[0] * MM, edges[1] * MM),
                grain=draw(st.sampled_from(list(StockGrain))),
                offcut=draw(st.sampled_from([False, False, True])),
                defects=tuple(marks),
            )
        )
    return tuple(made)


@st.composite
def wants(draw: st.DrawFn) -> tuple[Want, ...]:
    return tuple(
        Want(
            f"p{number}",
            draw(st.integers(1, 5)),
            draw(st.integers(20, 900)) * MM,
            draw(st.integers(10, 300)) * MM,
            draw(st.sampled_from(list(PartGrain))),
            together=draw(st.sampled_from(["", "", "pair"])),
        )
        for number in range(draw(st.integers(1, 6)))
    )


def rules_for_laws() -> st.SearchStrategy[Rules]:
    return st.builds(
        Rules,
        kerf=st.sampled_from([0, 24_000_000, 32_000_000]),
        allowance=st.sampled_from([0, 0, 0, 12 * MM, 13 * MM + 1]),
        remainder=st.booleans(),
        seed=st.integers(0, 5),
        effort=st.just(12),
    )


@settings(max_examples=150)
@given(stocks(), wants(), rules_for_laws())
def test_every_layout_can_be_cut_as_stated(stock: tuple[Stock, ...], want: tuple[Want, ...], rules: Rules) -> None:
    answer = lay_out(stock, want, rules)
    if not isinstance(answer, Layout):
        assert answer.text()
        return
    # lay_out has replayed it already; this is the second, independent look.
    assert not violations_of(answer, stock, want, rules)
    assert not any(overlaps(used) for used in answer.used)
    assert sum(1 for used in answer.used for _ in parts(used.tree)) == sum(w.copies for w in want)
    assert answer.bound <= answer.cost + 1e-9
    for used in answer.used:
        area = sum(node.piece.area for node in walk(used.tree) if not isinstance(node, Cut))
        dust = sum(cut.kerf * cut.run for cut in cuts(used.tree))
        assert area + dust == used.stock.area  # nothing is lost, and the kerf is paid once a cut


@settings(max_examples=30)
@given(stocks(), wants(), rules_for_laws())
def test_the_same_seed_gives_the_same_layout(stock: tuple[Stock, ...], want: tuple[Want, ...], rules: Rules) -> None:
    assert lay_out(stock, want, rules) == lay_out(stock, want, rules)


@settings(max_examples=60)
@given(stocks(), wants(), st.sampled_from([16_000_000, 32_000_000]))
def test_kerf_folds_into_the_sizes(stock: tuple[Stock, ...], want: tuple[Want, ...], kerf: int) -> None:
    """Adding k to every part side and to every stock side turns cutting with a kerf into cutting without, exactly."""
    plain = tuple(replace(s, trim_ends=(0, 0), trim_edges=(0, 0), defects=()) for s in stock)
    with_kerf = lay_out(plain, want, Rules(kerf, remainder=True, effort=12))
    larger_stock = tuple(replace(s, length=s.length + kerf, width=s.width + kerf) for s in plain)
    larger_parts = tuple(replace(w, length=w.length + kerf, width=w.width + kerf) for w in want)
    without = lay_out(larger_stock, larger_parts, Rules(0, remainder=True, effort=12))
    for one, other in ((with_kerf, without), (without, with_kerf)):
        if isinstance(one, Layout):  # then nothing may be proved against the other
            assert isinstance(other, Layout) or not other.reason.proven
    if isinstance(with_kerf, Layout):
        for used in with_kerf.used:
            whole = Rect(0, 0, used.stock.length + kerf, used.stock.width + kerf)
            grown = [_grown(part.piece, kerf) for part in parts(used.tree)]
            assert all(piece.end_x <= whole.end_x and piece.end_y <= whole.end_y for piece in grown)
            assert not any(a.overlaps(b) for i, a in enumerate(grown) for b in grown[:i])


def _grown(piece: Rect, kerf: int) -> Rect:
    return Rect(piece.x, piece.y, piece.length + kerf, piece.width + kerf)
