"""`trued status`: what is known, and what to do first."""

from __future__ import annotations

from pathlib import Path

from tests.cli.calling import STRIP, Call

PLAY = ("play@start=0.0040", "engaged@start=10.7", "play@end=0.0030", "engaged@end=12")


def test_a_shop_in_which_nothing_was_found(trued: Call, book: Path) -> None:
    answer = trued("standing", "--book", book, "--json").json
    assert list(answer) == [
        *("name", "now", "standings", "do_first", "never_checked", "unread", "verdict", "asks"),
    ]
    assert answer["verdict"]["code"] == "nothing-known"
    assert answer["standings"] == [] and answer["do_first"] == []
    out = trued("standing", "--book", book).out
    assert (
        ": NOTHING CHECKED YET." in out and "Check blade to slot first." in out and "trued check blade-parallel" in out
    )


def test_what_can_hurt_someone_comes_first_and_by_check(trued: Call, book: Path) -> None:
    never = trued("standing", "--book", book, "--json").json["never_checked"]
    ids = [one["check"] for one in never]
    assert len(set(ids)) == len(ids)
    assert {"knife", "insert", "rip-fence", "blade-parallel"} == {one["check"] for one in never if one["safety"]}
    assert [one["safety"] for one in never] == sorted((one["safety"] for one in never), reverse=True)
    assert "five-cut" in ids and not {"stock", "dado", "diagonals", "support"} & set(ids)
    out = trued("standing", "--book", book).out
    assert out.index("someone can get hurt: ") < out.index("knife 6 min") < out.index("Not checked  ")
    trued("check", "five-cut", *STRIP, "--book", book)
    later = trued("standing", "--book", book, "--json").json["never_checked"]
    assert "five-cut" not in [one["check"] for one in later] and len(later) < len(never)


def test_one_step_that_serves_two_features_is_named_once(trued: Call, book: Path) -> None:
    trued("check", "bar-play", *PLAY, "--book", book, "--at", "2026-05-04T09:00")
    words = ("standing", "--book", book, "--at", "2026-05-04T09:30")
    answer = trued(*words, "--json").json
    assert {one["feature"] for one in answer["standings"]} >= {"sled.bar-play", "sled.bar-swing"}
    assert len(answer["do_first"]) == 1
    out = trued(*words).out
    assert "more after that" in out  # what can hurt someone was never looked at, and comes before
    assert "Bar play (sled), bar swing (sled): bar-play (" in trued(*words, "--more").out


def test_what_is_out_comes_before_what_cannot_be_told(trued: Call, book: Path) -> None:
    trued("check", "bar-play", *PLAY, "--book", book, "--at", "2026-05-04T09:00")
    trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:20")
    words = ("standing", "--book", book, "--at", "2026-05-04T09:30")
    answer = trued(*words, "--json").json
    assert answer["do_first"][0] == "sled.fence-angle@0"
    fence = next(one for one in answer["standings"] if one["feature"] == "sled.fence-angle@0")
    assert list(fence) == [
        *("feature", "unit", "value", "u", "dof", "tolerance", "chance_in", "decision", "side", "since", "runs"),
        *("stale", "safety", "blunder", "next", "scatter_source", "response", "set_aside", "look_again", "confirmed"),
        *("believed", "unconfirmed_run", "dangers", "minutes"),
    ]
    assert fence["next"]["direction"] == "open" and fence["next"]["amount"] > 0
    out = trued(*words).out
    assert out.index("Check blade to slot first.") < out.index("Out of tolerance  fence angle")
    more = trued(*words, "--more").out
    assert more.startswith(out.rstrip()) and "Fence angle (sled): " in more
    assert more.index("Fence angle (sled): five-cut (") < more.index("Bar play (sled)", more.index("After that"))
    assert all(len(line) <= 100 for line in more.splitlines())


def test_what_it_says_to_type_can_be_typed(trued: Call, book: Path) -> None:
    out = trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00").out
    words = out.partition("Record it:  trued ")[2].splitlines()[0].split()
    assert trued(*words, "--book", book, "--at", "2026-05-04T09:40").status == 0


