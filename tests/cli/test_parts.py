"""`trued parts`: measured parts, and what they teach."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tests.cli.calling import RACK, SHOP, Call

from trued.__main__ import main

STICK = '[[instrument]]\nid = "stick-1"\nkind = "stick"\nresolution = "0.0005"\nlimit = "0.001"\n'
KEYS = [
    "job",
    "run",
    "planned",
    "sizes",
    "slips",
    "mis_cut",
    "second_copy",
    "two_lots",
    "asks",
    "alike",
    "gaps",
    "fits",
    "lessons",
    "standing",
    "record",
]


@pytest.fixture(scope="module")
def once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with a stick of known length, and a plan of the rack; made once, and copied for each test."""
    folder = tmp_path_factory.mktemp("planned")
    (folder / "more.toml").write_text(STICK, encoding="utf-8")
    book = folder / "shop.trued"
    for words in (
        ("shop", SHOP, "--book", book),
        ("shop", folder / "more.toml", "--book", book),
        ("plan", RACK, "--book", book, "--at", "2026-05-04T09:00"),
    ):
        assert main([str(word) for word in words]) == 0
    return book


@pytest.fixture
def planned(once: Path, tmp_path: Path) -> Path:
    """A copy to write into."""
    return Path(shutil.copy(once, tmp_path / "planned.trued"))


def test_the_answer_has_its_keys_and_judges_by_hand(trued: Call) -> None:
    """A shelf is meant to be 13 3/8 + 0.0004 = 13.3754; 0.0016 over is well within 1/64; the copies differ by 0.001."""
    answer = trued("parts", RACK, "shelf@1=13.377", "shelf@2=13.376", "side.width@1=3.497", "--json").json
    assert list(answer) == KEYS
    assert (answer["run"], answer["planned"], answer["record"], answer["standing"]) == (None, False, None, [])
    first = answer["sizes"][0]
    assert first["name"] == "shelf@1.length" and first["off_mm"] == pytest.approx(0.0016 * 25.4, abs=1e-3)
    assert first["decision"] == "proven-in" and first["tolerance_mm"] == pytest.approx([-25.4 / 64, 25.4 / 64])
    assert answer["alike"][0]["off_mm"] == pytest.approx(0.001 * 25.4, abs=1e-6)
    assert {fit["name"] for fit in answer["fits"]} >= {"shelf in its dados", "rack between the studs"}


def test_a_difference_and_a_gap(trued: Call) -> None:
    words = ("shelf@2-shelf@1=+0.003", "shelf in its dados:feelers=0.012")
    answer = trued("parts", RACK, *words, "--json").json
    assert answer["alike"][0]["name"] == "shelf@2.length - shelf@1.length"
    (gap,) = answer["gaps"]
    assert gap["found_mm"] == pytest.approx(0.012 * 25.4) and gap["decision"] == "proven-in"


def test_in_words(trued: Call) -> None:
    said = trued("parts", RACK, "shelf@1=13.377", "side@1:rule=30")
    assert said.out.startswith("Rack between two studs: NOT KNOWN YET\n\nMeasure rail 1-2, shelf 2-4 too.\n")
    assert "In tolerance   shelf 1" in said.out and "Will it fit?" in said.out and "Shelf 1 length:" not in said.out
    assert "Not saved: no shop book" in said.out
    more = trued("parts", RACK, "shelf@1=13.377", "side@1:rule=30", "--more")
    assert more.out.startswith(said.out.rstrip()[:200])
    assert "Shelf 1 length: 13.3770 in, 0.0016 in long" in more.out and "In tolerance: over 99% in." in more.out


def test_the_settings_of_the_kept_plan_teach_the_scale_of_the_stop(trued: Call, planned: Path) -> None:
    """The plan set the stop to 13 3/8 (a shop that knows nothing corrects nothing): a shelf 0.02 longer says that the
    scale reads short by that much there."""
    words = [f"shelf@{n}:stick-1=13.395" for n in (1, 2, 3, 4)]
    answer = trued("parts", RACK, *words, "--book", planned, "--at", "2026-05-04T15:00", "--json").json
    assert answer["planned"] is True and len(answer["run"]) == 32
    lesson = answer["lessons"][0]
    assert lesson["station"] == "sled" and lesson["set_mm"] == pytest.approx(13.375 * 25.4)
    (offset,) = [one for one in answer["standing"] if one["feature"] == "sled.stop-offset@0"]
    assert offset["value"] == pytest.approx(0.02 * 25.4, rel=0.05)
    known = trued("standing", "--book", planned, "--at", "2026-05-04T16:00", "--json").json["standings"]
    assert [one["feature"] for one in known] == ["sled.stop-offset@0", "sled.stop-repeat"]


def test_a_slip_of_an_inch_is_told_and_teaches_nothing(trued: Call, planned: Path) -> None:
    words = ["shelf@1:stick-1=14.375", "shelf@2:stick-1=14.376"]
    said = trued("parts", RACK, *words, "--book", planned)
    assert (
        "Shelf 1-2: over 1/4 in off. Not used for the scale." in said.out
        and "again. Right part, right unit?" in said.out
    )
    assert trued("standing", "--book", planned, "--json").json["standings"] == []


