"""What is done before a cut, and ticked before its number shows: each step with its size, and its words.

A step is what the cut's lawfulness rests on: without it the station would not have been chosen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from trued.plan.support.statics import STANDARD_GRAVITY
from trued.units import Unit, as_fraction, as_mm


class Do(StrEnum):
    """What a person does first."""

    BLADE = "blade"
    BLADE_LOW = "blade-low"
    GUARD = "guard"
    TAKE_OFF = "take-off"
    CLAMP = "clamp"
    TAIL = "tail"
    PUSH = "push"
    CARRY = "carry"


@dataclass(frozen=True, slots=True)
class Step:
    """One step. mm: a height, or the length of a tail; newton: a press or a weight to carry."""

    do: Do
    mm: float = 0.0
    newton: float = 0.0


def step_words(step: Step, unit: Unit) -> str:
    """The step as an order."""
    size = size_said(step.mm, unit)
    weight = _weight(step.newton, unit)
    return {
        Do.BLADE: f"Set the blade {size} above the table, {size_said(ABOVE_MM, unit)} above the work.",
        Do.BLADE_LOW: f"Set the blade as high as it goes, {size} above the table: that is only "
        f"{size_said(LEAST_ABOVE_MM, unit)} to {size_said(ABOVE_MM, unit)} above the work.",
        Do.GUARD: "Guard on: the maker forbids this sled without it.",
        Do.TAKE_OFF: "Take off the wing that the maker forbids.",
        Do.CLAMP: "Clamp the piece to the fence on the keeper side.",
        Do.TAIL: f"Put a support of the base's height under the tail on the offcut side: {size} of it hangs free.",
        Do.PUSH: "Push block with a heel, held down flat to the end: past the knife the piece would tip off the table. "
        f"It wants about {weight}.",
        Do.CARRY: f"At the start your hands carry about {weight} of the far end: try the weight first.",
    }[step.do]


def steps_words(steps: Sequence[Step], unit: Unit) -> tuple[str, ...]:
    """All of them, in their order."""
    return tuple(step_words(step, unit) for step in steps)


ABOVE_MM = 6.35
"""How far the blade stands above the work: 1/4 in, common practice."""
LEAST_ABOVE_MM = 3.175
"""At least so far where the saw reaches no higher: 1/8 in, common practice."""


def size_said(mm: float, unit: Unit) -> str:
    """To 1/16 in or a millimetre: as near as a person sets a blade or holds a tail (common practice)."""
    return as_mm(mm, 0).text if unit == "mm" else f"{as_fraction(mm, 16).text} in"


def _weight(newton: float, unit: Unit) -> str:
    kg = newton / STANDARD_GRAVITY
    return f"{kg:.1f} kg" if unit == "mm" else f"{kg / 0.45359237:.1f} lb"
