"""The plan command, as a script or a person calls it: what it prints, and that bad input costs one sentence."""

import json
import re
from pathlib import Path

import pytest

from trued.cli.main import main

ROOT = Path(__file__).parents[2]
RACK = ROOT / "examples" / "rack.toml"
SHOP = ROOT / "examples" / "shop.toml"
KEYS = [
    *("job", "seed", "problems", "parts", "layout", "order", "settings", "settings_bound", "fits", "true_first"),
    *("do_not_bother", "support", "cautions", "sheets"),
]


def run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    status = main(["plan", *map(str, words)])
    told = capsys.readouterr()
    return status, told.out, told.err


def answered(capsys: pytest.CaptureFixture[str], *words: object) -> dict:  # type: ignore[type-arg]
    status, out, err = run(capsys, *words, "--json")
    assert (status, err) == (0, "")
    return json.loads(out)  # type: ignore[no-any-return]


def test_json_has_the_keys_of_the_contract_in_their_order(capsys: pytest.CaptureFixture[str]) -> None:
    answer = answered(capsys, RACK, "--shop", SHOP)
    assert list(answer)[: len(KEYS) + 1] == ["format", *KEYS]
    assert answer["layout"]["cost"] == [11.5, "price"]
    assert answer["layout"]["gap"] == 0.0
    assert (answer["settings"], answer["settings_bound"]) == (5, 5)
    assert {part["id"]: part["quantity"] for part in answer["parts"]} == {"side": 2, "shelf": 4, "rail": 2}
    shelf = next(part for part in answer["parts"] if part["id"] == "shelf")
    assert shelf["length_mm"] == pytest.approx(13.375 * 25.4, abs=0.03)
    assert shelf["text"].startswith("13 3/8 (+0.0004) × 3 1/2")


def test_json_of_layout_tickets_and_fits(capsys: pytest.CaptureFixture[str]) -> None:
    answer = answered(capsys, RACK, "--shop", SHOP)
    (board,) = answer["layout"]["stock"]
    assert (board["id"], board["copy"], len(board["placements"])) == ("B1", 1, 8)
    side = next(one for one in board["placements"] if one["part"] == "side")
    assert (side["x"], side["y"], side["length"], side["width"]) == pytest.approx((12.7, 0.0, 762.0, 88.9))
    ticket = answer["order"][1]
    assert (ticket["id"], ticket["station"], ticket["setting"], ticket["after"]) == ("T2", "sled", "S1", ["T1"])
    assert ticket["setting_mm"] == pytest.approx(762.0) and ticket["scale_text"] == "30"
    assert set(answer["fits"][0]) >= {"name", "mean_mm", "sd_mm", "chance", "shares"}
    assert 0 < answer["fits"][0]["chance"] < 1
    assert answer["true_first"][0]["check"] == "stop-repeat"
    assert answer["support"][3] | {"text": ""} == answer["support"][3] | {"ticket": "T5", "ok": True, "text": ""}


def test_text_leads_with_whether_it_goes_together(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, RACK, "--shop", SHOP)
    assert status == 0
    assert out.splitlines()[0].endswith("37% that everything fits (18-68%, few readings)")
    order = [
        out.index(head) for head in ("DON'T CUT YET", "MAKE IT FIT", "FITS", "CUTS", "STOCK", "WARNING: before the")
    ]
    assert order == sorted(order), "what can hurt comes before anything else"
    told = " ".join(out.split())
    assert re.search(r"shelf in its dados 62% 0\.0156 in 0\.0040 in to 0\.0312 in", told)
    assert "13 cuts, 5 settings (fewest possible for these cuts)" in out and "11.50 (lowest possible)" in out
    assert "yield" not in out.lower() and "optim" not in out.lower() and " safe " not in out.lower()


def test_more_repeats_the_summary_first_and_then_tells_every_cut(capsys: pytest.CaptureFixture[str]) -> None:
    short = run(capsys, RACK, "--shop", SHOP)[1]
    out = run(capsys, RACK, "--shop", SHOP, "--more")[1]
    assert out.startswith(short.partition("Not saved")[0].rstrip())
    order = [out.index(head) for head in ("WARNING: before the", "WHY", "CUT ORDER", "CHECK FIRST", "SUPPORT")]
    assert order == sorted(order) and "S2: sled stop at 13 3/8" in out
    assert "Variance: " in out


