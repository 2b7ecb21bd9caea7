"""Whole jobs planned through the one door, held against what was worked out by hand and against the checker."""

import re
from collections import Counter
from datetime import UTC, datetime
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from trued.errors import InputRefused
from trued.job.job import Method
from trued.plan.from_job import rules_of, stocks_of, wants_of
from trued.plan.layout.cut_tree import parts
from trued.plan.layout.verifier import violations_of
from trued.render.values import FitSheet
from trued.store.opening import open_book
from trued.usecases.plan.document import answer_of, document_of
from trued.usecases.plan.plan_job import plan_job
from trued.usecases.plan.planned import PlanView
from trued.usecases.plan.sheets import sheets_of
from trued.usecases.plan.words import against_words, better_words, cost_words, headline_words, together_words
from trued.usecases.shop.describe_shop import describe_shop

ROOT = Path(__file__).parents[2]
SHOP = ROOT / "examples" / "shop.toml"
NOW = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)


def text_of(name: str) -> str:
    """A job of the examples or of the variants made for tests."""
    places = (ROOT / folder / f"{name}.toml" for folder in ("examples", "tests/data/jobs"))
    return next(path for path in places if path.exists()).read_text(encoding="utf-8")


@cache
def planned(name: str, **more: object) -> PlanView:
    """The job in the shop of the examples."""
    return plan_job(text_of(name), shop=SHOP, at=NOW, **more)  # type: ignore[arg-type]


def codes(view: PlanView) -> Counter[str]:
    """How often each problem came up."""
    return Counter(problem.code for problem in view.problems)


@pytest.mark.parametrize(
    ("name", "pieces", "count"),
    [
        ("rack", {"B1": 1}, 8),
        ("rack_scaled", {"B1": 1}, 8),
        ("drawers", {"ply": 1, "thin ply": 1}, 15),
        ("drawers_scaled", {"ply": 1, "thin ply": 1}, 15),
        ("carcass", {"ply": 1}, 5),
        ("carcass_scaled", {"ply": 1}, 5),
        ("carcass_48_turning", {"ply": 1}, 5),
    ],
)
def test_parts_and_stock_are_those_counted_by_hand(name: str, pieces: dict[str, int], count: int) -> None:
    view = planned(name)
    assert view.layout is not None and view.order is not None
    assert Counter(used.stock.id for used in view.layout.used) == pieces
    assert sum(1 for used in view.layout.used for _ in parts(used.tree)) == count
    rules = rules_of(view.job, view.kerf.mm)
    assert violations_of(view.layout, stocks_of(view.job), wants_of(view.job), rules) == ()
    assert view.order.settings >= view.order.bound
    assert not {"infeasible", "no-stock", "no-station"} & codes(view).keys()


def test_kerf_is_the_blades_and_kept_from_the_job() -> None:
    assert planned("rack").kerf.mm == Fraction("2.3876")
    assert planned("rack").kerf.assumed
    given = planned("rack", kerf="0.087").kerf
    assert (given.mm, given.assumed) == (Fraction("2.2098"), False)


@pytest.mark.parametrize("name", ["carcass_48_grain", "rack_rough", "rack_knot"])
def test_what_does_not_fit_is_a_result_that_names_the_method(name: str) -> None:
    view = planned(name)
    assert view.layout is None and view.order is None and view.tickets == ()
    (one,) = (problem for problem in view.problems if problem.code == "infeasible")
    assert ("rough" if view.job.method is Method.ROUGH else "continuous") in one.text
    assert view.not_good
    assert all(fit.expected is not None for fit in view.fits)  # reckoned as if each part had one setting


def test_rough_rack_is_short_by_what_the_hand_sum_says() -> None:
    # 69.642 + 4 x 1/2 + 4 x 0.094 + 1/2 = 72.518 in of 72.
    (one,) = (problem for problem in planned("rack_rough").problems if problem.code == "infeasible")
    assert "B1 is short by 0.517" in one.text or "B1 is short by 0.518" in one.text
    assert "every blank is first cut 1/2 longer" in one.text


def test_lengths_that_add_up_and_still_leave_one_over() -> None:
    # Boards 96 and 72, 1/2 off each end, kerf 1/8; four of 24 and two of 30: one 24 is over.
    boards = "".join(
        f'[[stock]]\nid = "B{size}"\nlength = "{size}"\nwidth = "4"\nthickness = "3/4"\nhave = 1\n'
        'trim_ends = ["1/2", "1/2"]\n'
        for size in (96, 72)
    )
    wanted = "".join(
        f'[[part]]\nid = "p{size}"\nquantity = {many}\nlength = "{size}"\nwidth = "4"\nthickness = "3/4"\n'
        for size, many in ((24, 4), (30, 2))
    )
    view = plan_job(f'unit = "in"\n{boards}{wanted}', kerf="1/8", at=NOW)
    (one,) = (problem for problem in view.problems if problem.code == "infeasible")
    assert "Short by one p24" in one.text


