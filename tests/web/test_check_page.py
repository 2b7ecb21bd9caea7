"""The form of a check, made from its declaration: what was typed comes back, with every fault beside its field."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.web.asking import Inputs, Site, words
from tests.web.test_pages import is_sound

from trued.usecases.shop.list_checks import list_checks
from trued.usecases.shop.shop_now import opened

CHECKS = {check.id: check for check in list_checks()}
ANEW = ("answer", "same-strip=anew")
STRIP = {"r.fence_end": ["1.0120"], "r.free_end": ["1.0500"], "r.length": ["15"]}
HOSTILE = "<script>alert(1)</script>\"'&{{ 7*7 }}"


def form_of(site: Site, id: str) -> Inputs:
    return Inputs(site.get(f"/checks/{id}").text)


def example_of(id: str) -> dict[str, list[str]]:
    """The fields of a check's own worked example."""
    typed: dict[str, list[str]] = {}
    for given in CHECKS[id].example.given:
        name, _, value = given.partition("=")
        if name.startswith("--"):
            typed.setdefault(f"f.{name.removeprefix('--')}", []).append(value)
            continue
        bare, _, place = name.partition("@")
        if isinstance(CHECKS[id].ask(bare).stations, int):
            typed.setdefault(f"at.{bare}", []).append(place)
            name = bare
        typed.setdefault(f"r.{name}", []).append(value)
    for fact, value in CHECKS[id].example.facts:
        typed[f"f.{fact}"] = [value]
    return typed


@pytest.mark.parametrize("id", CHECKS)
def test_the_example_of_every_check_goes_through_its_page(id: str, empty: Site) -> None:
    """No page is written for a check: its declaration alone makes form, result and drawing."""
    form = form_of(empty, id)
    answer = empty.post(f"/checks/{id}", form.filled(example_of(id)))
    assert answer.status_code == 303, words(answer.text)
    assert answer.headers["location"] == f"/runs/{form.value('key')}"
    page = empty.get(answer.headers["location"])
    assert page.status_code == 200
    is_sound(page.text)
    assert all(text.split("=")[-1] in page.text for text in CHECKS[id].example.given if not text.startswith("--"))


@pytest.mark.parametrize("id", CHECKS)
def test_a_page_says_all_of_the_check(id: str, still: Site) -> None:
    check, told = CHECKS[id], still.get(f"/checks/{id}").text
    from markupsafe import escape

    texts = (*check.at_hand, *check.cautions, *(s.text for s in check.steps), *(s.caution for s in check.steps))
    for text in texts:
        assert str(escape(text)) in told
    caution = next((step for step in check.steps if step.caution), None)
    if caution is not None:
        assert told.index(str(escape(caution.caution))) < told.index(str(escape(caution.text)))


def test_facts_of_the_book_are_not_asked_again(shop: Site, empty: Site) -> None:
    names = {name for name, _ in form_of(shop, "five-cut").pairs}
    assert not any(name.startswith("f.") for name in names)
    assert "the side of the blade on which the keeper lies: left" in words(shop.get("/checks/five-cut").text)
    told = empty.get("/checks/five-cut").text
    assert 'name="f.radius"' in told and 'name="f.keeper"' in told


def test_the_move_is_one_huge_line_with_picture_and_text(shop: Site) -> None:
    form = form_of(shop, "five-cut")
    run = shop.post("/checks/five-cut", form.filled(STRIP)).headers["location"]
    again = form_of(shop, "five-cut")
    run = shop.post("/checks/five-cut", [*again.filled(STRIP), ANEW]).headers["location"]
    page = shop.get(run).text
    told = words(page)
    # Taper over four lengths times the distance to the screw, by hand: 0.038 / 60 * 18 = 0.0114 in; some is held back.
    amount = re.search(r"Move the left end of the fence away from you, (0\.\d{4}) in at the screw\. WARNING", told)
    assert amount is not None and 0.008 < float(amount[1]) <= 0.0114
    assert "Full move 0.0114 in at the screw" in page
    assert page.count('class="drawing"') == 1 and 'class="d-line d-move"' in page
    assert told.index("WARNING Saw unplugged") < told.index("At the screw, clamp a block")
    assert told.index("WARNING Hands at least 6 in from the kerf") > told.index("Then cut all five again")


def test_stop_is_as_large_as_a_move(shop: Site) -> None:
    runs = []
    for digit in ("1", "2", "3"):
        typed = {"r.fence_end": ["1.0120"], "r.free_end": [f"1.012{digit}"], "r.length": ["15"]}
        answer = shop.post("/checks/five-cut", [*form_of(shop, "five-cut").filled(typed), ANEW])
        runs.append(answer.headers["location"])
    page = shop.get(runs[-1]).text
    assert "In tolerance. Leave it." in words(page) and "Move the" not in words(page)


