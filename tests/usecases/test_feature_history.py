"""The history of one feature, by the name that a person types, and as a sheet."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from tests.render.pdf_reading import READS, boxes, text_of

from trued.errors import InputRefused
from trued.store.ids import new_id
from trued.store.rows import EventRow, ReadingRow, RunRow
from trued.usecases.changes.record_event import record_event
from trued.usecases.changes.record_move import record_move
from trued.usecases.changes.undo import last_kept, take_back
from trued.usecases.runs.run_check import run_check
from trued.usecases.shop.describe_shop import describe_shop
from trued.usecases.shop.shop_now import opened
from trued.usecases.showing import reading_said
from trued.usecases.standing.feature_history import feature_history
from trued.usecases.standing.history_sheet import MOST, history_pdf, sheet_of, write_history
from trued.usecases.standing.standing import what_stands

SHOP = Path(__file__).parents[2] / "examples" / "shop.toml"
FENCE = "sled.fence-angle@0"
START = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)
NOW = START + timedelta(days=30)


def _later(hours: float) -> datetime:
    return START + timedelta(hours=hours)


def _strip(book: Path, hours: float, free_end: str) -> None:
    run_check("five-cut", ["fence_end=1.0120", f"free_end={free_end}", "length=15"], {}, book=book, at=_later(hours))


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Found out, turned, found again, carried; and a kerf."""
    path = tmp_path_factory.mktemp("history") / "shop.trued"
    describe_shop(SHOP, path)
    _strip(path, 0, "1.0500")
    record_move("fence-angle", "open", "0.0100", path, at=_later(1))
    _strip(path, 2, "1.0190")
    record_event("saw-carried", "", path, at=_later(3))
    run_check("kerf", ["whole=5", "keeper_piece=2.4", "offcut_piece=2.504"], {}, book=path, at=_later(4))
    return path


def test_everything_in_order_with_what_was_typed(book: Path) -> None:
    told = feature_history(FENCE, book, at=NOW)
    assert [line.kind for line in told.lines] == ["finding", "move", "finding", "event"]
    first, move, _, event = told.lines
    assert first.typed == ("fence_end:caliper-1=1.0120", "free_end:caliper-1=1.0500", "length:rule-1=15")
    assert first.text.startswith("five-cut: +") and first.value is not None and first.u is not None
    assert move.typed == ("0.0100",) and move.text.startswith("open by 0.0100 in at the screw")
    assert event.value is None and event.text.startswith("Saw moved, dropped")
    assert told.check == "five-cut" and told.minutes == 15 and told.fixture == "sled" and told.nothing == ""


def test_it_stands_as_the_standing_page_says(book: Path) -> None:
    lines = what_stands(book, at=NOW).lines
    assert [feature_history(line.standing.feature, book, at=NOW).standing for line in lines] == [
        line.standing for line in lines
    ]


def test_as_it_was_at_a_time(book: Path) -> None:
    assert [line.kind for line in feature_history(FENCE, book, at=_later(1.5)).lines] == ["finding", "move"]


@pytest.mark.parametrize("name", ["fence-angle", "fence-angle@0", FENCE])
def test_a_bare_name_is_enough(name: str, book: Path) -> None:
    assert feature_history(name, book, at=NOW).feature == FENCE


def test_what_was_never_found_says_so(book: Path) -> None:
    told = feature_history("detent-angle@45closed", book, at=NOW)
    assert told.feature == "sled.detent-angle@45closed" and told.standing is None and told.drawing is None
    assert "nothing is claimed" in told.nothing and "detent-angle" in told.nothing
    with pytest.raises(InputRefused, match="nothing is claimed"):
        history_pdf(told)


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("sled.fence-angel@0", r"sled\.fence-angle@0"),
        ("other.fence-angle", r"sled\.fence-angle@0"),
        ("box-square", "one piece of work"),
    ],
)
def test_a_name_that_this_shop_has_not_is_refused(name: str, hint: str, book: Path) -> None:
    with pytest.raises(InputRefused, match=hint):
        feature_history(name, book, at=NOW)


