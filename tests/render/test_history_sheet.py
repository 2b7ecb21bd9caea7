"""The sheet of one feature's history: whole, with nothing of it read as markup."""

from pathlib import Path

from tests.render import samples
from tests.render.pdf_reading import READS, boxes, text_of

from trued.render.pdf import pdf_bytes
from trued.render.values import HistoryLine, HistorySheet


def sheet(rows: int, text: str = "found again") -> HistorySheet:
    lines = tuple(HistoryLine(f"2026-05-{n % 28 + 1:02}", f"{text} {n}", (f"read: {n}",)) for n in range(rows))
    return HistorySheet(f"Angle {text}", (f"state {text}", "next"), samples.sled(), lines, (f"note {text}",))


@READS
def test_every_row_is_printed_and_nothing_is_markup(tmp_path: Path) -> None:
    for hostile in samples.HOSTILE[:3]:
        read = text_of(pdf_bytes(samples.HEAD, [sheet(40, hostile)]), tmp_path)
        for n in range(40):
            assert f"read: {n}" in read
        assert read.count(" ".join(hostile.split())) >= 41


def test_a_long_history_takes_more_pages() -> None:
    assert len(boxes(pdf_bytes(samples.HEAD, [sheet(1)]))) == 1 < len(boxes(pdf_bytes(samples.HEAD, [sheet(60)])))
