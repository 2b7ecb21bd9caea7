"""`trued check`: the contract of its answer, with and without a book."""

from __future__ import annotations

import io
import json
import shlex
from pathlib import Path

import pytest
from tests.cli.calling import STRIP, Call

from trued.usecases.shop.list_checks import one_check

KEYS = [
    *("check", "version", "run", "readings", "estimates", "moves", "warnings", "cautions", "confirmed", "verdict"),
]
ESTIMATE = [
    *("feature", "value", "u", "unit", "dof", "interval95", "tolerance", "chance_in", "decision", "side"),
    *("runs_to_decide", "scatter_source", "components"),
]
FIVE = ("five-cut", "fence_end=0.500", "free_end=0.538", "length=9.5")


def ways(fence: str, keeper: str) -> str:
    """Opening takes the fence's end far from the blade out of the work. Seen from above, x to the right and y away
    from the operator: that end lies on the keeper's side, the work on the other side of the fence than its stand."""
    out_y = 1 if fence == "far" else -1  # a far fence has the work on the operator's side
    return f"the {keeper} end of the fence {'away from' if out_y > 0 else 'toward'} you"


@pytest.mark.parametrize("fence", ["far", "operator"])
@pytest.mark.parametrize("keeper", ["left", "right"])
def test_five_cuts_in_four_layouts(trued: Call, fence: str, keeper: str) -> None:
    """By hand: (0.538 - 0.500) / (4 × 9.5) = 0.001 rad: the corner is tight, so the fence is opened."""
    said = trued("check", *FIVE, "--fence", fence, "--keeper", keeper, "--json")
    assert said.status == 0
    (estimate,) = said.json["estimates"]
    assert estimate["value"] == pytest.approx(0.001, rel=0.01)
    assert (estimate["unit"], estimate["decision"]) == ("rad", "proven-out")
    assert estimate["side"] == "above"
    (move,) = said.json["moves"]
    assert move["direction"] == "open" and move["text"].startswith("Move ")
    assert ways(fence, keeper) in move["text"]


def test_the_answer_has_the_keys_of_the_contract_in_their_order(trued: Call) -> None:
    answer = trued("check", *FIVE, "--fence", "far", "--keeper", "left", "--json").json
    assert list(answer) == [*KEYS, "cause"]
    assert answer["cause"]["is"] == "the saw" and list(answer["cause"]) == ["is", "text", "cheapest"]
    assert answer["run"] is None
    assert answer["readings"][0] == {
        "name": "fence_end", "station": "", "typed": "0.500", "mm": 12.7, "instrument": "caliper",
    }  # fmt: skip
    assert list(answer["estimates"][0]) == ESTIMATE
    assert answer["estimates"][0]["tolerance"] == [-0.0002, 0.0002]
    assert list(answer["moves"][0]) == ["text", "where", "direction", "amount_mm", "hand"]
    assert {one["label"] for one in answer["estimates"][0]["components"]} >= {"seating of the cuts"}
    assert any("saw's manual" in caution for caution in answer["cautions"])


@pytest.mark.parametrize(
    ("fence_end", "free_end", "angle", "out"),
    [("0.702", "0.723", 5e-4, True), ("0.655", "0.672", 4.048e-4, True), ("0.688", "0.685", -7.14e-5, False)],
)
def test_trials_of_an_afternoon(trued: Call, fence_end: str, free_end: str, angle: float, out: bool) -> None:
    """Invented. By hand: the difference of the ends over 4 × 10.5; the last one never gets a move."""
    words = (f"fence_end={fence_end}", f"free_end={free_end}", "length=10.5")
    answer = trued("check", "five-cut", *words, "--json").json
    (estimate,) = answer["estimates"]
    assert estimate["value"] == pytest.approx(angle, rel=5e-3)
    assert (estimate["decision"] == "proven-out") is out
    assert bool(answer["moves"]) is out
    if not out:
        assert estimate["decision"] == "not-proven"
        assert any(seen["code"] == "one-run" and "Repeat once" in seen["text"] for seen in answer["warnings"])


