"""A 27th check is one file in a folder: everything else takes part without being told of it.

The roller stand of `tests/checks/outside/` is found as a person's own checks are. Nothing in `src/`, in the docs or in
the benchmarks names it; each test walks one road on which its features go.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import pytest
from benchmarks.planted import declared
from benchmarks.planted.kind import counted
from tests.cli.calling import SHOP, Call, caller
from tests.web.asking import Inputs, Site

from trued.checks import check_ids
from trued.standing.feature import feature_of, find_feature
from trued.usecases.standing.feature_history import feature_history
from trued.usecases.standing.history_sheet import history_pdf

OUTSIDE = Path(__file__).parent / "outside"
ROOT = Path(__file__).parents[2]
LOW = ("table=5.0000", "table=5.0000", "roller=4.9500", "roller=4.9500")
LEVEL = ("table=5.0000", "table=5.0000", "roller=4.9900", "roller=4.9900")
FULL = "saw.roller-step"


@pytest.fixture(autouse=True)
def _outside(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TRUED_CHECKS", str(OUTSIDE))


@pytest.fixture
def trued(capsys: pytest.CaptureFixture[str]) -> Call:
    return caller(capsys)


@pytest.fixture
def book(tmp_path: Path, trued: Call) -> Path:
    """The example shop; the roller read twice today, untouched between, and low both times."""
    path = tmp_path / "shop.trued"
    assert trued("shop", SHOP, "--book", path).status == 0
    assert trued("check", "roller-stand", *LOW, "--book", path, "--at", ago(6)).status == 0
    assert trued("check", "roller-stand", *LOW, "--book", path, "--at", ago(5), "--answer", "anew").status == 0
    return path


def ago(hours: int) -> str:
    return (datetime.now().astimezone() - timedelta(hours=hours)).isoformat(timespec="seconds")


def raised(trued: Call, book: Path) -> None:
    """The roller raised as ordered, and read level twice after it."""
    assert trued("moved", "roller-step", "up", "0.040in", "--book", book, "--at", ago(4)).status == 0
    for hours in (3, 2):
        again = ("--book", book, "--at", ago(hours), *(("--answer", "anew") if hours == 2 else ()))
        assert trued("check", "roller-stand", *LEVEL, *again).status == 0


def status(trued: Call, book: Path) -> dict[str, object]:
    rows = trued("standing", "--book", book, "--json").json["standings"]
    found: dict[str, object] = next(row for row in rows if row["feature"] == FULL)
    return found


def test_nothing_else_names_it() -> None:
    """Its file, its test: were another file to be edited for it, the word would stand there."""
    rooms = (ROOT / "src", ROOT / "benchmarks", ROOT / "docs")
    files = [path for room in rooms for path in room.rglob("*") if path.suffix in (".py", ".md", ".html", ".typ")]
    assert len(files) > 400
    naming = [path for path in files if "roller-s" in path.read_text(encoding="utf-8")]
    assert naming == [] and "roller-stand" not in check_ids()


def test_it_is_listed_and_explained(trued: Call, capsys: pytest.CaptureFixture[str]) -> None:
    assert "Roller stand: level with the table?" in trued("checks").out
    listed = trued("checks", "--json").json["checks"]
    assert next(one for one in listed if one["id"] == "roller-stand")["features"] == ["roller-step", "roller-repeat"]
    with pytest.raises(SystemExit) as done:
        trued("check", "roller-stand", "--help")
    out = capsys.readouterr().out
    assert done.value.code == 0 and "Saw unplugged, battery out." in out and "lifted" in out


def test_a_run_without_a_book_has_its_words_and_limits(trued: Call) -> None:
    answer = trued("check", "roller-stand", *LOW, "--json").json
    step = answer["estimates"][0]
    assert step["value"] == pytest.approx(0.050 * 25.4) and step["decision"] == "proven-out"
    assert step["tolerance"] == pytest.approx([0.0, 0.020 * 25.4])
    out = trued("check", "roller-stand", *LOW).out
    assert "roller height" in out.lower() and "low" in out and "Raise the roller 0.0400 in" in out


def test_what_can_hurt_is_said_first(trued: Call) -> None:
    proud = ("table=5.0000", "table=5.0000", "roller=5.0500", "roller=5.0500")
    answer = trued("check", "roller-stand", *proud, "--json").json
    assert answer["warnings"][0]["code"] == "roller-proud" and answer["warnings"][0]["act"] == "danger"


def test_its_ask_declares_its_blunders(trued: Call) -> None:
    for readings, code in (
        (("table=5", "roller=0"), "no-size"),
        (("table=5", "table=127", "roller=4.95"), "unit-slip"),
    ):
        refused = trued("check", "roller-stand", *readings, "--json")
        assert refused.status == 2 and code in [fault["where"] for fault in refused.json["error"]["faults"]]


def test_the_benchmark_plants_them() -> None:
    kinds = [kind for kind in declared.kinds() if kind.where == "roller-stand"]
    assert [kind.name for kind in kinds] == ["size of 0", "one in the other unit"]
    for kind in kinds:
        count = counted(kind, 20, 20261201)
        assert count.shown == 20 and count.share == 1.0, kind.name


def test_it_stands_with_its_check_its_minutes_and_its_order(trued: Call, book: Path) -> None:
    assert (feature_of(FULL).check, feature_of(FULL).minutes) == ("roller-stand", 7.0)
    stands = status(trued, book)
    assert stands["decision"] == "proven-out" and stands["safety"] is True
    out = trued("standing", FULL, "--book", book).out
    assert "oller height (saw)" in out and "aise the roller" in out


def test_it_is_the_next_thing_to_do(trued: Call, book: Path) -> None:
    """Someone can get hurt and it is out: it comes before all that was found."""
    assert "aise the roller" in trued("next", "--book", book).out


def test_its_move_is_recorded_and_believed(trued: Call, book: Path) -> None:
    wrong = trued("moved", "roller-step", "sideways", "0.040in", "--book", book, "--at", ago(4))
    assert wrong.status == 2 and "up or down" in wrong.err
    raised(trued, book)
    stands = status(trued, book)
    assert stands["decision"] == "proven-in" and stands["value"] == pytest.approx(0.010 * 25.4, abs=0.05)


def test_it_drifts_and_is_due_again(trued: Call, book: Path) -> None:
    """Its drift is 0.010 in in a quarter: it is looked at again by a date, as others that wander are."""
    raised(trued, book)
    assert "roller height (saw)" in trued("due", "--book", book).out


def test_an_event_puts_it_in_doubt(trued: Call, book: Path) -> None:
    carried = trued("event", "saw-carried", "--book", book, "--at", ago(1), "--json").json
    assert FULL in carried["stale"]
    assert status(trued, book)["stale"]


def test_its_page_its_form_and_its_result(trued: Call, book: Path) -> None:
    site = Site.of(book)
    assert ">Roller stand<" in site.get("/checks").text
    page = site.get("/checks/roller-stand")
    assert page.status_code == 200 and "Saw unplugged, battery out." in page.text
    typed = {"r.table": ["5.0000"], "r.roller": ["4.9900"], "unit": ["in"]}
    answer = site.post("/checks/roller-stand", Inputs(page.text).filled(typed))
    assert answer.status_code == 303, answer.text
    result = site.get(answer.headers["location"]).text
    assert "oller height" in result
    assert "roller height (saw)" in site.get("/moved").text
    assert "raise the roller" in site.get(f"/moved?feature={FULL}").text
    assert "Roller height (saw)" in site.get("/").text


def test_its_history_on_paper(book: Path) -> None:
    sheet = history_pdf(feature_history(FULL, book))
    assert sheet.startswith(b"%PDF") and len(sheet) > 5000
    assert re.search(rb"/Type\s*/Page\b", sheet)


def test_two_checks_cannot_take_a_feature_from_each_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A person's own variant of a check leaves the feature to the check that it was made from."""
    (tmp_path / "a_kerf.py").write_text(
        "from dataclasses import replace\nfrom trued.checks.kerf import CHECK as KERF\n"
        'CHECK = replace(KERF, id="a-kerf", minutes=99.0)\n',
        encoding="utf-8",
    )
    monkeypatch.setenv("TRUED_CHECKS", str(tmp_path))
    assert SimpleNamespace(check=feature_of("kerf").check, minutes=feature_of("kerf").minutes) == SimpleNamespace(
        check="kerf", minutes=5.0
    )


def test_a_check_dropped_in_while_the_program_runs_counts_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TRUED_CHECKS", str(tmp_path))
    assert find_feature("roller-step") is None
    (tmp_path / "roller_stand.py").write_bytes((OUTSIDE / "roller_stand.py").read_bytes())
    assert feature_of("roller-step").minutes == 7.0
