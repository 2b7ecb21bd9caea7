"""Blunders that more than one check can see in its readings."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from trued.measure.distribution.student import t_quantile
from trued.procedure.asks import Kind
from trued.procedure.declaration import Flag, Reading, RunInput, Severity
from trued.procedure.quantities import INCH, place, plain, size

UNIT_SLIP_SHARE = 0.03  # of the ratio of inch and millimetre, common practice
READ_MM = 0.1  # and so far as two readings of a small thing may differ, common practice
ALIKE = 1.2  # of the smallest: readings of about one size
LEAST_SLIP_MM = 1.0  # smaller readings may stand in any proportion by their scatter alone
BURR_MM = 0.002 * INCH  # common practice: two readings of one spot differ by fuzz
RARE = 0.001
BURNED_MM = 0.75  # how near to a whole inch, or to 10 or 100 mm, a burned start of a rule lies

_GRID_MM = INCH / 128  # the steps of a caliper that shows fractions
_DECIMAL = re.compile(r"\s*\d*[.,](?P<digits>\d+)\s*(?P<unit>in\.?|\"|mm)?\s*")


def none_at(taken: RunInput, *names: str) -> Flag | None:
    """Sizes of nought among these asks: refused."""
    zero = [name for name in names if any(value <= 0.0 for value in taken.all(name))]
    text = f"{' and '.join(zero)} cannot be 0: measure again and type what is read."
    return Flag("no-size", Severity.REFUSE, text) if zero else None


def gap_without_place(taken: RunInput, question: str) -> Flag | None:
    """A gap that is nowhere, or a place without a gap; `question` asks for the place. Refused."""
    where, widest = taken.choice("where"), max(taken.all("gap"))
    if (where == "none") == (widest == 0.0):
        return None
    text = (
        f"where=none stands with a gap of {size(widest, taken.unit)}: {question}"
        if widest
        else f"where={where} stands with a gap of 0: type where=none when not even the thinnest feeler goes in."
    )
    return Flag("gap-without-place", Severity.REFUSE, text)


def is_slip(larger: float, smaller: float) -> bool:
    """Whether two sizes that should be about alike stand to each other as an inch to a millimetre."""
    return min(larger, smaller) > 0.0 and abs(larger / smaller / INCH - 1.0) <= UNIT_SLIP_SHARE + READ_MM / larger


def unit_slip(taken: RunInput, readings: Sequence[Reading]) -> Flag | None:
    """One of several readings of about the same size was typed in the other unit: refused, with what it may be."""
    if len(readings) < 2:
        return None
    ordered = sorted(readings, key=lambda r: r.value)
    between = math.sqrt(max(ordered[0].value, 0.0) * ordered[-1].value)
    small, large = ([r for r in ordered if (r.value > between) is above] for above in (False, True))
    small_is_odd = len(small) < len(large) or (len(small) == len(large) and taken.unit == "mm")
    odd, rest, factor = (small, large, INCH) if small_is_odd else (large, small, 1.0 / INCH)
    if not odd or not all(_is_among(r.value * factor, rest) for r in odd):
        return None
    other = rest[-1] if small_is_odd else rest[0]
    return slipped(taken, odd[0], odd[0].value * factor, f"beside {place(other)}")


def _is_among(mm: float, readings: Sequence[Reading]) -> bool:
    """Whether a size lies among those readings where they are alike, or as near to one as readings of one size do."""
    least, most = readings[0].value, readings[-1].value
    return least <= mm <= most <= ALIKE * least or is_slip(INCH * mm, least) or is_slip(INCH * mm, most)


def repeat_slipped(taken: RunInput) -> Flag | None:
    """One of several readings at one place was typed in the other unit, whatever the check."""
    for ask in taken.check.asks:
        for station in taken.stations(ask.name) if ask.kind is Kind.LENGTH else ():
            readings = taken.of(ask.name, station)
            if max(r.value for r in readings) > LEAST_SLIP_MM and (slip := unit_slip(taken, readings)) is not None:
                return slip
    return None


def slipped(taken: RunInput, odd: Reading, meant_mm: float, beside: str) -> Flag:
    """The refusal of a reading that was typed in the other unit."""
    text = (
        f"{place(odd)} {beside} looks like the other unit: if the caliper showed the other one, it is "
        f"{plain(meant_mm, taken)}. Read it again and type it with its unit."
    )
    return Flag("unit-slip", Severity.REFUSE, text)


BURNED_STARTS = (INCH, 10.0, 100.0)
"""Where a rule is read from instead of its end, mm: its first inch, or its first 10 or 100 mm."""


def burned(off_mm: float, unit: str, room_mm: float = BURNED_MM) -> str:
    """The round length by which a size is off when a rule was read from a line instead of its end; "" when none.

    room_mm: how near to it; more where honest sizes already lie some mm apart.
    """
    start = next((start for start in BURNED_STARTS if abs(abs(off_mm) - start) <= room_mm), None)
    return "" if start is None else start_said(start, unit)


def start_said(start_mm: float, unit: str) -> str:
    """`1 in`, `10 mm`; in the person's unit too where the line is one of the other: `0.394 in (10 mm)`."""
    line = "1 in" if start_mm == INCH else f"{start_mm:.0f} mm"
    return f"{size(start_mm, unit, 3)} ({line})" if unit == "in" and start_mm != INCH else line


