"""A job by its pages: planned from a file, cut by its tickets, its parts measured."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from tests.web.asking import Inputs, Site, words
from tests.web.test_pages import is_sound

from trued.store.rows import MarkRow
from trued.usecases.saved.saved_plan import kept_plan, list_plans
from trued.usecases.shop.shop_now import opened

JOB = (Path(__file__).parents[2] / "examples" / "rack.toml").read_text(encoding="utf-8")
HOSTILE = "<img src=x onerror=alert(1)>"


@pytest.fixture
def planned(shop: Site) -> tuple[Site, str]:
    """A shop with the rack planned by its page, and the address of the plan."""
    form = Inputs(shop.get("/jobs").text)
    answer = shop.upload(
        "/jobs", {"key": form.value("key"), "kerf": "", "text": ""}, {"file": ("r.toml", JOB.encode())}
    )
    assert answer.status_code == 303, words(answer.text)
    return shop, answer.headers["location"]


def test_a_plan_by_its_pages(planned: tuple[Site, str]) -> None:
    """The rack's 12 lengths and widths come from one board; the fits stand with their chance, and the sheets print."""
    site, place = planned
    page = site.get(place).text
    is_sound(page)
    told = words(page)
    assert "Rack between two studs, version 1" in told
    plan = kept_plan(place.rpartition("/")[2], site.book)
    for fit in plan.fits:
        assert fit.name in told and f"{fit.chance} ({fit.beside})" in told
        assert fit.beside == "assumed", "an empty book has shown nothing of it"
    assert any(line.startswith("Cut the length of shelf last") for line in plan.better)
    assert all(line in told and f"{line}." not in told for line in plan.better)
    assert plan.together and plan.together in told
    assert "A1: 1/2 to 30 1/2 from the reference end, 0 to 3 1/2 from the reference edge; A2: 1/2 to 30 1/2" in told
    assert page.count('class="drawing"') == len(plan.boards) + sum(fit.drawing is not None for fit in plan.fits)
    pdf = site.get(f"{place}/sheets.pdf")
    assert pdf.content.startswith(b"%PDF-") and pdf.headers["content-type"] == "application/pdf"


def test_every_ticket_has_a_page(planned: tuple[Site, str]) -> None:
    site, place = planned
    plan = kept_plan(place.rpartition("/")[2], site.book)
    for ticket in plan.tickets:
        page = site.get(f"{place}/cut/{ticket.number}").text
        is_sound(page)
        if 'value="ready"' in page:
            assert f">{ticket.said}</h1>" not in page
            site.post(f"{place}/cut/{ticket.number}", [("what", "ready")])
            page = site.get(f"{place}/cut/{ticket.number}").text
            is_sound(page)
        if ticket.said:
            assert f">{ticket.said}</h1>" in page
        assert page.index("WARNING") < page.index("<h1")
    assert site.get(f"{place}/cut/{len(plan.tickets) + 1}").status_code == 404
    assert site.get(f"{place}/cut/0").status_code == 404


def test_a_line_for_the_guided_saw_is_told_with_its_measure(shop: Site) -> None:
    text = (Path(__file__).parents[2] / "examples" / "carcass.toml").read_text(encoding="utf-8")
    place = shop.post("/jobs", [*Inputs(shop.get("/jobs").text).pairs, ("text", text)]).headers["location"]
    plan = kept_plan(place.rpartition("/")[2], shop.book)
    lines = [ticket for ticket in plan.tickets if ticket.cut.station == "guided saw" and ticket.said]
    assert lines
    for ticket in lines:
        shop.post(f"{place}/cut/{ticket.number}", [("what", "ready")])
        page = shop.get(f"{place}/cut/{ticket.number}").text
        told = words(page)
        assert "MARK THE LINE AT" in told and f">{ticket.said}</h1>" in page
        assert f"at {ticket.said}" in ticket.cut.text and "from the reference" in told
        assert "LEAVE" not in told, "every line is drawn by itself"


def test_done_and_not_done_after_all(planned: tuple[Site, str]) -> None:
    """Nothing moves on by itself, and marking twice is marking once."""
    site, place = planned
    for _ in range(2):
        answer = site.post(f"{place}/cut/1", [("what", "done")])
        assert answer.headers["location"] == f"{place}/cut/1"
    assert "cut 1 of" in words(site.get(f"{place}/cut/1").text) and "Undo: not cut" in site.get(f"{place}/cut/1").text
    assert "Go on with cut 2" in site.get(place).text
    plan = kept_plan(place.rpartition("/")[2], site.book)
    assert plan.begun and [ticket.done for ticket in plan.tickets[:2]] == [True, False]
    site.post(f"{place}/cut/1", [("what", "undone")])
    assert list_plans(site.book)[0].done == 0


