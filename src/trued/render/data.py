"""Sheets as the data that the page reads: texts that are safe to print, drawings as SVG. Never as markup."""

import re
from collections.abc import Sequence
from datetime import datetime

from trued.drawing.shapes import Drawing
from trued.render.picture.printable_text import plain
from trued.render.picture.svg import svg
from trued.render.picture.text_width import kept_whole
from trued.render.values import (
    BoardSheet,
    FitLine,
    FitSheet,
    Head,
    HistorySheet,
    Sheet,
    TicketGroup,
    TicketLine,
    TicketSheet,
)
from trued.words.ticket import copies

Data = str | int | float | bool | None | Sequence["Data"] | dict[str, "Data"]

DRAWING_PT = 510.0
"""Width of a drawing in print: A4 between its margins; a little less than Letter has."""

_LONG = re.compile(r"\S{30}(?=\S)")
_HEAD_MOST = 60  # signs of a name in the head of a page: one line of it

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def data_of(head: Head, sheets: Sequence[Sheet], paper: str) -> Data:
    """Everything the page needs."""
    return {
        "paper": paper,
        "job": _short(head.job),
        "date": _date(head.made),
        "version": _short(head.version, 24),
        "replaces": _short(head.replaces, 24),
        "sheets": [_sheet(sheet) for sheet in sheets],
    }


def _sheet(sheet: Sheet) -> Data:
    match sheet:
        case TicketSheet():
            groups = [_group(group) for group in sheet.groups]
            said: dict[str, Data] = {"cautions": _all(sheet.cautions), "not_made": _all(sheet.not_made)}
            return _common(sheet) | {"kind": "tickets", "groups": groups} | said
        case BoardSheet():
            key: list[Data] = [
                {
                    "letter": _say(line.letter),
                    "name": _say(line.name),
                    "size": _say(line.size),
                    "places": _all(line.places),
                }
                for line in sheet.key
            ]
            return _common(sheet) | {"kind": "board", **_image(sheet.drawing), "key": key}
        case FitSheet():
            return _common(sheet) | {"kind": "fits", "lines": [_fit(line) for line in sheet.lines]}
        case HistorySheet():
            rows: list[Data] = [
                {"day": _say(line.day), "text": _say(line.text), "more": _all(line.more)} for line in sheet.lines
            ]
            shown = {"kind": "history", "state": _all(sheet.state), "lines": rows}
            return _common(sheet) | _image(sheet.drawing) | shown


def _image(drawing: Drawing) -> dict[str, Data]:
    image = svg(drawing, width=DRAWING_PT, most_height=380, palette="print")
    return {"image": image, "told": plain(drawing.told)}


def _common(sheet: Sheet) -> dict[str, Data]:
    return {"title": _say(sheet.title), "notes": _all(sheet.notes)}


def _group(group: TicketGroup) -> Data:
    return {
        "station": _say(group.station),
        "setting": _say(group.setting),
        "notes": _all(group.notes),
        "cautions": _all(group.cautions),
        "first": _all(group.first),
        "lines": [_line(line) for line in group.lines],
    }


def _line(line: TicketLine) -> Data:
    return {
        "number": line.number,
        "part": _say(line.part),
        "lies": _say(line.lies),
        "source": _say(line.source),
        "boxes": line.boxes,
        "cautions": _all(line.cautions),
        "first": _all(line.first),
        "waits": _say(line.waits),
    }


def _fit(line: FitLine) -> Data:
    return {
        "name": _say(line.name),
        "needed": _say(line.needed),
        "expected": _say(line.expected),
        "spread": _say(line.spread),
        "chance": _say(line.chance),
        "beside": _say(line.beside),
        "because": _say(line.because),
    }


def _say(text: str) -> str:
    """A text that stays within the page: a word that is longer than any may be parted, a size may not. A part's copy
    is named as a person says it."""
    return _LONG.sub("\\g<0>\u200b", kept_whole(plain(copies(text))))


def _short(text: str, most: int = _HEAD_MOST) -> str:
    words = plain(text)
    return _say(words if len(words) <= most else words[: most - 1] + "…")


def _all(texts: Sequence[str]) -> list[Data]:
    return [_say(text) for text in texts]


def _date(made: datetime) -> str:
    return f"{made.day} {_MONTHS[made.month - 1]} {made.year}, {made:%H:%M}"
