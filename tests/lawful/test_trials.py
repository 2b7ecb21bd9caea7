"""Every trial is refused with its way out, on every surface: JSON, terminal, paper, page, strict."""

from __future__ import annotations

from html import unescape
from pathlib import Path

import pytest
from tests.lawful.plans import NOW, codes, faults, planned, stations
from tests.lawful.trials import TRIALS, Trial
from tests.render.pdf_reading import text_of
from tests.web.asking import Site, words

from trued.cli.main import main
from trued.equipment.saw import BANS
from trued.usecases.shop.describe_shop import describe_shop


def book_of(trial: Trial, folder: Path) -> Path:
    """A book of the trial's shop, with all that was typed into it."""
    file, book = folder / "of_book.toml", folder / "shop.trued"
    file.write_text(trial.shop, encoding="utf-8")
    describe_shop(file, book)
    for hours, do in enumerate(trial.done, 1):
        do(book, hours)
    return book


def on_saw_rips(plan: dict) -> list[str]:  # type: ignore[type-arg]
    return [
        t["id"]
        for t in plan["order"]
        if t["station"] == "rip fence" or (t["station"] == "sled" and t["work"]["run"] == "along")
    ]


@pytest.mark.parametrize("trial", TRIALS, ids=lambda trial: trial.name)
def test_trial(trial: Trial, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    book = book_of(trial, tmp_path)
    more = dict(trial.plan)
    beside = more.pop("beside", None)
    plan = planned(trial.job, beside, tmp_path, book=book, at=NOW, effort=60, out=tmp_path / "out", **more)
    # Nothing that breaks a hard rule; nothing at a station that is closed; the way out is taken.
    assert faults(plan, trial.shop, trial.known, kerf_in=trial.kerf_in) == []
    assert not set(stations(plan)) & trial.gone
    assert trial.rips or on_saw_rips(plan) == []
    assert plan["order"] or trial.not_made or trial.code == "angles-not-planned"
    assert not trial.code or trial.code in codes(plan)
    assert plan["not_good"] or not trial.strict
    assert bool(plan["not_made"]) is trial.not_made
    waiting = [ticket for ticket in plan["order"] if ticket["waits"]]
    assert bool(waiting) is bool(trial.waits) and all(t["setting_mm"] is None for t in waiting)
    assert not trial.waits or any(trial.waits in ticket["waits"] for ticket in waiting)
    assert not trial.first or any(trial.first in step for ticket in plan["order"] for step in ticket["before"])
    on_every_surface(trial, plan, book, tmp_path, capsys)


def on_every_surface(
    trial: Trial,
    plan: dict,
    book: Path,
    folder: Path,
    capsys: pytest.CaptureFixture[str],  # type: ignore[type-arg]
) -> None:
    """What is said, and what is done first, on terminal, paper and page; a strict call ends with 1."""
    job = folder / "job.toml"
    job.write_text(trial.job, encoding="utf-8")
    call = ["plan", str(job), "--book", str(book), "--at", NOW.isoformat(), "--effort", "60", "--strict"]
    call += ["--kerf", trial.plan["kerf"]] if "kerf" in trial.plan else []
    call += ["--shop", str(folder / "shop.toml")] if "beside" in trial.plan else []
    status = main([*call, "--more"])
    terminal = " ".join(capsys.readouterr().out.split())
    assert status == (1 if plan["not_good"] else 0)
    paper = " ".join(text_of(Path(plan["sheets"][0]).read_bytes(), folder).split()) if plan["sheets"] else ""
    site = Site.of(book)
    place = f"/jobs/{plan['plan']}"
    page = unescape(words(site.get(place).text))
    cuts = {}
    for number, ticket in enumerate(plan["order"], 1):
        if ticket["before"] or ticket["unchecked"] or ticket["waits"]:
            cuts[ticket["id"]] = unescape(words(site.get(f"{place}/cut/{number}").text))
    for where, told in (("terminal", terminal), ("paper", paper), ("page", f"{page} {' '.join(cuts.values())}")):
        if where == "paper" and not plan["sheets"]:
            continue
        assert trial.said in told, where
        assert trial.first in told, where
        assert trial.waits in told, where
    for number, ticket in enumerate(plan["order"], 1):
        if ticket["id"] not in cuts or not ticket["scale_text"]:
            continue
        # Behind a hold the number is not there before what must be done is ticked.
        assert ">{}</h1>".format(ticket["scale_text"].partition(" (")[0]) not in site.get(f"{place}/cut/{number}").text
        break


def test_there_are_forty_and_each_of_the_eight_bans_changes_a_plan() -> None:
    """A word of the maker's that nothing reads is a fault: every one of them stands in a trial of its own."""
    assert len(TRIALS) >= 40 and len({trial.name for trial in TRIALS}) == len(TRIALS)
    tried = {word for word in BANS for trial in TRIALS if any(f'["{word}"]' in new for new in trial.change.values())}
    assert tried == set(BANS)


def test_a_shop_file_alone_counts_as_never_checked_and_no_shop_at_all_tells_no_cut(tmp_path: Path) -> None:
    from tests.lawful.plans import RACK, SHOP

    alone = planned(RACK, SHOP, tmp_path)
    assert faults(alone, SHOP) == [] and "never-checked" in codes(alone) and alone["not_good"]
    assert len([ticket for ticket in alone["order"] if ticket["unchecked"]]) >= 1
    none = planned(RACK, None, tmp_path, kerf="0.094")
    assert faults(none, None) == [] and none["order"] == [] and none["layout"] is not None