def test_the_same_in_words(trued: Call) -> None:
    said = trued("check", *FIVE, "--fence", "far", "--keeper", "left")
    assert said.status == 0 and said.err == ""
    assert said.out.startswith("Five-cut: OUT OF TOLERANCE\n") and "0.0120 in/ft tight" in said.out
    assert "Move the left end of the fence away from you, 0.0120 in/ft." in said.out
    assert said.out.count("WARNING") == 4  # three of the check, and the one before the hand reaches in
    assert said.out.endswith("Not saved: no shop book (--book or TRUED_BOOK). Why: --more\n")
    assert all(len(line) <= 100 for line in said.out.splitlines())


def test_strict_tells_scripts_that_something_is_out(trued: Call) -> None:
    assert trued("check", *FIVE, "--strict").status == 1
    assert trued("check", *FIVE, "--strict", "--json").status == 1
    good = ("five-cut", "fence_end=0.688", "free_end=0.688", "length=10.5")
    assert trued("check", *good, "--strict").status == 0


def test_a_bare_tolerance_is_in_the_unit_of_the_book(trued: Call, tmp_path: Path) -> None:
    parts = ["set=4", "part=4.001", "part=4.003", "part=3.999", "part=4.000", "part=4.002"]
    in_mm = [f"{name}={25.4 * float(x):.4f}" for name, _, x in (word.partition("=") for word in parts)]
    (tmp_path / "mm.toml").write_text('trued = 1\nname = "mm"\nunit = "mm"\n[blade]\nid = "one"\n', encoding="utf-8")
    book = str(tmp_path / "mm.trued")
    assert trued("shop", str(tmp_path / "mm.toml"), "--book", book).status == 0
    for words in ([*parts, "--tolerance", "0.1"], [*in_mm, "--tolerance", "2.54", "--book", book]):
        (one, *_) = trued("check", "stop-repeat", *words, "--json").json["estimates"]
        assert one["tolerance"] == pytest.approx([-2.54, 2.54])


def test_the_tolerance_of_the_person(trued: Call) -> None:
    """0.001 rad is 0.012 in/ft: well within 0.03, far out of 0.003."""
    wide = trued("check", *FIVE, "--tolerance", "0.03in/ft", "--json").json["estimates"][0]
    assert wide["tolerance"] == pytest.approx([-0.0025, 0.0025], rel=1e-3)
    assert wide["chance_in"] > 0.99 and wide["decision"] == "not-proven"
    narrow = trued("check", *FIVE, "--tolerance", "0.003in/ft", "--json").json["estimates"][0]
    assert narrow["decision"] == "proven-out"
    assert trued("check", *FIVE, "--tolerance", "0in/ft").status == 2
    bare = trued("check", *FIVE, "--tolerance", "0.004")
    assert bare.status == 2 and "The unit is missing" in bare.err
    assert trued("check", *FIVE, "--tolerance", "tight").status == 2