def test_when_to_look_again(trued: Call, book: Path) -> None:
    """A fence that is proven wanders again some day."""
    true = ("five-cut", "fence_end=1.0120", "fence_end=1.0125", "free_end=1.0125", "free_end=1.0120", "length=15")
    for at in ("2026-05-04T09:00", "2026-05-04T09:20"):
        trued("check", *true, "--book", book, "--at", at, "--answer", "anew")
    words = ("standing", "--book", book, "--at", "2026-05-04T10:00")
    (fence,) = trued(*words, "--json").json["standings"]
    again = fence["look_again"]
    assert again["uses"] > 0 and again["date"] > "2026-05-04" and len(again["events"]) >= 5
    assert again["text"].startswith("Check again after") and fence["set_aside"] == [] and len(fence["response"]) == 2
    told = " ".join(trued(*words, "--more").out.split())
    assert f"Recheck after {again['uses']} sessions or by " in told


def test_strict(trued: Call, book: Path) -> None:
    assert trued("standing", "--book", book, "--strict").status == 0
    trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00")
    words = ("standing", "--book", book, "--at", "2026-05-04T09:30")
    assert trued(*words).status == 0
    assert trued(*words, "--strict").status == 1


def test_as_it_stood_at_a_time(trued: Call, book: Path) -> None:
    trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00")
    assert trued("standing", "--book", book, "--at", "2026-05-03T09:00", "--json").json["standings"] == []


def test_it_needs_a_book(trued: Call) -> None:
    assert trued("standing", "--json").status == 3


def test_one_feature_with_its_history(trued: Call, book: Path, tmp_path: Path) -> None:
    trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00")
    trued("moved", "fence-angle", "open", "0.01", "--book", book, "--at", "2026-05-04T09:10")
    trued("event", "saw-carried", "--book", book, "--at", "2026-05-04T09:20")
    words = ("standing", "fence-angle", "--book", book, "--at", "2026-05-04T09:30")
    answer = trued(*words, "--json").json
    assert list(answer) == [
        *("name", "now", "feature", "said", "check", "minutes", "standing", "signals", "history", "sheet"),
    ]
    assert answer["feature"] == "sled.fence-angle@0" and answer["standing"]["stale"] and answer["sheet"] is None
    assert [row["kind"] for row in answer["history"]] == ["event", "move", "finding"]
    assert answer["history"][1]["typed"] == ["0.01"] and answer["history"][0]["value"] is None
    told = trued(*words)
    lines = told.out.splitlines()
    assert lines[0] == "Fence angle (sled): sled.fence-angle@0" and all(len(line) <= 100 for line in lines)
    said = " ".join(told.out.split())
    assert said.index("Saw moved, dropped or re-clamped") < said.index("run five-cut") < said.index("Newest first. ")
    assert "read: fence_end:caliper-1=1.0120, free_end:caliper-1=1.0500, length:rule-1=15" in told.out
    printed = trued(*words, "--out", tmp_path / "paper", "--paper", "a4", "--json").json
    assert Path(printed["sheet"]).read_bytes().startswith(b"%PDF-")
    assert f"The sheet: {tmp_path / 'paper'}" in " ".join(trued(*words, "--out", tmp_path / "paper").out.split())
    assert trued(*words, "--strict").status == 0
    assert trued(*words[:-1], "2026-05-04T09:05", "--strict").status == 1


def test_one_feature_that_was_never_found(trued: Call, book: Path) -> None:
    answer = trued("standing", "blade.kerf", "--book", book, "--json").json
    assert answer["standing"] is None and answer["history"] == [] and answer["check"] == "kerf"
    assert "Nothing was found here yet, so nothing is claimed." in trued("standing", "kerf", "--book", book).out


def test_a_feature_that_is_none(trued: Call, book: Path) -> None:
    said = trued("standing", "fence-angel", "--book", book, "--json")
    assert said.status == 2 and "Did you mean fence-angle?" in said.faults[0]
    said = trued("standing", "--out", "sheets", "--book", book)
    assert said.status == 2 and "name it before --out" in said.err
