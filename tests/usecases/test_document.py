"""The plan is one typed thing: what is kept comes back whole or not at all, and every surface shows its cautions."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from trued.cli.text.plan import told
from trued.errors import BookRefused, InputRefused
from trued.job.groups import CutGroup
from trued.plan.document import FORMAT, PlanDocument, PlanGroup
from trued.render.values import TicketSheet
from trued.store.ids import new_id
from trued.store.rows import PlanRow
from trued.usecases.plan.document import document_of
from trued.usecases.plan.formats import OtherFormat, groups_in, read_plan, written
from trued.usecases.plan.plan_job import plan_job
from trued.usecases.plan.planned import PlanView
from trued.usecases.plan.sheets import sheets_of
from trued.usecases.plan.words import not_yet_words
from trued.usecases.saved.mark_ticket import mark_ticket
from trued.usecases.saved.saved_plan import KeptOther, find_plan, kept_plan, list_plans
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import opened

ROOT = Path(__file__).parents[2]
NOW = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)
RACK = (ROOT / "examples" / "rack.toml").read_text(encoding="utf-8")
Kept = tuple[PlanView, Path]
Change = Callable[[dict[str, object]], object]


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    """The rack, planned in a book of the example shop."""
    book = tmp_path_factory.mktemp("plan") / "shop.trued"
    describe_shop(ROOT / "examples" / "shop.toml", book)
    return plan_job(RACK, book=book, effort=200, at=NOW), book


def plain_of(kept: Kept) -> dict[str, object]:
    """The kept text, parsed."""
    with opened(kept[1]) as book:
        text = next(row.json for row in book.plans() if row.id == kept[0].kept)
    parsed: dict[str, object] = json.loads(text)
    return parsed


def another(kept: Kept, plain: object) -> str:
    """A further plan in that book, of that text."""
    id = new_id()
    with opened(kept[1]) as book:
        job = next(iter(book.jobs()))
        book.add_plan(PlanRow(id, job.id, f"x{id}", 1, json.dumps(plain), NOW), [])
    return id


def test_what_is_kept_comes_back_to_the_last_bit(kept: Kept) -> None:
    plan = document_of(kept[0])
    assert plan.format == FORMAT == 2
    assert read_plan(written(plan)) == plan
    assert kept_plan(kept[0].kept, kept[1]).plan == plan


def test_every_misspelt_key_of_plan_and_ticket_is_told_never_left_out(kept: Kept) -> None:
    """Four misspelt keys once passed all gates and took the safety lines off the page."""
    whole = plain_of(kept)
    order = whole["order"]
    assert isinstance(order, list)
    for at, holder in (("", whole), ("order[0].", order[0])):
        for key in list(holder):
            if key == "format":
                continue
            value = holder.pop(key)
            holder[f"{key}_"] = value
            with pytest.raises(BookRefused, match="Plan the job again") as refused:
                read_plan(json.dumps(whole))
            assert f"{at}{key}" in str(refused.value)
            del holder[f"{key}_"]
            holder[key] = value
    assert read_plan(json.dumps(whole)) == document_of(kept[0])


def test_a_damaged_plan_shows_nothing_and_hides_no_other(kept: Kept) -> None:
    id = another(kept, {**plain_of(kept), "safety": None})
    with pytest.raises(BookRefused, match=r"safety.*Plan the job again"):
        kept_plan(id, kept[1])
    lines = {line.id: line for line in list_plans(kept[1])}
    assert lines[id].other == "cannot be read" and lines[kept[0].kept].other == ""


def test_a_plan_of_an_older_version_is_told_to_be_one_and_keeps_its_marks(kept: Kept) -> None:
    plain = plain_of(kept)
    del plain["format"], plain["made"]
    plain["order"] = [{"id": "T1"}, {"id": "T2"}]
    id = another(kept, plain)
    with opened(kept[1]) as book:
        from trued.store.rows import MarkRow

        book.add_marks([MarkRow(new_id(), id, "T1", "done", NOW)])
    found = find_plan(id, kept[1])
    assert isinstance(found, KeptOther)
    assert found.said.startswith("Planned by an older version") and found.line.marked == ("T1",)
    line = next(line for line in list_plans(kept[1]) if line.id == id)
    assert (line.tickets, line.done, line.other) == (2, 1, "of another version of trued")
    for refused in (lambda: kept_plan(id, kept[1]), lambda: mark_ticket(id, "T2", kept[1], what="done")):
        with pytest.raises(InputRefused, match="older version"):
            refused()


def test_a_plan_of_a_newer_version_is_told_to_be_one(kept: Kept) -> None:
    found = read_plan(json.dumps({**plain_of(kept), "format": FORMAT + 1}))
    assert isinstance(found, OtherFormat) and found.said.startswith("Planned by a newer version")


def test_a_text_that_is_no_plan_is_refused() -> None:
    for text in ("", "[]", "3", '{"format": "2"}', '{"order": 3}', "{}"):
        with pytest.raises(BookRefused, match="cannot be read"):
            read_plan(text)


def test_the_settings_of_each_copy_come_back_whole_in_both_formats(kept: Kept) -> None:
    """Which way the ends of a part lean was once kept and not read again."""
    plan = document_of(kept[0])
    group = CutGroup("S1", "S2", "sled", "B1/1", "rip fence", 762.0, None, (1, -1))
    changed = replace(plan, groups=(PlanGroup("side", 1, group),))
    found = groups_in(written(changed))
    assert found is not None and found["side", 1] == group
    row = {"part": "side", "copy": 1, **json.loads(written(changed))["groups"][0]["group"]}
    old = groups_in(json.dumps({"order": [], "groups": [row]}))
    assert old is not None and old["side", 1] == group
    for bad in ([{**row, "station_": "x"}], [{"part": "side"}], None, 3, [3]):
        assert groups_in(json.dumps({"order": [], "groups": bad})) is None


def test_terminal_and_paper_tell_every_caution_of_the_plan_before_the_first_cut(kept: Kept) -> None:
    plan = document_of(kept[0])
    cautions = (*not_yet_words(plan), *plan.cautions)
    assert any("Eye and ear protection" in caution for caution in cautions)
    assert any(caution.startswith("Before the first rip") for caution in cautions)
    words = " ".join(told(plan, more=True).split())
    assert all(words.count(caution) == 1 for caution in plan.cautions)
    assert all(words.index(caution) < words.index("CUT ORDER") for caution in cautions)
    sheet = next(sheet for sheet in sheets_of(plan) if isinstance(sheet, TicketSheet))
    assert sheet.cautions == cautions


def test_one_document_is_all_that_the_terminal_shows(kept: Kept) -> None:
    """What was kept and read again is printed to the same words."""
    again = read_plan(written(document_of(kept[0])))
    assert isinstance(again, PlanDocument) and told(again) == told(document_of(kept[0]))