@pytest.mark.parametrize(
    ("step", "set_to", "true"),
    [("", "339.5 mm", "13.3754 (nearest 1/64: 13 3/8)"), ('scale_step = "1/64in"', "13 3/8 in", "339.7 mm")],
)
def test_a_stop_is_told_as_its_own_scale_is_marked(tmp_path: Path, step: str, set_to: str, true: str) -> None:
    """A shop in millimetres and a job in inches, and the other way about: 13.3754 in is 339.74 mm, set to half ones."""
    text = SHOP.read_text(encoding="utf-8").replace('unit = "in"', 'unit = "mm"').replace('scale_step = "1/64"', step)
    shop = tmp_path / "metric.toml"
    shop.write_text(re.sub(r'"(\d[\d /.]*)"(?! =)', r'"\1in"', text), encoding="utf-8")
    view = plan_job(text_of("rack"), shop=shop, unit="mm" if step else "in", effort=200, at=NOW)
    shelf = next(ticket for ticket in view.tickets if ticket.text.endswith("shelf@1, shelf@2"))
    assert shelf.scale_text == set_to and shelf.wanted_text == true
    rips = {ticket.scale_text for ticket in view.tickets if ticket.station == "rip fence"}
    assert all(said.endswith(" mm") for said in rips)


def test_sizes_and_costs_are_told_with_what_they_are_in() -> None:
    view = planned("rack")
    layout = document_of(view).layout
    assert layout is not None
    assert cost_words(layout, "in") == "Stock 11.50 (lowest possible)."
    parts = answer_of(document_of(view))["parts"]
    assert isinstance(parts, list) and all(str(part["text"]).endswith(" in") for part in parts)  # type: ignore[index, call-overload]


def test_rack_settings_and_fits() -> None:
    view = planned("rack")
    assert view.order is not None
    assert (view.order.settings, view.order.bound) == (5, 5)
    assert [fit.name for fit in view.fits] == ["shelf in its dados", "rack between the studs", "shelves alike"]
    assert [fit.meant_mm / 25.4 for fit in view.fits] == pytest.approx([1 / 64, 1 / 16, 0])
    alike = view.fits[2].expected
    assert alike is not None and alike.mean_mm == pytest.approx(0)
    # One setting gave both: nothing of scale or setting is left in their difference.
    assert not {"stop scale", "setting the stop"} & alike.shares.keys()


def test_without_a_shop_nothing_is_claimed_that_rests_on_one() -> None:
    view = plan_job(text_of("rack"), kerf="0.094", at=NOW)
    assert codes(view)["no-shop"] == 1
    answer = answer_of(document_of(view))
    assert answer["support"] is None
    assert answer["true_first"] == [] and answer["do_not_bother"] == [] and answer["safety"] == []
    assert view.tickets == () and view.order is None and view.layout is not None  # sizes and layout only
    assert all(fit.expected is None for fit in view.fits)


def test_without_any_kerf_it_says_what_to_give() -> None:
    with pytest.raises(InputRefused, match="give --kerf"):
        plan_job(text_of("rack"), at=NOW)
    with pytest.raises(InputRefused, match="above 0"):
        plan_job(text_of("rack"), kerf="0", at=NOW)


@pytest.mark.parametrize(
    ("plate", "kerf", "taken"),
    [("0.067", "0.068", True), ("0.067", "0.201", True), ("0.067", "0.202", False), ("0.067", "0.066", False)],
)
def test_a_kerf_of_job_or_blade_is_no_thinner_than_the_plate_and_no_wider_than_three(
    tmp_path: Path, plate: str, kerf: str, taken: bool
) -> None:
    """The teeth are set or ground wider than the plate, never three times as wide (common practice)."""
    job = text_of("rack").replace('unit = "in"', f'unit = "in"\nkerf = "{kerf}"', 1)
    marked, plain = tmp_path / "marked.toml", tmp_path / "plain.toml"
    marked.write_text(f'unit = "in"\n[blade]\nid = "b"\nplate = "{plate}"\nkerf = "{kerf}"\n', encoding="utf-8")
    plain.write_text(f'unit = "in"\n[blade]\nid = "b"\nplate = "{plate}"\n', encoding="utf-8")
    for text, shop in ((text_of("rack"), marked), (job, plain)):
        if taken:
            assert float(plan_job(text, shop=shop, effort=1, at=NOW).kerf.mm) == pytest.approx(float(kerf) * 25.4)
        else:
            with pytest.raises(InputRefused, match="plate"):
                plan_job(text, shop=shop, effort=1, at=NOW)