def test_one_mis_cut_among_its_mates_is_named_and_teaches_nothing(trued: Call, planned: Path, once: Path) -> None:
    """cases 4: three right and one 1/8 short moved the next plan's stops by 1/32 in."""
    good = [f"shelf@{n}:stick-1=13.{395 + n}" for n in (1, 2, 3)]
    answer = trued("parts", RACK, *good, "shelf@4:stick-1=13.270", "--book", planned, "--json").json
    assert answer["mis_cut"] == ["shelf@4.length"] and answer["asks"] == [] and answer["two_lots"] == []
    other = planned.with_name("without.trued")
    shutil.copy(once, other)
    trued("parts", RACK, *good, "--book", other)
    one, two = (_offset(trued, book) for book in (planned, other))
    assert one["value"] == pytest.approx(two["value"], abs=0.1 * two["u"])
    said = trued("parts", RACK, *good, "shelf@4:stick-1=13.270", "--book", other)
    assert "Shelf 4: likelier mis-cut or misread than a stop that far off." in said.out


def _offset(trued: Call, book: Path) -> dict[str, float]:
    known = trued("standing", "--book", book, "--json").json["standings"]
    return next(one for one in known if one["feature"] == "sled.stop-offset@0")


def test_a_lone_part_far_off_is_asked_about(trued: Call, planned: Path) -> None:
    """cases 4: low_side@1=17.875 of 18 moved every stop by 1/8 in."""
    answer = trued("parts", RACK, "shelf@1:stick-1=13.250", "--book", planned, "--json").json
    assert answer["mis_cut"] == ["shelf@1.length"] and answer["standing"] == []
    (asked,) = answer["asks"]
    assert [choice["word"] for choice in asked["choices"]] == ["wrong", "right"]
    assert "Mis-cut or misread?" in trued("standing", "--book", planned).out
    wrong = trued("answer", answer["run"][:8], "wrong", "--book", planned)
    assert wrong.status == 0
    assert "Mis-cut or misread?" not in trued("standing", "--book", planned).out
    assert trued("standing", "--book", planned, "--json").json["standings"] == []


def test_a_lone_part_that_was_measured_again_counts(trued: Call, planned: Path) -> None:
    run = trued("parts", RACK, "shelf@1:stick-1=13.250", "--book", planned, "--json").json["run"]
    trued("answer", run[:8], "right", "--book", planned)
    assert _offset(trued, planned)["value"] == pytest.approx(-0.125 * 25.4, abs=0.01 * 25.4)


def test_a_lone_part_in_between_wants_a_second(trued: Call, planned: Path) -> None:
    answer = trued("parts", RACK, "shelf@1:stick-1=13.429", "--book", planned, "--json").json
    assert answer["second_copy"] == ["shelf@1.length"] and answer["mis_cut"] == [] and len(answer["asks"]) == 1


def test_a_lone_part_on_a_fresh_scale_waits_for_a_second(trued: Call, planned: Path) -> None:
    """1/32 in long, nothing else known: it would move every stop by more than a part is told to scatter."""
    answer = trued("parts", RACK, "shelf@1:stick-1=13.406", "--book", planned, "--json").json
    assert answer["second_copy"] == ["shelf@1.length"] and answer["mis_cut"] == [] and answer["standing"] == []
    assert [choice["word"] for choice in answer["asks"][0]["choices"]] == ["wrong", "right"]
    trued("parts", RACK, "shelf@2:stick-1=13.407", "--book", planned, "--at", "2026-05-04T17:00")
    assert _offset(trued, planned)["value"] == pytest.approx(0.0315 * 25.4, abs=0.003 * 25.4)
    assert "Mis-cut or misread?" not in trued("standing", "--book", planned).out


@pytest.mark.parametrize(("word", "mean"), [("wrong", 0.0225), ("right", 0.0173)])
def test_a_copy_unlike_its_mates_is_asked_about(trued: Call, planned: Path, word: str, mean: float) -> None:
    words = [f"shelf@{n}:stick-1={size}" for n, size in ((1, 13.397), (2, 13.382), (3, 13.398))]
    answer = trued("parts", RACK, *words, "--book", planned, "--json").json
    assert answer["second_copy"] == ["shelf@2.length"] and answer["mis_cut"] == []
    (asked,) = answer["asks"]
    assert asked["text"].startswith("shelf@2.length is 0.0150 in shorter than the nearest of its mates.")
    assert _offset(trued, planned)["value"] == pytest.approx(0.0225 * 25.4, abs=0.001 * 25.4)
    assert trued("answer", answer["run"][:8], word, "--book", planned).status == 0
    assert _offset(trued, planned)["value"] == pytest.approx(mean * 25.4, abs=0.001 * 25.4)
    assert "Mis-cut or misread?" not in trued("standing", "--book", planned).out


