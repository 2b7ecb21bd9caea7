"""A run in doubt: one verdict, one thing to do, nothing to turn by, on every surface of the command line."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.calling import Call

ENDS = ("five-cut", "fence_end=0.900", "free_end=1.140", "length=12")
CREEPS = ("stop-repeat", "set=5", *(f"part={size}" for size in ("5.013", "5.017", "5.020", "5.024", "5.027")))
FELT = ("tipped", "gave", "foot_lifted", "side")
NEVER = ("record it", "trued moved", "cursor", "Open the fence", "DO  ", "No move", "sure enough")


@pytest.mark.parametrize("words", [ENDS, CREEPS])
def test_a_run_in_doubt_orders_nothing_anywhere(trued: Call, book: Path, words: tuple[str, ...]) -> None:
    said = trued("check", *words, "--book", book).out
    assert "BAD RUN. Don't adjust." in said and "Saved as a bad run." in said and "trued confirm" in said
    standing = trued("standing", "--book", book).out
    assert "BAD RUN: " in standing and "Read and typed right?" in standing
    feature = "fence-angle" if words is ENDS else "stop-repeat"
    history = trued("standing", feature, "--book", book).out
    for text in (said, standing, history):
        assert not any(never in text for never in NEVER), text
    listed = trued("standing", "--book", book, "--json").json["standings"]
    assert listed and all(one["confirmed"] is False and one["believed"] is False for one in listed)
    assert all(one["next"]["do"] == "measure" and one["decision"] == "not-proven" for one in listed)


def test_the_same_for_scripts(trued: Call, book: Path) -> None:
    answer = trued("check", *ENDS, "--book", book, "--json").json
    assert answer["confirmed"] is False and answer["moves"] == [] and "cause" not in answer
    assert answer["verdict"]["is"] == "read-again" and answer["verdict"]["do"].startswith(
        "Read it again: cut all five again"
    )
    assert answer["verdict"]["why"] == [one["text"] for one in answer["warnings"] if one["act"] == "doubt"]
    assert [one["decision"] for one in answer["estimates"]] == ["not-proven"]
    alone = trued("check", *ENDS, "--json").json
    assert alone["confirmed"] is False and alone["moves"] == [] and alone["verdict"]["is"] == "read-again"


def test_the_right_run_after_it_is_not_set_aside_and_orders(trued: Call, book: Path) -> None:
    trued("check", *ENDS, "--book", book, "--at", "2026-05-04T09:00")
    right = ("five-cut", "fence_end=0.9000", "free_end=0.9300", "length=12")
    answer = trued("check", *right, "--book", book, "--json", "--at", "2026-05-04T09:20").json
    assert answer["confirmed"] is True and answer["verdict"]["is"] == "out"
    (fence,) = answer["standing"]
    assert fence["runs"] == 1 and fence["set_aside"] == [] and fence["next"]["do"] == "move"
    rows = trued("standing", "fence-angle", "--book", book, "--json", "--at", "2026-05-04T09:30").json["history"]
    assert [bool(row["aside"]) for row in rows] == [False, True]


def test_the_person_may_confirm_it_and_take_that_back(trued: Call, book: Path) -> None:
    run = trued("check", *ENDS, "--book", book, "--json").json["run"]
    kept = trued("confirm", run[:8], "--book", book, "--json")
    assert kept.status == 0
    (fence,) = trued("standing", "--book", book, "--json").json["standings"]
    assert fence["believed"] and fence["confirmed"] and fence["decision"] == "proven-out" and fence["runs"] == 1


def test_a_second_run_that_agrees_confirms_it(trued: Call, book: Path) -> None:
    trued("check", *ENDS, "--book", book, "--at", "2026-05-04T09:00")
    again = ("five-cut", "fence_end=0.901", "free_end=1.141", "length=12")
    answer = trued("check", *again, "--book", book, "--json", "--at", "2026-05-04T09:20").json
    assert answer["confirmed"] is True and answer["standing"][0]["runs"] == 2


def test_two_runs_far_apart_with_nothing_touched_are_the_method(trued: Call, book: Path) -> None:
    """0.0004 in/ft, then 0.0268 in/ft, some 25 deviations away."""
    one = ("five-cut", "fence_end=1.0000", "free_end=1.0020", "length=15")
    far = ("five-cut", "fence_end=1.0000", "free_end=1.1340", "length=15")
    trued("check", *one, "--book", book, "--at", "2026-05-04T09:00")
    answer = trued("check", *far, "--book", book, "--json", "--at", "2026-05-04T09:20").json
    assert answer["cause"]["is"] == "the method" and answer["moves"] == [] and answer["confirmed"] is False
    assert "numbered" in answer["cause"]["text"] and "first trim" in answer["cause"]["text"]
    assert "against the fence" in answer["cause"]["text"]
    said = trued("standing", "--book", book, "--at", "2026-05-04T09:30").out
    assert "BAD RUN: fence angle" in said and "Record it" not in said and "Check blade to slot first." in said


def test_two_runs_that_may_just_scatter_so_are_the_method_too_and_nothing_is_turned(trued: Call, book: Path) -> None:
    """0.0004 and 0.0090 in/ft, 8 deviations: a shop that repeats worse than usual may do that, so both count."""
    trued("check", "five-cut", "fence_end=1.0000", "free_end=1.0020", "length=15", "--book", book)
    far = ("five-cut", "fence_end=1.0000", "free_end=1.0450", "length=15")
    answer = trued("check", *far, "--book", book, "--answer", "anew", "--json").json
    assert answer["cause"]["is"] == "the method" and answer["moves"] == []
    assert answer["verdict"]["is"] == "not-known" and answer["standing"][0]["next"]["do"] == "measure"


def test_a_kerf_far_from_the_one_before_it_is_read_again(trued: Call, book: Path) -> None:
    one = ("kerf", "whole=5.0000", "keeper_piece=2.4000", "offcut_piece=2.4975")
    slip = ("kerf", "whole=5.0000", "keeper_piece=2.4000", "offcut_piece=2.4150")
    trued("check", *one, "--book", book, "--at", "2026-05-04T09:00")
    said = trued("check", *slip, "--book", book, "--at", "2026-05-04T09:10").out
    assert "BAD RUN" in said and "The method, not the saw." in said and "same blade" in said
    (kerf,) = trued("standing", "--book", book, "--json", "--at", "2026-05-04T09:20").json["standings"]
    assert kerf["value"] == pytest.approx(0.1025 * 25.4, abs=1e-6) and kerf["confirmed"] is False
    trued("check", *one, "--book", book, "--at", "2026-05-04T09:30")
    (kerf,) = trued("standing", "--book", book, "--json", "--at", "2026-05-04T09:40").json["standings"]
    assert kerf["value"] == pytest.approx(0.1025 * 25.4, abs=1e-6) and kerf["runs"] == 2 and kerf["confirmed"]


def test_one_answer_has_one_verdict(trued: Call, book: Path) -> None:
    """By itself the second run is out; all runs together cannot tell, and only that is said."""
    trued("check", "five-cut", "fence_end=1.0000", "free_end=1.0020", "length=15", "--book", book)
    far = ("five-cut", "fence_end=1.0000", "free_end=1.0450", "length=15")
    said = trued("check", *far, "--book", book, "--answer", "anew").out
    assert (
        said.count("NOT KNOWN YET") == 1
        and "OUT OF" not in said
        and "sure enough" not in said
        and "The method, not the saw." in said
    )


def test_without_a_repeat_it_is_not_an_order_to_leave_it_either(trued: Call) -> None:
    said = trued("check", *ENDS).out
    assert "BAD RUN. Don't adjust." in said and "Not saved: no shop book" in said
    assert not any(never in said for never in NEVER)


STOOD = [f"{name}@{end}={'keeper' if name == 'side' else 'no'}" for name in FELT for end in ("start", "end")]


def test_what_went_wrong_is_said_whatever_was_not_read(trued: Call) -> None:
    """The weighing is half typed, so that the form is refused; that a foot lifted and the work tipped comes first."""
    words = [word.replace("no", "yes") if word in ("foot_lifted@end=no", "tipped@start=no") else word for word in STOOD]
    said = trued("check", "support", *words, "weight@start=9lb", "--json")
    assert said.status == 2
    places = [fault["where"] for fault in said.json["error"]["faults"]]
    assert places[:2] == ["danger", "danger"] and "unpaired" in places
    knife = trued("check", "knife", "knife=0.100", "plate=0.067", "kerf=0.094", "--json")
    assert knife.status == 2 and knife.json["error"]["faults"][0]["where"] == "danger"
    assert "jam" in knife.json["error"]["faults"][0]["text"]
