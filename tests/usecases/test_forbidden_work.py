"""Work with a forbidden or unfit part is not ordered: not as a next step, not as a check, not in words."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from tests.cli.calling import STRIP

from trued.usecases.changes.record_event import record_event
from trued.usecases.runs.check_form import check_form
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.list_checks import list_checks
from trued.usecases.standing.shop_verdict import shop_verdict
from trued.usecases.standing.standing import what_stands

SHOP = (Path(__file__).parents[2] / "examples" / "shop.toml").read_text(encoding="utf-8")
NOW = datetime(2026, 5, 4, 10, 0, tzinfo=UTC)
SLED_BAN = SHOP.replace('["dado-stack"]', '["crosscut-sled"]')
BIG_BLADE = SHOP.replace('diameter = "9 1/2"', 'diameter = "12"')
TOE_IN = [text for _ in range(3) for text in ("operator_end=5.000", "middle=4.990", "far_end=4.980")]


def book_of(text: str, folder: Path) -> Path:
    file, book = folder / "shop.toml", folder / "shop.trued"
    file.write_text(text, encoding="utf-8")
    describe_shop(file, book)
    return book


@pytest.mark.parametrize(
    ("text", "said"),
    [(SLED_BAN, "The saw's maker forbids a crosscut sled."), (BIG_BLADE, "The blade is larger than the saw takes.")],
)
def test_five_cuts_with_a_banned_sled_or_an_unfit_blade(text: str, said: str, tmp_path: Path) -> None:
    """`check five-cut` ordered "Open the fence", `standing` "Then run five-cut", and the first page was silent."""
    book = book_of(text, tmp_path)
    empty = what_stands(book, at=NOW)
    assert "five-cut" not in [check.check for check in empty.never]
    assert shop_verdict(empty).code == "not-yet" and said in shop_verdict(empty).told
    assert said in check_form("five-cut", book).notes[0]
    for hours in (0, 1):
        found = run_check("five-cut", STRIP, {}, book=book, at=NOW + timedelta(hours=hours), answers=("anew",) * hours)
    assert said in found.finding.dangers[0].text
    view = what_stands(book, at=NOW + timedelta(hours=2))
    (fence,) = (line.standing for line in view.lines if line.standing.feature == "sled.fence-angle@0")
    assert fence.decision == "proven-out" and fence.next is not None
    assert fence.next.do == "look" and said in fence.next.text and fence.next.check == ""
    assert not any(line.standing.next is not None and line.standing.next.do == "move" for line in view.do_first)


def test_no_rip_is_ordered_at_a_fence_that_closes(tmp_path: Path) -> None:
    """With toe proven out `check rip-parallel` ended "Then run rip-parallel again"."""
    book = book_of(SHOP, tmp_path)
    run_check("rip-fence", ["slot=beyond-blade", "dial=distance", "length=20", *TOE_IN], {}, book=book, at=NOW)
    view = what_stands(book, at=NOW)
    assert "rip-parallel" not in [check.check for check in view.never]
    assert "rip-fence" not in [check.check for check in view.never]  # it was run, and mends it
    toe = next(line.standing for line in view.lines if line.standing.feature == "saw.rip-toe")
    assert toe.decision == "proven-out" and toe.next is not None and toe.next.check == "rip-fence"
    assert "No rip" in check_form("rip-parallel", book).notes[0]


def test_an_event_orders_no_rip_at_a_fence_that_was_found_out(tmp_path: Path) -> None:
    """After `event saw-carried` its toe was only in doubt, and `rip-parallel` stood among what to check."""
    book = book_of(SHOP, tmp_path)
    run_check("rip-fence", ["slot=beyond-blade", "dial=distance", "length=20", *TOE_IN], {}, book=book, at=NOW)
    record_event("saw-carried", "", book, at=NOW + timedelta(hours=1))
    view = what_stands(book, at=NOW + timedelta(hours=2))
    assert "rip-parallel" not in [check.check for check in view.never]
    assert "Only rip-fence opens it again" in shop_verdict(view).told
    note = check_form("rip-parallel", book).notes[0]
    assert "Found out and not shown right since" in note and "No rip" in note
    toe = next(line.standing for line in view.lines if line.standing.feature == "saw.rip-toe")
    assert toe.next is not None and toe.next.check == "rip-fence"


def test_a_groove_is_not_ordered_where_the_maker_forbids_it(tmp_path: Path) -> None:
    book = book_of(SHOP.replace('["dado-stack"]', '["non-through-cut"]'), tmp_path)
    assert "do not go through the wood" in check_form("dado", book).notes[0]
    assert not any("do not go through" in note for note in check_form("kerf", book).notes)


def test_a_lawful_shop_withholds_nothing(tmp_path: Path) -> None:
    book = book_of(SHOP, tmp_path)
    view = what_stands(book, at=NOW)
    assert view.bans == () and {"five-cut", "rip-parallel"} <= {check.check for check in view.never}


def test_every_check_that_cuts_says_with_what() -> None:
    """A step that orders a cut at the saw belongs to a check that says where."""
    words = (
        "crosscut",
        "rip three",
        "rip a strip",
        "cut it in two",
        "cut five",
        "trim edge",
        "cut the groove",
        "bevel",
    )
    for check in list_checks():
        cuts = any(word in step.text.lower() for step in check.steps for word in words)
        assert not cuts or check.made_on or check.id == "rip-fence", check.id  # its strips are left out where it closes


def test_no_cut_is_ordered_over_an_insert_that_catches(tmp_path: Path) -> None:
    """The insert's check said that nothing is cut over it, and `standing` went on to order five cuts."""
    book = book_of(SHOP, tmp_path)
    run_check("five-cut", STRIP, {}, book=book, at=NOW)
    corners = ["operator-keeper=-0.006", "operator-offcut=0.003", "far-keeper=-0.001", "far-offcut=-0.001"]
    typed = [*(f"low@{corner}" for corner in corners), "rock=0", "strip=operator"]
    run_check("insert", typed, {}, book=book, at=NOW + timedelta(hours=1))
    view = what_stands(book, at=NOW + timedelta(hours=1))
    steps = {line.standing.feature: line.standing.next for line in view.lines}
    insert, fence = steps["saw.insert-operator-keeper"], steps["sled.fence-angle@0"]
    assert insert is not None and insert.check == "insert"
    assert fence is not None and fence.check == "" and "No cut on this saw" in fence.text and fence.why == ""
    assert "No cut on this saw" in shop_verdict(view).told
