"""`trued status FEATURE`: one feature's whole history for a terminal, and as plain values."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from trued.cli.lines import wrapped
from trued.cli.result import Json
from trued.cli.text.standing_json import standing_json
from trued.words.status import status_text

if TYPE_CHECKING:
    from pathlib import Path

    from trued.units import Unit
    from trued.usecases.standing.feature_history import FeatureHistory, HistoryLine
    from trued.usecases.views import FeatureStatus


def history_told(history: FeatureHistory, sheet: Path | None = None) -> str:
    """What is believed, what the charts see, then every row, the newest first."""
    return "\n".join(_told(history, sheet))


def _told(history: FeatureHistory, sheet: Path | None) -> Iterator[str]:
    yield f"{history.name[:1].upper()}{history.name[1:]}: {history.feature}"
    if history.standing is None:
        yield wrapped(history.nothing, "  ")
    else:
        yield from standing_lines(history.standing, history.unit)
        yield from (wrapped(f"Signal: {text}", "  ") for text in history.signals)
    if history.lines:
        yield ""
        yield "Newest first. To take one back: trued undo ID"
    for line in reversed(history.lines):
        yield from _row(line)
    if sheet is not None:
        yield ""
        yield wrapped(f"The sheet: {sheet}")


def standing_lines(s: FeatureStatus, unit: Unit) -> Iterator[str]:
    """What is believed of one feature, what is doubtful about it, and what comes next."""
    yield from (wrapped(f"WARNING  {text}", "  ") for text in s.dangers)
    yield wrapped(status_text(s, unit), "  ")
    if s.next is not None:
        yield wrapped(f"Next: {s.next.text} {s.next.why}".rstrip(), "  ")


def _row(line: HistoryLine) -> Iterator[str]:
    yield wrapped(f"{line.at.astimezone():%Y-%m-%d %H:%M}  {line.text}  ({line.id[:8]})", "  ")
    if line.aside:
        yield wrapped(f"set aside: {line.aside}", "      ")
    if line.kind == "finding" and line.typed:
        yield wrapped(f"read: {', '.join(line.typed)}", "      ")


def history_json(history: FeatureHistory, sheet: Path | None = None) -> Json:
    """The same for scripts; `standing` is null while it was never found."""
    s = history.standing
    return {
        "name": history.shop.name,
        "now": history.now.isoformat(),
        "feature": history.feature,
        "said": history.name,
        "check": history.check,
        "minutes": history.minutes,
        "standing": standing_json(s) if s is not None else None,
        "signals": list(history.signals),
        "history": [_values(line) for line in reversed(history.lines)],
        "sheet": str(sheet) if sheet is not None else None,
    }


def _values(line: HistoryLine) -> Json:
    return {
        "at": line.at.isoformat(),
        "kind": line.kind,
        "id": line.id,
        "text": line.text,
        "value": line.value,
        "u": line.u,
        "typed": list(line.typed),
        "aside": line.aside or None,
    }
