"""Limits of error that a standard allows an instrument of a class: rules and tapes, try squares.

For calipers ISO 13385-1 prints no table, for feelers (DIN 2275) and straightedges (DIN 874) no figure was at hand:
there the maker's figure counts, typed by the person, and until then what `instrument.DEFAULTS` takes for usual.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

TAPE_CLASSES: dict[str, tuple[float, float, float]] = {
    "I": (0.1, 0.1, 0.1),
    "II": (0.3, 0.2, 0.2),
    "III": (0.6, 0.4, 0.3),
}
"""Class -> (a, b, c) in mm, mm per m, mm: OIML R 35-1:2007 and Directive 2014/32/EU, annex X (MI-008), table 1."""

MARK_STEPS: dict[str, tuple[float, float]] = {"I": (0.1, 0.2), "II": (0.2, 0.4), "III": (0.3, 0.6)}
"""Class -> limit in mm of the step between neighbouring marks up to 1 mm, and up to 1 cm: MI-008, table 2."""

SQUARE_GRADES: dict[str, tuple[float, float]] = {
    "00": (2.0, 100.0),
    "0": (5.0, 50.0),
    "1": (10.0, 20.0),
    "2": (20.0, 10.0),
}
"""Grade -> (p, q) of p + L / q micrometres, L the blade's length in mm: DIN 875-1, from memory."""


def tape_limit_mm(accuracy_class: str, length_mm: float, *, from_hook: bool) -> float:
    """The most that a tape or rule may be wrong over a length, mm: a + b L, L in metres rounded up to a whole one.

    from_hook: the length begins at a surface, the hook or the rule's end, which adds c.
    OIML R 35-1:2007; MI-008. Valid at 20 degrees Celsius, tapes of 5 m and more pulled with 50 N.
    """
    a, b, c = _known(TAPE_CLASSES, accuracy_class)
    if not length_mm > 0.0:
        raise ValueError(f"a length must be above 0, got {length_mm}")
    return a + b * math.ceil(round(length_mm / 1000.0, 9)) + (c if from_hook else 0.0)


def mark_limit_mm(accuracy_class: str, step_mm: float) -> float:
    """The most that the step between two neighbouring marks may be wrong, mm; steps of 1 cm at the most (MI-008)."""
    fine, coarse = _known(MARK_STEPS, accuracy_class)
    if not 0.0 < step_mm <= 10.0:
        raise ValueError(f"neighbouring marks lie from 0 to 10 mm apart, got {step_mm}")
    return fine if step_mm <= 1.0 else coarse


def square_limit_mm(grade: str, blade_mm: float) -> float:
    """The most that a try square may be out of square at the end of its blade, mm (DIN 875-1, from memory)."""
    base, per = _known(SQUARE_GRADES, grade)
    if not blade_mm > 0.0:
        raise ValueError(f"a blade must be longer than 0, got {blade_mm}")
    return (base + blade_mm / per) / 1000.0


def _known(table: Mapping[str, tuple[float, ...]], name: str) -> tuple[float, ...]:
    if name not in table:
        raise ValueError(f"known are {', '.join(table)}, got {name!r}")
    return table[name]
