"""Sheets as PDF: page-true, whole, tagged, with nothing a person typed read as markup."""

import re
from dataclasses import replace
from datetime import datetime
from itertools import pairwise
from pathlib import Path

import pytest
from tests.render import samples
from tests.render.pdf_reading import DRAWS, READS, boxes, dark_rows, text_of

from trued.drawing.shapes import Drawing, Label, Line
from trued.errors import InputRefused, TruedError
from trued.render import pdf
from trued.render.board import KeyLine
from trued.render.pdf import Paper, pdf_bytes, write_pdf
from trued.render.values import BoardSheet, FitLine, FitSheet, Head, Sheet, TicketGroup, TicketLine, TicketSheet

SHEETS: list[Sheet] = [
    samples.tickets(),
    samples.board_sheet(samples.board()),
    samples.board_sheet(samples.sheet()),
    samples.fits(),
]
# ISO 216: A4 is 210 × 297 mm. ANSI/ASME Y14.1: size A, called Letter, is 8.5 × 11 in.
PAPERS: dict[Paper, tuple[float, float]] = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (8.5 * 72, 11 * 72)}


RUN = re.compile(rb"\x01+")
"""A run of dark pixels."""


def ticks(row: bytes, dpi: int) -> list[float]:
    """Where the dark runs of a row have their middles, in mm."""
    return [(run.start() + run.end()) / 2 / dpi * 25.4 for run in RUN.finditer(row)]


def printed(paper: Paper = "letter") -> bytes:
    return pdf_bytes(samples.HEAD, SHEETS, paper)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_has_the_true_size_of_its_paper(paper: Paper) -> None:
    assert boxes(printed(paper)) == [pytest.approx(PAPERS[paper], abs=0.01)] * 4


def test_a_long_list_takes_more_pages() -> None:
    assert len(boxes(pdf_bytes(samples.HEAD, [samples.tickets(60)]))) > 4


def test_the_same_sheets_give_the_same_bytes() -> None:
    assert printed() == printed()


def test_it_is_tagged_and_brings_its_fonts() -> None:
    made = printed()
    assert b"/StructTreeRoot" in made and b"/Marked true" in made and b"/Lang" in made
    fonts = set(re.findall(rb"/FontName ?/[A-Z]{6}\+([\w-]+?)(?=[/\s])", made))
    assert fonts == {b"SourceSansPro-Regular", b"SourceSansPro-Bold"}


def test_it_meets_the_standard_for_pages_that_are_read_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """PDF/UA-1 (ISO 14289-1), as far as typst looks: alternative texts, headings in order, a title."""
    import typst

    loosely = typst.compile

    def strictly(*args: object, **options: object) -> object:
        return loosely(*args, **options, pdf_standards="ua-1")  # type: ignore[call-overload]

    monkeypatch.setattr(typst, "compile", strictly)
    assert b"pdfuaid:part" in printed()


@READS
def test_every_page_says_job_date_version_and_its_number(tmp_path: Path) -> None:
    words = text_of(printed(), tmp_path)
    for page in range(1, 5):
        assert f"page {page} of 4" in words
    assert words.count("version v3, replaces v2") == 4 and words.count("7 May 2026, 14:05") == 4
    assert words.count("If this bar is off by more than 0.3 mm, the print was scaled") == 4


@READS
def test_the_first_version_replaces_nothing(tmp_path: Path) -> None:
    assert "replaces" not in text_of(pdf_bytes(replace(samples.HEAD, replaces=""), [samples.fits()]), tmp_path)


@READS
def test_tickets_boards_and_fits_say_what_was_given(tmp_path: Path) -> None:
    words = text_of(printed(), tmp_path)
    for told in (
        "WARNING Unplug the saw before you move the stop.",
        "WARNING The piece is short: use the hold-down, hands off the sled's base.",
        "A1 side face down, trued edge to the fence from B1, first piece",
        "Drawn in proportion: do not scale. Go by the numbers.",
        "B1: 30 19/32 to 43 31/32 from the reference end",
        "very likely: 98 in 100 needed 0.002 to 0.006 in expected 0.004 in spread ±0.0012 in (95 %)",
    ):
        assert told in words


@READS
def test_a_setting_comes_again_on_every_page_that_its_cuts_run_on_to(tmp_path: Path) -> None:
    made = pdf_bytes(samples.HEAD, [samples.tickets(30)])
    words = text_of(made, tmp_path)
    assert len(boxes(made)) >= 4
    assert words.count("WARNING Unplug the saw before you move the stop.") == len(boxes(made))


