"""Gaps read with feelers: where not even the thinnest goes in, the gap is 0 or less than that one's thickness."""

from __future__ import annotations

import math

from trued.equipment.sides import feeler_words
from trued.measure.estimate import ErrorSource, Shape, UncertainValue
from trued.procedure.declaration import RunInput
from trued.procedure.quantities import inches, size

THINNEST = inches(0.0015)  # of a common set, common practice
LABEL = "below the thinnest feeler"


def gap(taken: RunInput, name: str, station: str | None = None) -> UncertainValue:
    """The gap at one place. A 0 stands for anything from touching to the thinnest feeler."""
    if any(taken.all(name, station)):
        return taken.mean(name, station)
    return UncertainValue.of(0.0, ErrorSource(f"thin:{name}@{station or ''}", LABEL, THINNEST / math.sqrt(12.0)))


def gauged(shim_mm: float, unit: str) -> str:
    """`0.0105 in (gauge it with feelers of ... together)`: a shim as feelers can gauge it; its size below them."""
    if shim_mm < THINNEST:
        return size(shim_mm, unit)
    words = feeler_words(shim_mm, unit)
    return f"{size(words.made_mm, unit)} (gauge it with {words.feelers})"


def closed(key: str) -> UncertainValue:
    """No gap on either of two sides: one of them may be open by less than the thinnest feeler."""
    return UncertainValue.of(
        0.0, ErrorSource(f"thin:{key}", LABEL, THINNEST / math.sqrt(3.0), math.inf, Shape.RECTANGULAR)
    )
