"""What holds for every plan: nothing overlaps or leaves its stock, parents come first, one reading a setting."""

from datetime import UTC, datetime
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from trued.plan.from_job import rules_of, stocks_of, wants_of
from trued.plan.layout.cut_tree import cuts, parts
from trued.plan.layout.verifier import violations_of
from trued.usecases.plan.plan_job import plan_job
from trued.usecases.plan.planned import PlanView

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
NOW = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)
LENGTHS = st.sampled_from(["4 1/2", "7", "11.3", "13 25/64", "18", "22 31/32", "30"])
WIDTHS = st.sampled_from(["1 1/4", "2 1/2", "3", "3 7/8", "6", "14 1/2"])


@st.composite
def jobs(draw: st.DrawFn) -> str:
    """A job file with a few parts that fit on its stock, and a fit for each."""
    rough = draw(st.sampled_from(["", 'method = "rough"\nrough = "1/2"\n']))
    trim = draw(st.sampled_from(['["0", "0"]', '["1/2", "1/4"]']))
    sheet = draw(st.booleans())
    size = ("96", "48") if sheet else ("96", "16")
    sheet_of = f'length = "{size[0]}"\nwidth = "{size[1]}"\nthickness = "3/4"\nprice = 10\n'
    trims = f"trim_ends = {trim}\ntrim_edges = {trim}\n"
    rows = [f'unit = "in"\n{rough}[[stock]]\nid = "S"\nmaterial = "pine"\n{sheet_of}{trims}']
    for n in range(draw(st.integers(1, 4))):
        together = draw(st.sampled_from(["", 'together = "mates"\n']))
        grain = draw(st.sampled_from(["length", "any"]))
        rows.append(
            f'[[part]]\nid = "p{n}"\nquantity = {draw(st.integers(1, 4))}\nmaterial = "pine"\n'
            f'length = "{draw(LENGTHS)}"\nwidth = "{draw(WIDTHS)}"\nthickness = "3/4"\ngrain = "{grain}"\n{together}'
            f'[[fit]]\nid = "f{n}"\nof = "p{n}.length"\nat_most = "40"\n'
        )
    return "".join(rows)


@settings(max_examples=25)
@given(text=jobs(), kerf=st.sampled_from(["0.087", "0.094", "1/8"]))
def test_every_plan_can_be_cut_as_it_says(text: str, kerf: str) -> None:
    view = plan_job(text, shop=SHOP, kerf=kerf, effort=40, at=NOW)
    assert view.layout is not None and view.order is not None
    rules = rules_of(view.job, view.kerf.mm, effort=40)
    assert violations_of(view.layout, stocks_of(view.job), wants_of(view.job), rules) == ()
    assert view.order.bound <= view.order.settings
    assert_tickets(view)
    assert_settings(view)


def assert_tickets(view: PlanView) -> None:
    assert view.layout is not None
    place = {ticket.id: n for n, ticket in enumerate(view.tickets)}
    assert len(place) == sum(1 for used in view.layout.used for _ in cuts(used.tree))
    assert all(place[before] < place[ticket.id] for ticket in view.tickets for before in ticket.after)
    cut = {name for ticket in view.tickets for name in ticket.parts}
    wanted = {f"{part.want}@{part.copy}" for used in view.layout.used for part in parts(used.tree)}
    assert cut <= wanted
    assert all(ticket.cautions for ticket in view.tickets)


def assert_settings(view: PlanView) -> None:
    """A setting has one station, one size, one reading; its reading lies on the scale, and it is moved once."""
    step = 25.4 / 64
    seen: dict[str, tuple[str, float | None, float | None]] = {}
    for ticket in view.tickets:
        if ticket.setting:
            this = ticket.station, ticket.wanted_mm, ticket.setting_mm
            assert seen.setdefault(ticket.setting, this) == this
            assert ticket.setting_mm is not None
            assert abs(ticket.setting_mm / step - round(ticket.setting_mm / step)) < 1e-6
            assert abs(ticket.remainder_mm) <= step + 1e-9
    moved = [ticket.setting for ticket in view.tickets if ticket.new_setting]
    assert sorted(moved) == sorted(set(seen)) and view.order is not None and len(moved) == view.order.settings