@READS
def test_a_group_may_have_nothing_to_set(tmp_path: Path) -> None:
    group = TicketGroup("Sled, stop out of the way", "", (TicketLine(1, "trim the end clean"),))
    words = text_of(pdf_bytes(samples.HEAD, [TicketSheet("Order of cuts", (group,))]), tmp_path)
    assert "Sled, stop out of the way 1 trim the end clean" in words


def hostile_sheets(said: tuple[str, ...]) -> list[Sheet]:
    one, two, three, four, five = said
    drawing = Drawing(one, two, (Line((0, 0), (4, 0), three), *(Label((n, 0), text) for n, text in enumerate(said))))
    lines = tuple(TicketLine(n, text, text, text, 13, (text,)) for n, text in enumerate(said, 1))
    return [
        TicketSheet(one, (TicketGroup(two, three, lines, said, said),), said, said),
        BoardSheet(four, drawing, (KeyLine(five, one, two, said),), said),
        FitSheet(five, (FitLine(one, two, three, four, five, one),), said),
    ]


@READS
def test_nothing_that_a_person_typed_is_read_as_markup(tmp_path: Path) -> None:
    one, two, three, *_ = samples.HOSTILE
    words = text_of(pdf_bytes(Head(one, samples.HEAD.made, two, three), hostile_sheets(samples.HOSTILE)), tmp_path)
    for text in samples.HOSTILE[:3]:
        assert words.count(text) > 8
    assert words.count("`raw` @ref *b* _i_ = h") > 8 and words.count("line break tab \ufffd") > 8


def test_long_words_and_names_do_not_fail() -> None:
    long = "x" * 400
    head = Head(long, samples.HEAD.made, long, long)
    assert len(boxes(pdf_bytes(head, hostile_sheets((long, long, long, long, long)), "a4"))) >= 3


@DRAWS
@pytest.mark.parametrize("paper", PAPERS)
def test_the_bar_is_as_long_as_it_says(paper: Paper, tmp_path: Path) -> None:
    """Measured on the page as drawn at 600 dpi, where one pixel is 0.042 mm."""
    rows = dark_rows(printed(paper), tmp_path, 600)
    foot = rows[-len(rows) // 8 :]
    at, bar = max(((n, run) for n, row in enumerate(foot) for run in RUN.finditer(row)), key=lambda it: len(it[1][0]))
    assert len(bar[0]) / 600 * 25.4 == pytest.approx(101.6, abs=0.3)
    above, below = (ticks(foot[at + way][bar.start() : bar.end()], 600) for way in (-20, 25))  # about 1 mm away
    assert [to - start for start, to in pairwise(above)] == pytest.approx([10.0] * 10, abs=0.1)
    assert above[-1] - above[0] == pytest.approx(100, abs=0.1)
    assert [to - start for start, to in pairwise(below)] == pytest.approx([25.4] * 4, abs=0.1)


@DRAWS
def test_nothing_is_printed_in_the_margins(tmp_path: Path) -> None:
    for sheet in (samples.tickets(), samples.board_sheet(samples.sheet()), hostile_sheets(("x" * 400,) * 5)[0]):
        rows = dark_rows(pdf_bytes(samples.HEAD, [sheet]), tmp_path, 50)
        margin = int(14 / 25.4 * 50)
        assert not any(any(row[:margin]) or any(row[-margin:]) for row in rows)


def test_the_file_is_written_whole_in_place_of_the_old_one(tmp_path: Path) -> None:
    path = tmp_path / "sheets.pdf"
    path.write_bytes(b"old")
    assert write_pdf(samples.HEAD, SHEETS, path) == path
    assert path.read_bytes() == printed() and [each.name for each in tmp_path.iterdir()] == ["sheets.pdf"]


def test_a_file_that_cannot_be_written_is_refused_in_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match="There is no folder") as refused:
        write_pdf(samples.HEAD, SHEETS, tmp_path / "gone" / "sheets.pdf")
    assert len(refused.value.faults) == 1 and list(tmp_path.iterdir()) == []


def test_a_fault_of_the_page_is_a_fault_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "data_of", lambda *_: {"paper": "letter"})
    with pytest.raises(TruedError, match="The sheets could not be set") as raised:
        printed()
    assert raised.value.status == 70


def test_no_sheet_is_no_pdf() -> None:
    with pytest.raises(ValueError, match="no sheet"):
        pdf_bytes(samples.HEAD, [])


def test_values_cannot_be_built_wrong() -> None:
    with pytest.raises(ValueError, match="time zone"):
        Head("job", datetime(2026, 5, 7), "v1")  # noqa: DTZ001 - the fault that is looked for
    with pytest.raises(ValueError, match="version"):
        replace(samples.HEAD, version="")
    with pytest.raises(ValueError, match="a part"):
        TicketLine(0, "shelf")
    with pytest.raises(ValueError, match="at least one cut"):
        TicketGroup("Sled stop", "3", ())