def test_readings_from_a_file_or_from_the_input(trued: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lines = "name,station,instrument,value\nfence_end,,,0.500\nfree_end,,caliper,0.538\n\nlength,,,9.5\n"
    file = tmp_path / "strip.csv"
    file.write_text(lines, encoding="utf-8")
    typed = trued("check", *FIVE, "--json").json
    assert trued("check", "five-cut", "--readings", file, "--json").json == typed
    monkeypatch.setattr("sys.stdin", io.StringIO(lines))
    assert trued("check", "five-cut", "--readings", "-", "--json").json == typed
    rows = trued("check", "stop-scale", "measured@6=6.004", "measured@12=12.006", "--angle", "0", "--json").json
    file.write_text("measured,6,,6.004\nmeasured,12,,12.006\n", encoding="utf-8")
    assert trued("check", "stop-scale", "--readings", file, "--angle", "0", "--json").json == rows


@pytest.mark.parametrize(
    ("text", "said"),
    [("a,b\n", "A line is name"), ("", "holds no readings"), ("name,station,instrument,value\n", "no readings")],
)
def test_a_file_that_holds_no_readings(trued: Call, tmp_path: Path, text: str, said: str) -> None:
    file = tmp_path / "strip.csv"
    file.write_text(text, encoding="utf-8")
    assert any(said in fault for fault in trued("check", "five-cut", "--readings", file, "--json").faults)
    assert trued("check", "five-cut", "--readings", tmp_path / "none.csv").status == 2


def test_all_faults_of_a_call_at_once(trued: Call) -> None:
    said = trued("check", "five-cut", "fence_end=1,500", "free_end=wide", "lenght=9.5", "--json")
    assert said.status == 2
    assert len(said.faults) == 3 and "thousand" in said.faults[0] and "length" in said.faults[2]
    missing = trued("check", "five-cut", "fence_end=0.5", "--json")
    assert [fault.split(" ")[0] for fault in missing.faults] == ["free_end", "length"]


def test_no_readings_show_an_example_that_runs(trued: Call) -> None:
    (text,) = trued("check", "five-cut", "--json").faults
    example = shlex.split(text.partition("trued ")[2])
    assert example[:2] == ["check", "five-cut"]
    assert trued(*example, "--json").status == 0


def test_a_mistake_that_forbids_a_result(trued: Call) -> None:
    said = trued("check", "five-cut", "fence_end=0", "free_end=0", "length=9.5", "--json")
    assert said.status == 2 and any("cannot be 0" in fault for fault in said.faults)


def test_from_one_run_to_a_pair_to_proven(trued: Call, book: Path) -> None:
    """One run never proves true; the second, nothing touched between, may. A book then knows both."""
    true = ("five-cut", "fence_end=1.0120", "fence_end=1.0125", "free_end=1.0125", "free_end=1.0120", "length=15")
    one = trued("check", *true, "--book", book, "--at", "2026-05-04T09:00", "--json").json
    assert one["estimates"][0]["decision"] == "not-proven"
    assert one["estimates"][0]["feature"] == "sled.fence-angle@0"
    assert one["standing"][0]["next"]["do"] == "measure"
    assert "one-run" in [seen["code"] for seen in one["warnings"]]
    two = trued("check", *true, "--book", book, "--at", "2026-05-04T09:20", "--answer", "anew", "--json").json
    assert two["estimates"][0]["decision"] == "proven-in"
    assert two["standing"][0]["decision"] == "proven-in" and two["standing"][0]["next"]["do"] == "leave"
    assert two["run"] != one["run"] and len(two["run"]) == 32


def test_what_a_check_rests_on_is_named_until_it_is_shown(trued: Call, book: Path) -> None:
    first = trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00", "--json").json
    (ground,) = [seen for seen in first["warnings"] if seen["code"] == "ground"]
    assert ground["act"] == "note" and "bar play, fence straight" in ground["text"]
    play = ("bar-play", "play@start=0.0010", "engaged@start=10.7", "play@end=0.0010", "engaged@end=12")
    for at in ("2026-05-04T09:10", "2026-05-04T09:15"):
        trued("check", *play, "--book", book, "--at", at, "--answer", "anew")
    words = ("--book", book, "--at", "2026-05-04T09:30", "--answer", "anew", "--json")
    later = trued("check", "five-cut", *STRIP, *words).json
    assert not any("bar play" in seen["text"] for seen in later["warnings"])


def test_facts_of_the_book_fill_in_and_are_not_contradicted(trued: Call, book: Path) -> None:
    """The example shop: fence far, keeper left, 18 in from pivot to screw; so the move is said in full."""
    answer = trued("check", "five-cut", *STRIP, "--book", book, "--json").json
    assert "the left end of the fence away from you" in answer["moves"][0]["text"]
    full = 0.038 / 60 * 18 * 25.4  # taper over four strips, at the book's radius; a first move holds some of it back
    assert 0.85 * full < answer["moves"][0]["amount_mm"] < full
    facts = ("--fence", "far", "--radius", "1' 6\"")
    same = trued("check", "five-cut", *STRIP, "--book", book, *facts, "--answer", "anew", "--json")
    assert same.status == 0
    for words in (("--fence", "operator"), ("--radius", "17"), ("--keeper", "right")):
        wrong = trued("check", "five-cut", *STRIP, "--book", book, *words, "--json")
        assert wrong.status == 2
        assert "The book says" in wrong.faults[0] and "change the shop's file" in wrong.faults[0]


def test_nothing_is_kept_of_a_refused_run(trued: Call, book: Path) -> None:
    trued("check", "five-cut", "fence_end=x", "--book", book)
    trued("check", "five-cut", *STRIP, "--book", book, "--fence", "operator")
    assert trued("standing", "--book", book, "--json").json["standings"] == []


def test_with_a_book_the_answer_says_what_is_believed_now(trued: Call, book: Path) -> None:
    said = trued("check", "five-cut", *STRIP, "--book", book)
    assert said.out.startswith("Five-cut: OUT OF TOLERANCE\n") and said.out.count("Move the left end") == 1
    assert "Record it:  trued moved fence-angle open" in said.out and "Saved. " in said.out


def test_the_book_of_the_environment(trued: Call, book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TRUED_BOOK", str(book))
    assert trued("check", "five-cut", *STRIP, "--json").json["run"] is not None
    assert trued("standing", "--json").json["standings"][0]["feature"] == "sled.fence-angle@0"


def test_fixture_and_unit(trued: Call, book: Path) -> None:
    mm = ("fence_end=25.70", "free_end=26.67", "length:rule=381", "--unit", "mm", "--book", book)
    answer = trued("check", "five-cut", *mm, "--fixture", "sled", "--json").json
    assert answer["estimates"][0]["value"] == pytest.approx(0.97 / (4 * 381), rel=1e-3)
    wrong = trued("check", "five-cut", *mm, "--fixture", "slad", "--json")
    assert wrong.status == 2 and "Did you mean sled?" in wrong.faults[0]


def test_a_time_that_cannot_be_read(trued: Call, book: Path) -> None:
    assert trued("check", "five-cut", *STRIP, "--book", book, "--at", "noon").status == 2


def test_how_it_is_done(capsys: pytest.CaptureFixture[str], trued: Call) -> None:
    told = []
    for more in ([], ["all"]):
        with pytest.raises(SystemExit) as done:
            trued("check", "five-cut", "--help", *more)
        assert done.value.code == 0
        told.append(capsys.readouterr().out)
    short, whole = told
    check = one_check("five-cut")
    warned = len(check.cautions) + sum(bool(step.caution) for step in check.steps)
    for out in told:
        assert "You need:" in out and out.count("WARNING") == warned and f"{len(check.steps)}. " in out
        assert "Type:  trued check five-cut fence_end=" in out
        assert all(len(line) <= 100 for line in out.splitlines())
    assert short.splitlines()[0].endswith("(15 min)") and "Options: --help all" in short and "Optional: middle" in short
    assert "--keeper {left,right}" in whole and "(optional)" in whole and "Source: " in whole
    assert "--keeper" not in short and "Source: " not in short


def test_a_check_of_the_persons_own(trued: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, book: Path) -> None:
    folder = tmp_path / "own"
    folder.mkdir()
    (folder / "own_kerf.py").write_text(
        "from dataclasses import replace\nfrom trued.checks.kerf import CHECK as KERF\n"
        'CHECK = replace(KERF, id="own-kerf", title="Kerf, my way")\n',
        encoding="utf-8",
    )
    assert trued("check", "own-kerf", "whole=5").status == 2
    monkeypatch.setenv("TRUED_CHECKS", str(folder))
    assert "own-kerf" in [one["id"] for one in trued("checks", "--json").json["checks"]]
    assert "Kerf, my way" in trued("checks").out
    typed = ("whole=5.0000", "keeper_piece=2.4005", "offcut_piece=2.5055")
    answer = trued("check", "own-kerf", *typed, "--book", book, "--json").json
    assert answer["check"] == "own-kerf"
    assert answer["estimates"][0]["value"] == pytest.approx(0.094 * 25.4, abs=1e-6)
    assert json.loads(trued("standing", "--book", book, "--json").out)["standings"][0]["feature"] == "blade.kerf"