def test_a_wrong_name_in_an_empty_book(tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    for name, hint in (("fence-angel", "fence-angle"), ("other.fence-angle", r"sled\.fence-angle")):
        with pytest.raises(InputRefused, match=hint):
            feature_history(name, path, at=NOW)


def test_a_finding_that_was_set_aside_says_why(tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    for n in range(10):
        _strip(path, n, f"1.01{20 + n % 3}")
    _strip(path, 11, "1.0900")
    told = feature_history(FENCE, path, at=NOW)
    assert told.lines[-1].aside and not any(line.aside for line in told.lines[:-1])
    assert told.standing is not None and len(told.standing.set_aside) == 1 and told.drawing is not None
    assert "A dashed diamond was set aside." in told.drawing.told
    assert sheet_of(told).lines[0].more[0] == f"set aside: {told.lines[-1].aside}"


def _proved(path: Path, lengths: dict[str, tuple[str, str]]) -> str:
    """A book with measured parts, by name and copy the setting and the size; the run's id."""
    describe_shop(SHOP, path)
    facts = {f"set:{part}": at for part, (at, _) in lengths.items()}
    with opened(path) as book:
        run = RunRow(new_id(), "proof", 1, START, START, fixture="sled", facts=facts)
        readings = [
            ReadingRow(new_id(), run.id, n, *_name(part, typed), START, START, station=part.partition("@")[2])
            for n, (part, (_, typed)) in enumerate(lengths.items())
        ]
        book.add_run(run, readings)
    return run.id


def _name(part: str, typed: str) -> tuple[str, str]:
    return part.partition("@")[0], typed


def test_measured_parts_stand_in_the_history_of_the_stop(tmp_path: Path) -> None:
    lengths = {"rail@1": ("3", "3.004"), "shelf@1": ("5", "5.005"), "side@1": ("7", "7.004")}
    run = _proved(tmp_path / "shop.trued", lengths)
    (line,) = feature_history("stop-offset", tmp_path / "shop.trued", at=NOW).lines
    assert line.id == run and line.typed == ("rail@1=3.004", "shelf@1=5.005", "side@1=7.004")


def test_what_only_measured_parts_found_has_its_history_too(tmp_path: Path) -> None:
    lengths = {"rail@1": ("3", "3.004"), "rail@2": ("3", "3.006"), "rail@3": ("3", "3.005")}
    run = _proved(tmp_path / "shop.trued", lengths)
    told = feature_history("stop-repeat", tmp_path / "shop.trued", at=NOW)
    assert [line.id for line in told.lines] == [run] and told.drawing is not None


@READS
def test_the_sheet_says_what_the_page_says(book: Path, tmp_path: Path) -> None:
    history = feature_history(FENCE, book, at=NOW)
    read = text_of(history_pdf(history), tmp_path)
    for words in ("Fence angle (sled)", "Saw moved, dropped", "run five-cut", "1.0500"):
        assert words in read


def test_its_paper_and_its_file(book: Path, tmp_path: Path) -> None:
    history = feature_history(FENCE, book, at=NOW)
    assert boxes(history_pdf(history))[0] == pytest.approx((612, 792), abs=0.01)  # Letter, ANSI/ASME Y14.1
    path = write_history(history, tmp_path / "new", "a4")
    assert path.name == "sled-fence-angle-0-history.pdf"
    assert boxes(path.read_bytes())[0] == pytest.approx((595.28, 841.89), abs=0.01)  # A4, ISO 216
    with pytest.raises(InputRefused, match="cannot be written"):
        write_history(history, path)


def test_a_long_history_prints_its_newest_rows(tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)
    _strip(path, 0, "1.0500")
    with opened(path) as book:
        for n in range(MOST + 5):
            book.add_event(EventRow(new_id(), "saw-carried", _later(1 + n)))
    sheet = sheet_of(feature_history(FENCE, path, at=NOW))
    assert len(sheet.lines) == MOST and sheet.notes == ("6 older rows are in the book.",)


def test_a_reading_in_words() -> None:
    assert reading_said("free_end:caliper-1=1.0500") == "free end: 1.0500"
    assert reading_said("gap@mid-span=0.004") == "gap at mid span: 0.004"


def test_what_is_remembered_goes_with_every_row_that_comes(tmp_path: Path) -> None:
    path = tmp_path / "shop.trued"
    describe_shop(SHOP, path)

    def told() -> list[tuple[str, float | None]]:
        return [(line.text, line.value) for line in feature_history(FENCE, path, at=NOW).lines]

    seen = [told()]
    _strip(path, 0, "1.0500")
    seen.append(told())
    _strip(path, 2, "1.0190")
    seen.append(told())
    record_event("saw-carried", "", path, at=_later(3))
    seen.append(told())
    for _ in range(2):
        take_back(last_kept(path)[0].id, path)
        seen.append(told())
    assert all(one != other for one, other in pairwise(seen))
    assert told() == told()


def test_a_book_put_in_the_place_of_another_is_read_anew(tmp_path: Path) -> None:
    path, other = tmp_path / "shop.trued", tmp_path / "other.trued"
    for book, free_end in ((path, "1.0500"), (other, "1.0190")):
        describe_shop(SHOP, book)
        _strip(book, 0, free_end)
    first = feature_history(FENCE, path, at=NOW).lines[0].value
    other.replace(path)
    assert feature_history(FENCE, path, at=NOW).lines[0].value != first
