"""Cuts with a number, behind a hold, or closed: what a person sees, and what the server refuses whatever is sent."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest
from tests.web.asking import Inputs, Site, words
from tests.web.test_pages import is_sound

from trued.usecases.saved.saved_plan import KeptPlan, kept_plan
from trued.web.page_context import cuts

ROOT = Path(__file__).parents[2]
RACK = (ROOT / "examples" / "rack.toml").read_text(encoding="utf-8")
CORK = """unit = "in"
[[stock]]
id = "S"
material = "cork"
length = "36"
width = "4"
thickness = "3/4"
[[part]]
id = "leg"
material = "cork"
length = "12"
width = "4"
thickness = "3/4"
"""
THICK = CORK.replace('"cork"', '"pine"').replace('thickness = "3/4"', 'thickness = "6"').replace('"4"', '"8"')
KNIFE = "Before the first rip, never checked here:"


def planned(site: Site, text: str) -> str:
    """The address of a job planned by its page."""
    answer = site.post("/jobs", [*Inputs(site.get("/jobs").text).pairs, ("text", text)])
    assert answer.status_code == 303, words(answer.text)
    return answer.headers["location"]


def plan_at(site: Site, place: str) -> KeptPlan:
    return kept_plan(place.rpartition("/")[2], site.book)


@pytest.fixture
def rack(shop: Site) -> tuple[Site, str]:
    return shop, planned(shop, RACK)


def numbers_in(page: str, plan: KeptPlan) -> set[str]:
    """Which numbers to set stand beside their station, but for the drawings of the boards and the job's text."""
    bare = re.sub(r"<(figure|pre|li class=\"card)[^>]*>.*?</(figure|pre|li)>", "", page, flags=re.DOTALL)
    return {t.said for t in plan.tickets if t.said and f"{t.cut.station}, {t.said}" in bare}


def test_a_held_number_is_nowhere_in_the_page_before_the_answer(rack: tuple[Site, str]) -> None:
    site, place = rack
    plan = plan_at(site, place)
    held = next(ticket for ticket in plan.tickets if ticket.hold and ticket.said == "13 3/8")
    here = f"{place}/cut/{held.number}"
    page = site.get(here).text
    assert "13 3/8" not in page and "13.375" not in page and "<h1>Before " in page
    assert all(text in unescape(page) for text in held.hold)
    assert 'value="done"' not in page and 'value="ready"' in page
    assert numbers_in(site.get(place).text, plan) == {t.said for t in plan.tickets if t.said and not t.hold}
    assert site.post(here, [("what", "ready")]).headers["location"] == here
    page = site.get(here).text
    assert ">13 3/8</h1>" in page and all(text in unescape(page) for text in held.hold)


def test_an_answer_stands_for_its_setting_and_falls_with_an_event(rack: tuple[Site, str]) -> None:
    """The same words are not asked twice while nothing is moved; another setting, or an event, asks again."""
    site, place = rack
    plan = plan_at(site, place)
    rips = [ticket for ticket in plan.tickets if ticket.cut.station == "rip fence"]
    group = [ticket for ticket in rips if ticket.group == rips[0].group]
    assert len(group) >= 2
    site.post(f"{place}/cut/{group[0].number}", [("what", "ready")])
    assert 'value="ready"' not in site.get(f"{place}/cut/{group[1].number}").text
    other = next(ticket for ticket in plan.tickets if ticket.group != rips[0].group and ticket.hold)
    site.post(f"{place}/cut/{other.number}", [("what", "ready")])
    assert 'value="ready"' in site.get(f"{place}/cut/{group[1].number}").text
    site.post("/changed/saw-carried", [("key", "d" * 32)])
    assert 'value="ready"' in site.get(f"{place}/cut/{other.number}").text


def test_what_was_never_checked_stands_before_the_first_rip_and_cannot_be_gone_round(rack: tuple[Site, str]) -> None:
    site, place = rack
    rips = [ticket for ticket in plan_at(site, place).tickets if ticket.cut.station == "rip fence"]
    for ticket in rips:
        told = words(site.get(f"{place}/cut/{ticket.number}").text)
        assert KNIFE in told and "riving knife alignment" in told
    for ticket in plan_at(site, place).tickets[: rips[0].number]:
        assert site.post(f"{place}/cut/{ticket.number}", [("what", "done")]).status_code == 303
    assert KNIFE not in words(site.get(f"{place}/cut/{rips[1].number}").text)


def test_a_cut_that_waits_for_another_has_no_done_and_the_server_refuses_it(rack: tuple[Site, str]) -> None:
    """*First: cut 2* once stood above a blue Done."""
    site, place = rack
    later = next(ticket for ticket in plan_at(site, place).tickets if ticket.after)
    here = f"{place}/cut/{later.number}"
    site.post(here, [("what", "ready")])
    page = site.get(here).text
    assert "Not yet" in words(page) and 'value="done"' not in page
    answer = site.post(here, [("what", "done")])
    assert answer.status_code == 409 and f"First: cut {later.after[0]}" in words(answer.text)
    is_sound(answer.text)
    assert not plan_at(site, place).begun