def test_all_faults_beside_their_fields_and_nothing_lost(shop: Site) -> None:
    form = form_of(shop, "five-cut")
    typed = {
        "r.fence_end": ["1,500", "0.9"],
        "r.middle": ["0.501"],
        "r.free_end": ["abc", "1.05"],
        "r.length": [""],
        "unit": ["mm"],
    }
    answer = shop.post("/checks/five-cut", form.filled(typed))
    assert answer.status_code == 422
    is_sound(answer.text)
    back = Inputs(answer.text)
    for name in ("r.fence_end", "r.middle", "r.free_end"):
        assert [value for found, value in back.pairs if found == name and value] == typed[name]
    assert back.value("unit") == "mm" and back.value("key") == form.value("key")
    wrong = [given["id"] for tag, given in back.tags if tag == "input" and given.get("aria-invalid")]
    assert wrong == ["r.fence_end.0", "r.free_end.0", "r.length.0"]
    assert "A comma with three digits" in answer.text and "Nothing is typed here yet." in answer.text
    assert "Not saved yet" in answer.text
    with opened(shop.book) as book:
        assert book.runs() == ()


def test_readings_that_contradict_each_other_come_back_with_a_sentence(shop: Site) -> None:
    form = form_of(shop, "five-cut")
    typed = {"r.fence_end": ["1.0120"], "r.free_end": ["25.7"], "r.length": ["15"]}
    answer = shop.post("/checks/five-cut", form.filled(typed))
    assert answer.status_code == 422
    assert 'value="25.7"' in answer.text and 'role="alert"' in answer.text


def test_places_that_are_lengths(shop: Site) -> None:
    form = form_of(shop, "stop-scale")
    typed = {"at.measured": ["4", "", "x"], "r.measured": ["4.003", "6.001", "7.001"]}
    answer = shop.post("/checks/stop-scale", form.filled(typed))
    assert answer.status_code == 422
    back = Inputs(answer.text)
    assert [value for name, value in back.pairs if name == "at.measured"] == ["4", "", "x"]
    wrong = [given["id"] for tag, given in back.tags if tag == "input" and given.get("aria-invalid")]
    assert wrong == ["r.measured.1", "r.measured.2", "f.angle"]


def test_one_reading_more_needs_no_script(shop: Site) -> None:
    form = form_of(shop, "five-cut")
    answer = shop.post("/checks/five-cut", [*form.filled(STRIP), ("more", "free_end")])
    assert answer.status_code == 200
    back = Inputs(answer.text)
    assert sum(name == "r.free_end" for name, _ in back.pairs) == 3
    assert back.value("r.free_end") == "1.0500" and back.value("r.length") == "15"
    with opened(shop.book) as book:
        assert book.runs() == ()


def test_the_same_form_twice_is_one_run(shop: Site) -> None:
    pairs = form_of(shop, "five-cut").filled(STRIP)
    places = {shop.post("/checks/five-cut", pairs).headers["location"] for _ in range(3)}
    assert len(places) == 1
    with opened(shop.book) as book:
        assert len(book.runs()) == 1


def test_a_key_of_a_stranger_is_not_taken(shop: Site) -> None:
    pairs = [(n, "../../x" if n == "key" else v) for n, v in form_of(shop, "five-cut").filled(STRIP)]
    answer = shop.post("/checks/five-cut", pairs)
    assert re.fullmatch("/runs/[0-9a-f]{32}", answer.headers["location"])


def test_read_with_another_instrument(shop: Site) -> None:
    typed = STRIP | {"with.length": ["rule-1"], "with.free_end": ["caliper-1"]}
    run = shop.post("/checks/five-cut", form_of(shop, "five-cut").filled(typed)).headers["location"]
    assert "length: 15 rule-1" in words(shop.get(run).text)


@pytest.mark.parametrize("id", CHECKS)
def test_hostile_text_in_every_field(id: str, still_empty: Site) -> None:
    page = still_empty.get(f"/checks/{id}").text
    names = {given["name"] or "" for tag, given in Inputs(page).tags if tag == "input" and given.get("name")}
    pairs = [(name, HOSTILE) for name in sorted(names | {"with.length", "more"})]
    answer = still_empty.post(f"/checks/{id}", [pair for pair in pairs if pair[0] not in ("more", "fixture")])
    assert answer.status_code == 422
    assert "<script>alert" not in answer.text and "49" not in re.findall(r'value="([^"]*)"', answer.text)
    is_sound(answer.text)
    assert still_empty.post(f"/checks/{id}", pairs).status_code == 404  # there is no such fixture


OWN = """
from trued.checks.kerf import CHECK as KERF
from dataclasses import replace

OWN = (replace(KERF.features[0], name="own-kerf"),)
CHECK = replace(KERF, id="own-kerf", title="My own <kerf>", features=OWN, also=KERF.features)
"""


def test_a_check_of_the_persons_own_has_a_page_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shop: Site
) -> None:
    folder = tmp_path / "checks"
    folder.mkdir()
    (folder / "own_kerf.py").write_text(OWN, encoding="utf-8")
    assert "own-kerf" not in shop.get("/checks").text
    monkeypatch.setenv("TRUED_CHECKS", str(folder))
    assert "My own &lt;kerf&gt;" in shop.get("/checks").text
    page = shop.get("/checks/own-kerf")
    assert page.status_code == 200
    is_sound(page.text)
    typed = {"r.whole": ["24.000"], "r.keeper_piece": ["11.874"], "r.offcut_piece": ["12.001"], "unit": ["in"]}
    answer = shop.post("/checks/own-kerf", Inputs(page.text).filled(typed))
    assert answer.status_code in (303, 422)