@pytest.mark.parametrize("name", ["drawers", "rack"])
def test_every_ticket_has_its_own_cautions_in_the_text(capsys: pytest.CaptureFixture[str], name: str) -> None:
    """What `--json` tells of a cut is printed under that cut, or once for a run of cuts that it names."""
    job = ROOT / "examples" / f"{name}.toml"
    tickets = answered(capsys, job, "--shop", SHOP)["order"]
    printed = cautions_by_ticket(run(capsys, job, "--shop", SHOP, "--more")[1])
    for ticket in tickets:
        assert sorted(printed[ticket["id"]]) == sorted(ticket["cautions"]), ticket["id"]


def cautions_by_ticket(text: str) -> dict[str, list[str]]:
    """The cautions of the order of cuts as they are printed: what names cuts is theirs, the rest of the cut above."""
    order = text.partition("CUT ORDER")[2].partition("CHECK FIRST")[0]
    found: dict[str, list[str]] = {}
    here = ""
    for entry in re.split(r"\n(?= *(?:WARNING|T\d+  |From |S\d+:|for a|Cut a scrap)|\n)", order):
        said = " ".join(entry.split())
        if match := re.match(r"(T\d+) ", said):
            found.setdefault(here := match[1], [])
        elif match := re.match(r"WARNING T(\d+) to T(\d+): (.*)", said):
            for number in range(int(match[1]), int(match[2]) + 1):
                found.setdefault(f"T{number}", []).append(match[3])
        elif said.startswith("WARNING "):
            found[here].append(said.removeprefix("WARNING "))
    return found


def test_text_without_a_shop(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, RACK, "--kerf", "0.094")
    assert status == 0
    assert "No shop is known" in out and "not known" in out
    assert "CUT ORDER" not in out and "no cut" in out
    answer = answered(capsys, RACK, "--kerf", "0.094")
    assert answer["support"] is None
    assert {fit["chance"] for fit in answer["fits"]} == {None}
    assert answer["order"] == [] and answer["layout"] is not None


def test_text_of_other_jobs(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, ROOT / "examples" / "carcass.toml", "--shop", SHOP, "--unit", "mm", "--more")
    assert status == 0 and "held back" in out and "guided saw" in out
    status, out, _ = run(capsys, ROOT / "tests" / "data" / "jobs" / "rack_knot.toml", "--shop", SHOP)
    assert status == 0 and "CUTS" not in out
    assert "No way was found to make the job from this stock. Short by" in " ".join(out.split())
    assert "that everything fits" not in out
    assert out.count("Short by") == 1


def test_text_of_a_metric_job_without_fits_and_of_unknown_wood(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    job = tmp_path / "leg.toml"
    job.write_text(
        'unit = "mm"\n[[stock]]\nid = "S"\nmaterial = "cork"\nlength = "900"\nwidth = "90"\nthickness = "20"\n'
        '[[part]]\nid = "leg"\nmaterial = "cork"\nlength = "300"\nwidth = "60"\nthickness = "20"\n',
        encoding="utf-8",
    )
    status, out, _ = run(capsys, job, "--shop", SHOP, "--more")
    assert status == 0
    assert "FITS" not in out and "not computed. How heavy cork is" in out and "m²" in out
    assert "T1: WAITS, do not make this cut: How heavy cork is, is not known here" in " ".join(out.split())
    assert "sled stop at" not in out and "299." not in out, "no number before the fact is known"


def test_strict_tells_scripts_that_something_stands_against_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, RACK, "--shop", SHOP, "--strict")[0] == 1
    assert run(capsys, RACK, "--kerf", "0.094", "--strict")[0] == 0