@pytest.mark.parametrize(("word", "teaches"), [("moved", False), ("wrong", True)])
def test_two_lots_at_one_setting_are_asked_about(trued: Call, planned: Path, word: str, teaches: bool) -> None:
    words = [f"shelf@{n}:stick-1={size}" for n, size in ((1, 13.395), (2, 13.396), (3, 13.270), (4, 13.271))]
    answer = trued("parts", RACK, *words, "--book", planned, "--json").json
    assert len(answer["two_lots"]) == 4 and answer["mis_cut"] == [] and answer["standing"] == []
    assert trued("answer", answer["run"][:8], word, "--book", planned).status == 0
    known = [one["feature"] for one in trued("standing", "--book", planned, "--json").json["standings"]]
    assert ("sled.stop-offset@0" in known) is teaches


def test_a_coarse_reading_teaches_nothing(trued: Call, planned: Path) -> None:
    """A tape with a loose hook knows less of the scale than is assumed of it anyway, a 1/64 in."""
    answer = trued("parts", RACK, "shelf@1:tape=13 13/32", "--book", planned, "--json").json
    assert answer["lessons"] != []
    assert answer["standing"] == [] and trued("standing", "--book", planned, "--json").json["standings"] == []


def test_its_own_record(trued: Call, planned: Path) -> None:
    """What came of the chances that were told: of the gap that was measured it is known, so it counts."""
    answer = trued("parts", RACK, "shelf in its dados:feelers=0.012", "--book", planned, "--json").json
    record = answer["record"]
    assert (record["judged"], record["fitted"]) == (1, 1) and 0.0 < record["stated"] < 1.0
    said = trued("parts", RACK, "shelf@2-shelf@1=+0.030", "--book", planned, "--more")
    assert "Track record\n" in said.out and "Undo: trued undo " in said.out
    assert "Trim shelf 2 to match shelf 1." in said.out and "WARNING  Hands 6 in from the kerf" in said.out


def test_the_record_counts_only_fits_whose_every_part_was_measured(trued: Call, planned: Path) -> None:
    """practitioner 8: one measured top settled two drawers that did not exist yet."""
    one = trued("parts", RACK, "shelf@1:stick-1=13.376", "--book", planned, "--json").json
    assert one["record"] is None or one["record"]["judged"] == 0


def test_without_a_plan_nothing_is_told_of_settings(trued: Call, book: Path) -> None:
    answer = trued("parts", RACK, "side@1-side@2=0.001", "--book", book, "--json").json
    assert answer["planned"] is False and answer["lessons"] == [] and answer["record"] is None


def test_strict(trued: Call) -> None:
    assert trued("parts", RACK, "shelf@1=13.5", "--strict").status == 1
    assert trued("parts", RACK, "shelf@1=13.5").status == 0


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("shelfs@1=13", "Did you mean shelf?"),
        ("shelf@9=13", "shelf"),
        ("shelf@1.height=13", "length, width, thickness"),
        ("shelf@1=1,337", "thousand"),
        ("shelf", "PART@COPY=SIZE"),
    ],
)
def test_what_cannot_be_measured(trued: Call, book: Path, word: str, said: str) -> None:
    wrong = trued("parts", RACK, word, "--book", book, "--json")
    assert wrong.status == 2 and said in wrong.faults[0]
    assert "Nothing was measured" in trued("parts", RACK, "--json").faults[0]


def test_beyond_the_end_of_ones_caliper(trued: Call, book: Path) -> None:
    """Named, it is refused; not named, a rule that reaches is taken, and that is told."""
    wrong = trued("parts", RACK, "shelf@1:caliper=13.377", "--book", book, "--json")
    assert "caliper-1 reads to 203 mm (8 in) only." in wrong.faults[0]
    right = trued("parts", RACK, "shelf@1=13.377", "--book", book, "--more")
    assert "Read with rule-1 (caliper too short): shelf 1." in right.out


def test_the_former_name_works_without_a_word_of_it(trued: Call) -> None:
    """`proof` was its name: what is typed from memory, or stands in a script, does the same."""
    words = (RACK, "shelf@1=13.377", "--json")
    former, now = trued("proof", *words), trued("parts", *words)
    assert former.json == now.json and not former.err
    assert "proof" not in trued("--help").out


def test_a_plan_and_its_parts_name_errors_by_key(trued: Call, tmp_path: Path) -> None:
    now = {"stop repeatability", "bar swing", "board thickness", "rip setting repeatability", "thickness variation"}
    book = tmp_path / "shop.trued"
    trued("shop", SHOP, "--book", book)
    plan = trued("plan", RACK, "--book", book, "--json").json
    names = {key for fit in plan["fits"] for key in (*fit["shares"], *fit["total_shares"], *fit["assumed"])}
    assert "repeat of the stop" in names and not names & now
    parts = trued("parts", RACK, "shelf@1=13.37", "--book", book, "--json").json
    assert not {key for fit in parts["fits"] for key in fit["shares"]} & now
    assert "stop repeatability" in trued("plan", RACK, "--book", book, "--more").out