def test_a_cut_that_waits_for_a_fact_has_no_number_and_is_not_done(shop: Site) -> None:
    place = planned(shop, CORK)
    plan = plan_at(shop, place)
    waiting = [ticket for ticket in plan.tickets if ticket.cut.waits]
    assert waiting and plan.headline == "Not yet: a fact is missing"
    assert 'href="/shop"' in shop.get(place).text
    for ticket in waiting:
        here = f"{place}/cut/{ticket.number}"
        page = shop.get(here).text
        is_sound(page)
        assert "Do not make this cut" in page and "How heavy cork is" in words(page)
        assert 'value="done"' not in page and 'class="setting' not in page
        assert (ticket.said, ticket.beside, ticket.true) == ("", "", "")
        assert shop.post(here, [("what", "done")]).status_code == 409
    assert "not to be made now" in words(shop.get(place).text)
    numbers = ", ".join(str(ticket.number) for ticket in waiting[:2])
    assert f"{numbers}: It waits for a fact. How heavy cork is" in words(shop.get(place).text)


def test_a_part_that_no_station_makes_is_told_with_what_could(shop: Site) -> None:
    place = planned(shop, THICK)
    plan = plan_at(shop, place)
    assert plan.plan.not_made and plan.headline == "Part of it cannot be made here"
    told = words(shop.get(place).text)
    is_sound(shop.get(place).text)
    for one in plan.plan.not_made:
        assert unescape(told).count(one.could) == 1
    assert not any(one.part in ticket.cut.parts for one in plan.plan.not_made for ticket in plan.tickets)


def test_another_blade_closes_the_rips_of_a_kept_plan(rack: tuple[Site, str]) -> None:
    """No number, no Done, and the post is refused, until the knife is looked at; the other cuts stay."""
    site, place = rack
    assert site.get(f"{place}/sheets.pdf").status_code == 200
    site.post("/changed/blade-thinner", [("key", "d" * 32)])
    plan = plan_at(site, place)
    for ticket in plan.tickets:
        here = f"{place}/cut/{ticket.number}"
        page = site.get(here).text
        is_sound(page)
        if ticket.cut.station == "rip fence":
            assert "Another blade went on" in ticket.closed and "Another blade went on" in words(page)
            assert 'value="done"' not in page and 'class="setting' not in page
            assert site.post(here, [("what", "done")]).status_code == 409
            assert site.post(here, [("what", "ready")]).status_code == 303
            assert 'class="setting' not in site.get(here).text
        else:
            assert ticket.closed == ""
    job = site.get(place).text
    assert "Another blade went on" in words(job)
    assert "sheets.pdf" not in job and site.get(f"{place}/sheets.pdf").status_code == 404, "they hold the old numbers"
    again = site.post("/jobs", Inputs(job).pairs)
    assert again.status_code == 303 and again.headers["location"] != place


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("T1: made with the guided saw.", "Cut 1: made with the guided saw."),
        ("T1 to T4, T9 cannot be made yet.", "Cuts 1 to 4, 9 cannot be made yet."),
        ("Before T2: look it up.", "Before cut 2: look it up."),
        ("The T1 part is cut.", "The T1 part is cut."),
        ("Turn the blade by hand.", "Turn the blade by hand."),
    ],
)
def test_a_page_numbers_its_cuts(text: str, said: str) -> None:
    assert cuts(text) == said


def test_skipped_and_wrong_from_the_page(rack: tuple[Site, str]) -> None:
    site, place = rack
    first = plan_at(site, place).begin
    assert first is not None
    here = f"{place}/cut/{first.number}"
    page = site.get(here).text
    is_sound(page)
    key = Inputs(page).value("key")
    assert site.post(here, [("key", key), ("what", "skipped"), ("reason", " ")]).status_code == 409
    assert site.post(here, [("key", key), ("what", "skipped"), ("reason", "no <b>light</b>")]).status_code == 303
    page = site.get(here).text
    assert "no &lt;b&gt;light" in page and 'value="done"' not in page and 'value="undone"' in page
    now = plan_at(site, place).begin
    assert now is None or now.id != first.id
    assert site.post(here, [("key", Inputs(page).value("key")), ("what", "undone")]).status_code == 303
    page = site.get(here).text
    sent = [("key", Inputs(page).value("key")), ("what", "wrong"), ("size", "12 1/x")]
    assert site.post(here, sent).status_code == 409
    assert site.post(here, [*sent[:2], ("size", "12 1/2")]).status_code == 303
    assert "Cut wrong" in site.get(here).text
