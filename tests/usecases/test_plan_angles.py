"""A job with miters gets no stock verdict and no ticket for square cuts that would spoil its parts."""

from pathlib import Path

from tests.job.test_angles import BY_HAND, FRAME, STOCK

from trued.usecases.plan.plan_job import plan_job

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"


def test_a_mitered_frame_gets_neither_stock_verdict_nor_ticket() -> None:
    view = plan_job(STOCK + FRAME, shop=SHOP, effort=20)
    assert {one.code for one in view.problems if one.about in ("picture_rail", "picture_stile")} == {
        "angles-not-planned"
    }
    assert view.layout is None and view.tickets == () and view.not_good
    assert "infeasible" not in {one.code for one in view.problems}
    assert any(fit.expected is not None for fit in view.fits)


def test_only_the_other_parts_are_laid_out_and_cut() -> None:
    view = plan_job(STOCK + BY_HAND, shop=SHOP, effort=20)
    made = {part.partition("@")[0] for ticket in view.tickets for part in ticket.parts}
    assert made == {"slat"}
