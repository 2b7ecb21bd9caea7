"""What was measured after the cut, as typed: `shelf@2.length:caliper=13.376`, `shelf@2-shelf@1=+0.003`, `FIT=…`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from trued.errors import Faults, InputRefused
from trued.job.budget.measuring import find_instrument, judge_range, that_reaches
from trued.job.expression.tree import PartSize, Side
from trued.job.geometry.fit_spec import FitSpec
from trued.job.job import Job
from trued.job.part import Part
from trued.measure.instrument import Instrument
from trued.units import Length, read_length
from trued.units.nearest import nearest

_SIZE = re.compile(
    r"(?P<part>[^@.]+?) *(?:@ *(?P<copy>[^@.\s]*))? *(?:\. *(?P<side>[^@.\s]*))? *(?:@ *(?P<late>[^@.\s]*))?"
)
_EXAMPLE = "A reading is typed PART@COPY=SIZE, as in shelf@1=13.377, side.width@1=3.497 or shelf@2-shelf@1=+0.003."

Measurand = PartSize | tuple[PartSize, PartSize] | FitSpec
"""A size of a copy; the first of two sizes less the second; or what a fit came to."""


@dataclass(frozen=True, slots=True)
class ProofReading:
    """One number that was read, of one measurand, with one instrument; `named`: the person said with which."""

    of: Measurand
    typed: str
    length: Length
    instrument: Instrument
    named: bool = True


def read_proof(job: Job, texts: Sequence[str], own: Sequence[Instrument] = ()) -> tuple[ProofReading, ...]:
    """The readings in the order typed; `InputRefused` names every one that cannot be understood.

    own: the person's instruments. A measurand given again is a repeat of the same reading.
    """
    faults = Faults()
    found: list[ProofReading] = []
    for text in texts:
        with faults.at():
            found.append(_reading(job, text, own))
    if not texts:
        faults.add("", "", f"Nothing was measured. {_EXAMPLE}")
    faults.raise_if_any()
    return tuple(found)


def _reading(job: Job, text: str, own: Sequence[Instrument]) -> ProofReading:
    left, equals, value = (piece.strip() for piece in text.partition("="))
    if not equals or not left:
        raise InputRefused.of("", text, _EXAMPLE)
    what, colon, name = (piece.strip() for piece in left.partition(":"))
    of = _measurand(job, what)
    length = read_length(value, job.unit, signed=not isinstance(of, PartSize), where=what)
    if isinstance(of, PartSize) and not length:
        raise InputRefused.of(what, value, "A part has a size above 0; write what was read.")
    instrument = find_instrument(name, own, what) if colon else that_reaches(length.mm, own, what)
    judge_range(instrument, length.mm, what, value)
    return ProofReading(of, text, length, instrument, named=bool(colon))


def _measurand(job: Job, what: str) -> Measurand:
    fit = next((spec for spec in job.fits if spec.id == what), None)
    if fit is not None:
        return fit
    first, minus, second = (piece.strip() for piece in what.partition("-"))
    if minus:
        pair = _size(job, first, what), _size(job, second, what)
        if pair[0] == pair[1] or pair[0].side is not pair[1].side:
            raise InputRefused.of(what, "", "Compare the same size of two different copies or parts.")
        return pair
    return _size(job, what, what)


def _size(job: Job, text: str, where: str) -> PartSize:
    found = _SIZE.fullmatch(text)
    if found is None:
        raise InputRefused.of(where, text, _EXAMPLE)
    part = _part(job, found["part"], where)
    side = Side.LENGTH if found["side"] is None else _side(found["side"], where)
    copies = [word for word in (found["copy"], found["late"]) if word is not None]
    if len(copies) > 1:
        raise InputRefused.of(where, text, "Name the copy once, as in shelf@2.length.")
    return PartSize(part.id, side, _copy(part, copies[0] if copies else "", where))


def _part(job: Job, id: str, where: str) -> Part:
    part = next((part for part in job.parts if part.id == id), None)
    if part is None:
        known = [*(part.id for part in job.parts), *(fit.id for fit in job.fits)]
        raise InputRefused.of(where, id, f"There is no part or fit called {id}. {nearest(id, known)}")
    if part.held_back:
        raise InputRefused.of(
            where, id, f"{id} waits for a size that is not known yet; write that size into the job file first."
        )
    return part


def _side(word: str, where: str) -> Side:
    if word not in tuple(Side):
        raise InputRefused.of(where, word, f"A part has length, width and thickness. {nearest(word, tuple(Side))}")
    return Side(word)


def _copy(part: Part, word: str, where: str) -> int:
    if not word and part.quantity == 1:
        return 1
    if re.fullmatch("[1-9][0-9]{0,3}", word) and int(word) in part.copies:
        return int(word)
    if part.quantity == 1:
        raise InputRefused.of(where, word, f"There is one {part.id}; write {part.id}@1 or {part.id} alone.")
    said = f"There are {part.quantity} of {part.id}; say which"
    raise InputRefused.of(where, word, f"{said}, from {part.id}@1 to {part.id}@{part.quantity}.")
