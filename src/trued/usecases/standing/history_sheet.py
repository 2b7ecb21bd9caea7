"""The printed history of one feature: what is believed of it, the drawing, and its newest rows."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Literal

from trued.errors import InputRefused
from trued.render.pdf import pdf_bytes
from trued.render.values import Head, HistorySheet
from trued.render.values import HistoryLine as SheetLine
from trued.render.whole_file import write_whole
from trued.usecases.showing import reading_said
from trued.usecases.standing.feature_history import FeatureHistory, HistoryLine
from trued.words.status import status_text

MOST = 60
"""Rows on paper: as many as the drawing shows. The older ones are in the book."""

Paper = Literal["letter", "a4"]


def history_pdf(history: FeatureHistory, paper: Paper | None = None) -> bytes:
    """The sheet; Letter for a shop that works in inches, else A4, unless it is named.

    InputRefused while the feature was never found: there is nothing to print.
    """
    head = Head(
        history.shop.name or "This shop", history.now.astimezone().replace(microsecond=0), str(len(history.lines))
    )
    usual: Paper = "letter" if history.unit == "in" else "a4"
    return pdf_bytes(head, (sheet_of(history),), paper or usual)


def write_history(history: FeatureHistory, out: Path, paper: Paper | None = None) -> Path:
    """The sheet in that folder, in place of an older one; InputRefused when it cannot be written."""
    content = history_pdf(history, paper)
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        text = f"The sheet cannot be written into this folder ({error.strerror or error}); name another one."
        raise InputRefused.of("--out", str(out), text) from None
    path = out / f"{file_name(history)}.pdf"
    write_whole(path, content)
    return path


def file_name(history: FeatureHistory) -> str:
    """`sled-fence-angle-0-history`."""
    return re.sub(r"[^a-z0-9]+", "-", history.feature.lower()).strip("-")[:60] + "-history"


def sheet_of(history: FeatureHistory) -> HistorySheet:
    """What is printed."""
    if history.drawing is None:
        raise InputRefused.of("feature", history.feature, history.nothing)
    newest = tuple(reversed(history.lines[-MOST:]))
    left = len(history.lines) - len(newest)
    notes = (f"{left} older rows are in the book.",) if left else ()
    title = f"{history.name[:1].upper()}{history.name[1:]}"
    return HistorySheet(title, tuple(_state(history)), history.drawing, tuple(_line(line) for line in newest), notes)


def _state(history: FeatureHistory) -> Iterator[str]:
    s = history.standing
    if s is None:
        return
    yield from (f"Warning: {text}" for text in s.dangers)
    yield status_text(s, history.unit)
    yield from history.signals
    if s.next is not None:
        yield f"Next: {s.next.text} {s.next.why}".rstrip()
    if s.look_again is not None:
        yield s.look_again.text


def _line(line: HistoryLine) -> SheetLine:
    more = (
        (f"read: {'; '.join(reading_said(text) for text in line.typed)}",)
        if line.kind == "finding" and line.typed
        else ()
    )
    if line.aside:
        more = (f"set aside: {line.aside}", *more)
    return SheetLine(f"{line.at.astimezone():%Y-%m-%d %H:%M}", line.text, more)