def test_a_cut_that_waits_for_another_says_so(planned: tuple[Site, str]) -> None:
    site, place = planned
    plan = kept_plan(place.rpartition("/")[2], site.book)
    later = next(ticket for ticket in plan.tickets if ticket.cut.after)
    assert "Not yet" in site.get(f"{place}/cut/{later.number}").text
    for id in later.cut.after:
        number = next(ticket.number for ticket in plan.tickets if ticket.id == id)
        site.post(f"{place}/cut/{number}", [("what", "done")])
    assert "Not yet" not in site.get(f"{place}/cut/{later.number}").text


def test_the_list_does_not_change_while_somebody_cuts(planned: tuple[Site, str]) -> None:
    """What was planned stays as it was told, whatever happens to the saw after it; only its sheets are held back."""
    site, place = planned
    before = site.get(f"{place}/cut/3").text
    sheets = f'<p><a class="button" href="{place}/sheets.pdf">Sheets to print (PDF)</a></p>'
    assert sheets in before
    assert "Since this was planned" not in before + site.get(place).text
    site.post("/changed/blade-thinner", [("key", "d" * 32)])
    since = "Since this was planned: new blade, thinner kerf. Plan again before you cut."
    for path in (place, f"{place}/cut/3"):
        is_sound(site.get(path).text)
        assert since in words(site.get(path).text)
    after = site.get(f"{place}/cut/3").text
    stayed = after.replace(f'<p class="look"><strong>Look</strong> {since}</p>', "")
    key = re.compile(r'name="key" value="\w+"')  # each page that is drawn has one of its own
    assert key.sub("", stayed).split() == key.sub("", before.replace(sheets, "")).split()


def test_the_same_job_sent_twice_is_one_plan(shop: Site) -> None:
    pairs = [*Inputs(shop.get("/jobs").text).pairs, ("text", JOB)]
    places = {shop.post("/jobs", pairs).headers["location"] for _ in range(2)}
    assert len(places) == 1 and len(list_plans(shop.book)) == 1


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "Choose a job file, or paste its text."),
        ("this is no job", "read"),
        (JOB.replace('length = "30"', f'length = "{HOSTILE}"'), "length"),
        (JOB.replace('name = "Rack between two studs"', f'name = "{HOSTILE}'), ""),
    ],
)
def test_a_job_that_is_refused_comes_back_as_it_was(text: str, said: str, shop: Site) -> None:
    answer = shop.post("/jobs", [*Inputs(shop.get("/jobs").text).pairs, ("text", text)])
    assert answer.status_code == 422
    is_sound(answer.text)
    assert "Nothing was planned" in answer.text and said in answer.text
    assert HOSTILE not in answer.text
    assert list_plans(shop.book) == ()


def test_a_hostile_name_is_only_a_name(shop: Site) -> None:
    text = JOB.replace("Rack between two studs", HOSTILE)
    answer = shop.post("/jobs", [*Inputs(shop.get("/jobs").text).pairs, ("text", text)])
    assert answer.status_code == 303, words(answer.text)
    place = answer.headers["location"]
    for path in ("/jobs", place, f"{place}/cut/1", f"{place}/measured"):
        page = shop.get(path).text
        is_sound(page)
        assert HOSTILE not in page and "&lt;img" in page


def test_a_job_that_cannot_be_cut_says_so_and_has_no_cuts(shop: Site) -> None:
    """One board of 60 in cannot give what needs 72 in: the sum of the lengths alone is more."""
    text = JOB.replace('length = "72"', 'length = "60"')
    answer = shop.post("/jobs", [*Inputs(shop.get("/jobs").text).pairs, ("text", text)])
    place = answer.headers["location"]
    told = words(shop.get(place).text)
    assert "It cannot be made from this stock" in told and "Short by" in told
    assert "Everything fits" not in told
    assert shop.get(f"{place}/cut/1").status_code == 404
    assert shop.get(f"{place}/measured").status_code == 200


def test_a_file_that_is_no_text(shop: Site) -> None:
    answer = shop.upload("/jobs", {"key": "e" * 32, "kerf": "", "text": ""}, {"file": ("r.toml", b"\xff\xfe\x00")})
    assert answer.status_code == 422 and "This file is no text" in answer.text


def test_a_kerf_that_cannot_be_read_is_named_as_its_field(shop: Site) -> None:
    """A page has no command-line words."""
    answer = shop.upload("/jobs", {"key": "e" * 32, "kerf": "-", "text": JOB}, {})
    assert answer.status_code == 422 and "<strong>Kerf:</strong>" in answer.text and "--kerf" not in answer.text


def test_measured_parts(planned: tuple[Site, str]) -> None:
    """A part 0.02 in short of 30 in with a tolerance of 1/64 in is out, whatever else; sent twice it is one run."""
    site, place = planned
    form = Inputs(site.get(f"{place}/measured").text)
    is_sound(site.get(f"{place}/measured").text)
    pairs = form.filled({"m.side@1": ["29.98"], "with": ["rule-1"]})
    pairs = [pair for pair in pairs if pair[0] != "with"] + [("with", "rule-1")]
    bad = site.post(f"{place}/measured", pairs)
    assert bad.status_code == 422 and "reads to" in bad.text and 'value="29.98"' in bad.text
    pairs = [(name, "tape" if name == "with" else value) for name, value in pairs]
    places = {site.post(f"{place}/measured", pairs).headers["location"] for _ in range(2)}
    assert len(places) == 1
    page = site.get(places.pop()).text
    is_sound(page)
    assert "Side 1 length: " in words(page) and " in short, ±" in words(page)
    with opened(site.book) as book:
        assert len(book.runs()) == 1