def test_parts_short_of_stock_leave_no_chance_of_the_whole() -> None:
    """Some parts have no board: what is left out cannot go together with the rest."""
    for text in (
        text_of("rack_rough"),
        text_of("rack").replace(
            'id = "rail"\nquantity = 2\nmaterial = "pine"', 'id = "rail"\nquantity = 2\nmaterial = "ash"'
        ),
    ):
        view = plan_job(text, shop=SHOP, effort=50, at=NOW)
        assert "cannot be made from this stock" in document_of(view).short[0]
        answer = answer_of(document_of(view))
        assert answer["job_chance"] is None and answer["job_chance_with_test_pieces"] is None
        assert all(fit.expected is not None for fit in view.fits)


def test_kerf_written_in_the_job_serves_where_no_blade_is_known(tmp_path: Path) -> None:
    view = plan_job(text_of("rack_scaled"), at=NOW)
    assert (view.kerf.mm, view.kerf.source) == (Fraction("2.2098"), "written in the job")
    bare = tmp_path / "shop.toml"
    bare.write_text('trued = 1\nname = "bare"\n[saw]\nid = "saw"\n', encoding="utf-8")
    assert plan_job(text_of("rack_scaled"), shop=bare, at=NOW).kerf.mm == Fraction("2.2098")


def test_same_seed_same_plan() -> None:
    one, two = (plan_job(text_of("drawers"), shop=SHOP, seed=3, effort=60, at=NOW) for _ in range(2))
    assert document_of(one) == document_of(two)


def test_seconds_only_cut_the_search_short() -> None:
    view = planned("drawers", seconds=60.0)
    assert answer_of(document_of(view)) == answer_of(document_of(planned("drawers")))
    assert planned("drawers", seconds=1e-9).layout is not None


def test_part_larger_than_all_stock_is_refused() -> None:
    large = text_of("rack").replace('length = "30"', 'length = "80"')
    with pytest.raises(InputRefused, match="fits on no piece of stock"):
        plan_job(large, shop=SHOP, at=NOW)


def test_part_of_a_wood_that_is_not_there_does_not_stop_the_rest() -> None:
    other = text_of("rack").replace(
        'id = "rail"\nquantity = 2\nmaterial = "pine"', 'id = "rail"\nquantity = 2\nmaterial = "oak"'
    )
    view = plan_job(other, shop=SHOP, at=NOW)
    assert codes(view)["no-stock"] == 1
    assert view.layout is not None
    assert {part.want for used in view.layout.used for part in parts(used.tree)} == {"side", "shelf"}


def test_job_without_any_stock_still_judges_its_fits() -> None:
    text = text_of("rack")
    start, end = text.index("[[stock]]"), text.index("[[part]]")
    view = plan_job(text[:start] + text[end:], shop=SHOP, at=NOW)
    assert view.layout is None and codes(view)["no-stock"] == 3
    assert all(fit.expected is not None for fit in view.fits)


def test_held_back_parts_are_told_and_never_cut() -> None:
    view = planned("carcass")
    assert codes(view)["held-back"] == 1
    assert not any(name.startswith("door") for ticket in view.tickets for name in ticket.parts)