def rough_edge(taken: RunInput, names: Sequence[str]) -> Flag | None:
    """Readings of one spot that do not agree: fuzz or a burr on the edge."""
    worst = max(names, key=taken.worst_repeat)
    spread, instrument = taken.worst_repeat(worst), next((r.instrument for r in taken.of(worst)), None)
    if spread <= BURR_MM or instrument is None:
        return None
    repeat, pairs = instrument.repeat, sum(_pairs(taken, name) for name in names)
    rarely = t_quantile(1.0 - RARE / 2.0 / pairs, repeat.dof)  # some two honest readings differ by more once in 1,000
    act = Severity.DOUBT if spread > math.sqrt(2.0) * rarely * repeat.s else Severity.NOTE
    text = (
        f"Readings of {worst} differ by {size(spread, taken.unit)}. Slice the fuzz off with a knife, read again at "
        "the marked spot."
    )
    return Flag("burr", act, text)


def _pairs(taken: RunInput, name: str) -> int:
    """How many times two readings of one spot stand against each other."""
    return sum(math.comb(len(taken.of(name, station)), 2) for station in taken.stations(name))


def fraction_display(taken: RunInput) -> Flag | None:
    """Every decimal of a digital caliper lies on a 1/128 in: it shows fractions, rounded to that.

    It takes four different readings at four different marks; two readings within one step prove the contrary.
    """
    read = {r.typed: r for r in taken.readings if r.kind is Kind.LENGTH and r.instrument and r.instrument.digital}
    marks = [_mark(r, taken.unit) for r in read.values()]
    if len(marks) < 4 or None in marks or len(set(marks)) < len(marks):
        return None
    text = (
        "Every reading lies on a 1/128 in: the caliper shows fractions, in steps of 0.008 in. Set it to decimals "
        "and read again."
    )
    return Flag("fraction-display", Severity.DOUBT, text)


def _mark(reading: Reading, unit: str) -> int | None:
    """The 1/128 in on which a decimal lies within its last digit; None when it lies on none or is too coarse."""
    found = _DECIMAL.fullmatch(reading.typed)
    if found is None:
        return None
    metric = found["unit"] == "mm" or (not found["unit"] and unit == "mm")
    step = 10.0 ** -len(found["digits"]) * (1.0 if metric else INCH)
    mark = round(reading.value / _GRID_MM)
    near = abs(reading.value - mark * _GRID_MM) <= step * (1.0 + 1e-9)
    return mark if near and 6.0 * step <= _GRID_MM else None