def test_sheets_and_book(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    book = tmp_path / "shop.trued"
    assert main(["shop", str(SHOP), "--book", str(book)]) == 0
    capsys.readouterr()
    answer = answered(
        capsys, RACK, "--book", book, "--out", tmp_path / "out", "--paper", "a4", "--at", "2026-05-04T10:00"
    )
    assert answer["version"] == "1" and len(answer["plan"]) == 32
    assert [Path(sheet).read_bytes()[:4] for sheet in answer["sheets"]] == [b"%PDF"]
    status, out, _ = run(capsys, RACK, "--book", book, "--out", tmp_path / "out")
    assert status == 0 and "Printed: " in out and "version 2" in out


def test_shop_file_goes_before_the_book_of_the_environment(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TRUED_BOOK", str(tmp_path / "none.trued"))
    assert answered(capsys, RACK, "--shop", SHOP)["plan"] is None
    assert run(capsys, RACK)[0] == 3


RACK_TEXT = RACK.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("not = [toml", "TOML"),
        (
            RACK_TEXT.replace('outside = "bay - 1/16"', 'outside = "depth - 1/16"').replace(
                'depth = "1/4"', 'depth = "outside"'
            ),
            "circle",
        ),
        (RACK_TEXT.replace("rail.length + 2*depth - shelf.length", "rails.length - shelf.length"), "rails"),
        (RACK_TEXT.replace('length = "30"', 'length = "0"'), "above 0"),
        (RACK_TEXT.replace('length = "30"', 'length = "outside - 20"'), "above 0"),
        (RACK_TEXT.replace('length = "30"', 'length = "30 furlong"'), "furlong"),
        (RACK_TEXT.replace('unit = "in"', 'unit = "inch"'), "unit"),
        (RACK_TEXT.replace('length = "30"', 'length = "thirty"'), "thirty"),
        (RACK_TEXT.replace('length = "30"', 'length = "80"'), "fits on no piece of stock"),
        (RACK_TEXT.replace('grain = "length"', "") + 'colour = "red"\n', "key is not known"),
    ],
)
def test_bad_job_costs_one_sentence(capsys: pytest.CaptureFixture[str], tmp_path: Path, text: str, said: str) -> None:
    job, out = tmp_path / "job.toml", tmp_path / "out"
    job.write_text(text, encoding="utf-8")
    status, told, err = run(capsys, job, "--shop", SHOP, "--out", out)
    assert (status, told) == (2, "")
    assert said in err and "Traceback" not in err
    assert len(err.strip().splitlines()) == 1
    assert not out.exists()
    status, told, err = run(capsys, job, "--shop", SHOP, "--out", out, "--json")
    assert (status, err) == (2, "")
    error = json.loads(told)["error"]
    assert error["status"] == 2 and set(error["faults"][0]) == {"where", "read", "text"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--kerf", "0"], "above 0"),
        (["--kerf", "1,500"], "thousand"),
        (["--kerf", "3", "--shop", str(SHOP)], "three times its plate"),
        (["--kerf", "0.06", "--shop", str(SHOP)], "the plate here is 0.0670 in"),
        (["--kerf", "3"], "0.2500 in at most"),
        (["--seed", "x"], "whole number"),
        (["--effort", "0"], "whole number"),
        (["--seconds", "soon"], "seconds above 0"),
        (["--seconds", "0"], "seconds above 0"),
        (["--shop", "nowhere.toml"], "no such file"),
        (["--paper", "a5"], "invalid choice"),
        (["--at", "noon"], "2026-05-04T14:30"),
        ([], "give --kerf"),
    ],
)
def test_bad_call_costs_one_sentence(capsys: pytest.CaptureFixture[str], words: list[str], said: str) -> None:
    status, told, err = run(capsys, RACK, *words)
    assert (status, told) == (2, "")
    assert said in err
    assert len(err.strip().splitlines()) == 1


def test_job_that_is_not_there_and_book_that_is_not_there(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert run(capsys, tmp_path / "none.toml", "--shop", SHOP)[0] == 2
    assert run(capsys, RACK, "--book", tmp_path / "none.trued")[0] == 3
    assert list(tmp_path.iterdir()) == []


def test_folder_that_is_a_file_is_refused_and_left_alone(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("here", encoding="utf-8")
    for out in (blocked, blocked / "under"):
        status, told, err = run(capsys, RACK, "--shop", SHOP, "--out", out)
        assert (status, told) == (2, "") and "cannot be written" in err
    assert blocked.read_text(encoding="utf-8") == "here"
