"""`trued next`, `trued due`, `trued cut`: the one thing to do now, what comes due, and cuts that are done."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.calling import RACK, STRIP, Call

from trued.usecases.shop.shop_now import opened

OUT = ("check", "five-cut", *STRIP)


def test_an_empty_book_begins_with_the_blade(trued: Call, book: Path) -> None:
    said = trued("next", "--book", book)
    assert said.status == 0 and "blade-parallel" in said.out
    assert trued("next", "--book", book, "--json").json["next"] == "begin"


def test_what_can_hurt_someone_comes_before_what_is_out(trued: Call, book: Path) -> None:
    trued(*OUT, "--book", book)
    found = trued("next", "--book", book, "--json").json
    assert found["next"] == "check" and found["check"] == "blade-parallel"


def test_a_fence_found_toed_in_comes_before_all(trued: Call, book: Path) -> None:
    locks = ("operator_end=5.000", "middle=4.990", "far_end=4.980") * 3
    how = ("length=20", "slot=beyond-blade", "dial=distance")
    trued(*OUT, "--book", book)
    kept = trued("check", "rip-fence", *locks, *how, "--book", book)
    assert kept.status == 0 and "No rip" in kept.out
    found = trued("next", "--book", book, "--json").json
    assert found["next"] == "step" and found["feature"].startswith("saw.rip-")


def test_cuts_are_marked_in_their_order(trued: Call, book: Path) -> None:
    trued("plan", RACK, "--book", book)
    first = trued("cut", "--book", book, "--json").json
    assert first["ticket"] and first["left"] > 1 and not first["closed"]
    shown = trued("cut", "--book", book).out
    assert shown.index("WARNING") < shown.index("NOTHING TO SET") and "Eye and ear protection" in shown
    assert all(text.split()[0] in shown for text in first["hold"])
    assert trued("cut", "--done", "--book", book).status == 2  # which one?
    done = trued("cut", first["ticket"], "--done", "--book", book, "--json").json
    assert done["changed"] and done["left"] == first["left"] - 1 and done["ticket"] != first["ticket"]
    assert not trued("cut", first["ticket"], "--done", "--book", book, "--json").json["changed"]
    later = trued("cut", str(first["left"]), "--book", book, "--json").json
    if later["after"]:
        refused = trued("cut", str(first["left"]), "--done", "--book", book)
        assert refused.status == 2 and "First: cut" in refused.err
    assert trued("cut", first["ticket"], "--undone", "--book", book, "--json").json["left"] == first["left"]


def test_no_such_cut_and_no_plan(trued: Call, book: Path) -> None:
    assert trued("cut", "--book", book).status == 2
    trued("plan", RACK, "--book", book)
    refused = trued("cut", "T99", "--book", book)
    assert refused.status == 2 and "T1 to T" in refused.err
    assert trued("cut", "--plan", "ffff", "--book", book).status == 2


def test_a_closed_cut_has_no_number(trued: Call, book: Path) -> None:
    trued("plan", RACK, "--book", book)
    order = trued("plan", RACK, "--book", book, "--json").json["order"]
    rip = next(ticket for ticket in order if ticket["station"] == "rip fence")
    trued("event", "blade-thinner", "--book", book)
    found = trued("cut", rip["id"], "--book", book, "--json").json
    assert found["closed"] and found["number"] is None
    assert "Do not make this cut" in trued("cut", rip["id"], "--book", book).out
    assert trued("cut", rip["id"], "--done", "--book", book).status == 2


def test_what_is_in_doubt_is_due_now(trued: Call, book: Path) -> None:
    assert trued("due", "--book", book).out.startswith("Nothing comes due")
    trued(*OUT, "--book", book)
    trued("event", "saw-carried", "--book", book)
    found = trued("due", "--book", book, "--json").json["due"]
    assert found and found[0]["doubt"] and found[0]["date"] is None
    assert trued("due", "--book", book).out.startswith("now")


def test_a_skipped_cut_waits_with_its_reason_and_is_not_offered(trued: Call, book: Path) -> None:
    trued("plan", RACK, "--book", book)
    first = trued("cut", "--book", book, "--json").json
    skipped = trued("cut", first["ticket"], "--skip", "  clamp is  lent out ", "--book", book, "--json").json
    assert skipped["changed"] and skipped["ticket"] != first["ticket"] and skipped["skipped"] == [first["ticket"]]
    assert skipped["left"] == first["left"]
    shown = trued("cut", first["ticket"], "--book", book)
    assert "Skipped: clamp is lent out." in shown.out and "--undo" in shown.out
    here = trued("cut", first["ticket"], "--book", book, "--json").json
    assert (here["mark"], here["reason"]) == ("skipped", "clamp is lent out")
    assert not trued("cut", first["ticket"], "--skip", "clamp is lent out", "--book", book, "--json").json["changed"]
    asked = trued("cut", first["ticket"], "--skip", "knot", "--book", book)
    assert asked.status == 2 and "clamp is lent out" in asked.err
    again = trued("cut", first["ticket"], "--skip", "knot", "--book", book, "--answer", "instead", "--json").json
    assert again["changed"]
    assert trued("cut", first["ticket"], "--undo", "--book", book, "--json").json["ticket"] == first["ticket"]


@pytest.mark.parametrize("reason", ["", "   ", "x" * 201])
def test_a_cut_is_not_skipped_without_a_reason(reason: str, trued: Call, book: Path) -> None:
    trued("plan", RACK, "--book", book)
    assert trued("cut", "T1", "--skip", reason, "--book", book).status == 2
    assert trued("cut", "T1", "--book", book, "--json").json["mark"] is None


def test_a_wrong_cut_is_measured_and_its_piece_waits(trued: Call, book: Path) -> None:
    trued("plan", RACK, "--book", book)
    ticket = trued("cut", "--book", book, "--json").json["ticket"]
    for size in ("0", "-3", "about ten", "1e400"):
        assert trued("cut", ticket, "--wrong", size, "--book", book).status == 2
    told = trued("cut", ticket, "--wrong", "13 21/64", "--book", book)
    assert told.status == 0 and "cut wrong" in told.out and "Plan the job again" in told.out
    assert trued("cut", ticket, "--book", book, "--json").json["mark"] == "wrong"
    refused = trued("cut", ticket, "--done", "--book", book)
    assert refused.status == 2 and "Undo that first" in refused.err
    with opened(book) as kept:
        (plan,) = kept.plans()
        (mark,) = kept.marks(plan.id)
    assert mark.size_mm == pytest.approx((13 + 21 / 64) * 25.4, abs=1e-9)
    assert trued("cut", ticket, "--undo", "--book", book, "--json").json["ticket"] == ticket
    assert trued("cut", ticket, "--wrong", "--book", book).status == 0