def test_what_carries_a_cut_is_its_first_step() -> None:
    view = planned("rack")
    assert view.support is not None and [one.ticket for one in view.support] == ["T2", "T3", "T4", "T5"]
    first = {ticket.id: ticket.before for ticket in view.tickets}
    assert first["T1"] == ()
    assert [len(first[id]) for id in ("T2", "T3", "T4", "T5")] == [3, 3, 3, 1]
    assert all("Set the blade" in steps[0] for id, steps in first.items() if id != "T1")
    assert first["T2"][1].startswith("Clamp the piece") and "41 1/2 in of it hangs free" in first["T2"][2]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book of the example shop."""
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    return path


def test_plan_and_its_chances_are_kept_in_the_book(book: Path) -> None:
    first = plan_job(text_of("rack"), book=book, at=NOW)
    second = plan_job(text_of("rack"), book=book, at=NOW)
    assert (first.version, second.version) == ("1", "2")
    with open_book(book) as kept:
        (job,) = kept.jobs()
        assert (job.name, job.text) == ("Rack between two studs", text_of("rack"))
        plans = kept.plans(job=job.id)
        assert [plan.id for plan in plans] == [first.kept, second.kept] or len(plans) == 2
        told = {told.stated.fit: told.stated.chance for told in kept.told(plan=first.kept)}
    assert told == {fit.name: pytest.approx(fit.expected.chance) for fit in first.fits if fit.expected}


def test_measured_kerf_of_the_book_is_used(book: Path) -> None:
    from trued.usecases.runs.run_check import run_check

    typed = ["whole:rule=24", "keeper_piece:rule=11.91", "offcut_piece:rule=12"]
    run_check("kerf", typed, {}, book=book, at=NOW)
    kerf = plan_job(text_of("rack"), book=book, at=NOW).kerf
    assert kerf.source == "measured here" and not kerf.assumed
    assert float(kerf.mm) == pytest.approx(0.09 * 25.4, abs=1e-3)


def test_measured_offset_moves_the_stop(book: Path) -> None:
    from trued.usecases.runs.run_check import run_check

    before = {ticket.id: ticket.setting_mm for ticket in plan_job(text_of("rack"), book=book, at=NOW).tickets}
    typed = [f"measured@{size}:rule={size + 0.0625}" for size in (6, 12, 20)] * 2
    run_check("stop-scale", typed, {"angle": "0"}, book=book, at=NOW)
    after = {ticket.id: ticket.setting_mm for ticket in plan_job(text_of("rack"), book=book, at=NOW).tickets}
    # Parts come out 1/16 long: every stop goes 1/16 lower, the rip fence stays.
    assert before["T2"] is not None and after["T2"] is not None
    assert (before["T2"] - after["T2"]) / 25.4 == pytest.approx(1 / 16, abs=1 / 64)
    assert before["T6"] == after["T6"]


def test_the_sheet_leads_with_the_whole_and_says_what_would_make_it_likelier() -> None:
    """The same sentences on paper as on the terminal, first of all whether it goes together."""
    view = planned("rack")
    sheet = next(iter(sheets_of(document_of(view))))
    assert isinstance(sheet, FitSheet)
    plan = document_of(view)
    danger, insert, headline, whole = sheet.notes[:4]
    assert danger.startswith("Before the first rip, never checked here:"), "what can hurt comes before anything else"
    assert "The insert was never checked here" in insert
    assert headline == f"{headline_words(plan)}."
    assert whole == together_words(plan) and whole.startswith("Everything fits: ")
    assert any(note.startswith("Cut the length of shelf last, to what it goes into") for note in sheet.notes)
    assert set(better_words(document_of(view))) <= set(sheet.notes)
    short = next(iter(sheets_of(document_of(planned("rack_rough")))))
    assert short.notes[0].startswith("The job cannot be made from this stock")


def test_sheets_are_written_whole(tmp_path: Path) -> None:
    view = planned("rack", out=tmp_path / "new" / "sheets")
    assert [path.name for path in view.sheets] == ["rack-between-two-studs.pdf"]
    assert view.sheets[0].read_bytes().startswith(b"%PDF")
    assert [path.name for path in view.sheets[0].parent.iterdir()] == ["rack-between-two-studs.pdf"]


def test_sheets_of_a_job_that_cannot_be_laid_out_show_its_fits(tmp_path: Path) -> None:
    assert len(planned("rack_knot", out=tmp_path).sheets) == 1


def test_nothing_to_print_is_no_sheet(tmp_path: Path) -> None:
    text = '[[part]]\nid = "leg"\nlength = "10"\nwidth = "3"\nthickness = "1"\n'
    assert plan_job(text, kerf="1/8", out=tmp_path, at=NOW).sheets == ()
    assert list(tmp_path.iterdir()) == []


def test_folder_that_cannot_be_written_keeps_nothing(tmp_path: Path, book: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("here", encoding="utf-8")
    with pytest.raises(InputRefused, match="cannot be written"):
        plan_job(text_of("rack"), book=book, out=blocked, at=NOW)
    with open_book(book) as kept:
        assert kept.jobs() == () and kept.plans() == ()
    assert blocked.read_text(encoding="utf-8") == "here"


def test_what_would_tip_at_its_usual_station_is_a_warning() -> None:
    """The first crosscut of the rack's board tips off the sled, so it goes to the guided saw."""
    told = against_words(document_of(planned("rack")))
    warned = [text for text in told if "tipping" in text]
    assert warned and all(text.startswith("WARNING: T1: made with the guided saw") for text in warned)