def test_a_measured_part_is_asked_for_with_the_unit_of_its_size(planned: tuple[Site, str]) -> None:
    site, place = planned
    assert "meant to be 13 3/8 (+0.0004) in" in words(site.get(f"{place}/measured").text)


def test_measured_parts_that_cannot_be_read(planned: tuple[Site, str]) -> None:
    site, place = planned
    form = Inputs(site.get(f"{place}/measured").text)
    assert site.post(f"{place}/measured", form.pairs).status_code == 422
    typed = {"m.side@1": ["1,500"], "m.side@2": [HOSTILE], "more": ["nothing@1=3"]}
    answer = site.post(f"{place}/measured", form.filled(typed))
    assert answer.status_code == 422
    is_sound(answer.text)
    back = Inputs(answer.text)
    assert back.value("m.side@1") == "1,500" and back.value("m.side@2") == HOSTILE
    assert HOSTILE not in answer.text
    wrong = [given["name"] for tag, given in back.tags if tag == "input" and given.get("aria-invalid")]
    assert wrong == ["m.side@1", "m.side@2"] and "no part or fit called nothing" in answer.text


def test_an_answer_that_is_gone_leads_back_to_the_job(planned: tuple[Site, str]) -> None:
    site, place = planned
    assert site.get(f"{place}/measured/{'f' * 32}").headers["location"] == place


def test_the_cautions_of_the_plan_stand_on_its_page_and_before_its_first_cut(planned: tuple[Site, str]) -> None:
    """Eye and ear protection, no gloves and all the rest: once each, before any number is set."""
    site, place = planned
    plan = kept_plan(place.rpartition("/")[2], site.book)
    assert len(plan.plan.cautions) >= 10 and plan.safety
    for path in (place, f"{place}/cut/1"):
        page = site.get(path).text
        for caution in (*plan.safety, *plan.plan.cautions):
            told = (
                caution.partition(": ")[2] if caution.startswith("Before T") else caution
            )  # its cut has its name there
            assert unescape(words(page)).count(told) == 1, caution
        assert "Before the first cut" in page
    assert plan.tickets[0].cut.text[:20] not in words(page)
    site.post(f"{place}/cut/1", [("what", "ready")])
    page = site.get(f"{place}/cut/1").text
    assert plan.tickets[0].cut.text[:20] in words(page) and plan.plan.cautions[0] not in unescape(words(page))
    site.post(f"{place}/cut/1", [("what", "done")])
    assert plan.plan.cautions[0] not in words(site.get(f"{place}/cut/2").text)


def test_a_misspelt_key_of_a_kept_plan_shows_no_page_of_it(planned: tuple[Site, str]) -> None:
    """The page that lost its safety lines by a misspelt key is not shown at all."""
    site, place = planned
    id = place.rpartition("/")[2]
    with opened(site.book) as book:
        row = next(row for row in book.plans() if row.id == id)
        bad = replace(row, id="d" * 32, version="9", json=row.json.replace('"safety"', '"safty"', 1))
        book.add_plan(bad, [])
    for path in (f"/jobs/{bad.id}", f"/jobs/{bad.id}/cut/1"):
        answer = site.get(path)
        assert answer.status_code == 503 and "safty" in answer.text and "Plan the job again" in answer.text
        is_sound(answer.text)
    assert "cannot be read" in words(site.get("/jobs").text)


def test_a_plan_of_an_older_version_shows_its_marks_and_is_planned_again(planned: tuple[Site, str]) -> None:
    site, place = planned
    id = place.rpartition("/")[2]
    with opened(site.book) as book:
        row = next(row for row in book.plans() if row.id == id)
        old = replace(row, id="d" * 32, version="9", json=row.json.replace('"format":2,', "", 1))
        book.add_plan(old, [])
        book.add_marks([MarkRow("e" * 32, old.id, "T1", "done", row.made)])
    page = site.get(f"/jobs/{old.id}").text
    is_sound(page)
    told = words(page)
    assert "Planned by an older version of trued" in told and "Done so far, by its own numbers: cut 1." in told
    assert "Set " not in told and "13 3/8" not in told.partition("The job as it was planned")[0]
    assert "of another version of trued" in words(site.get("/jobs").text)
    assert site.get(f"/jobs/{old.id}/cut/2").status_code == 404
    answer = site.post("/jobs", Inputs(page).pairs)
    assert answer.status_code == 303 and answer.headers["location"] != place
