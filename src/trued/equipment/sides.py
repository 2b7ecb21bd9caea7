"""Which way, in compass words, derived once from where the fence and the keeper are.

Seen from above, x to the right and y away from the operator. The work lies on the operator's side of a far fence and
on the far side of an operator's fence. *Opening* moves the fence's end far from the blade away from the work, so that
the corner of the keeper grows; that is right in every layout, and "clockwise" follows from it.
"""

from __future__ import annotations

from dataclasses import dataclass

from trued import units
from trued.measure.feelers import COMMON_INCH, COMMON_METRIC, HALF_STEP_MM, least_pair, least_stack, smallest_step_mm

FENCE = ("far", "operator")
KEEPER = ("left", "right")
PIVOT = ("near-blade", "far-from-blade")
SCREW = ("keeper", "offcut")


@dataclass(frozen=True, slots=True)
class SledLayout:
    """A crosscut sled as the person built it: the fence on the far or the operator's side, the keeper left or right."""

    fence: str
    keeper: str

    def __post_init__(self) -> None:
        if self.fence not in FENCE or self.keeper not in KEEPER:
            raise ValueError(f"fence is far or operator, keeper left or right, got {self.fence!r} and {self.keeper!r}")

    @classmethod
    def known(cls, fence: str, keeper: str) -> SledLayout | None:
        """The layout, or None while one of the two facts is not known ("")."""
        return cls(fence, keeper) if fence and keeper else None

    @property
    def keeper_x(self) -> int:
        """-1 when the keeper lies left of the blade, +1 when right."""
        return -1 if self.keeper == "left" else 1

    @property
    def fence_y(self) -> int:
        """+1 when the fence stands on the far side of the work, -1 on the operator's side: the way out of the work."""
        return 1 if self.fence == "far" else -1

    def way(self, *, from_work: bool) -> str:
        """`away from you` or `toward you`: the way out of the work, or into it."""
        return _compass(self.fence_y if from_work else -self.fence_y)

    def fence_turn(self, *, opening: bool) -> str:
        """`the left end of the fence away from you`."""
        return f"the {self.keeper} end of the fence {_compass(self.fence_y if opening else -self.fence_y)}"

    def board_turn(self) -> str:
        """How to turn the board between two cuts, seen from above, so that the fresh edge comes to the fence.

        The fresh edge looks toward the blade (-keeper_x) and must look toward the fence (fence_y).
        """
        return _sense(-self.keeper_x * self.fence_y)


def screw_moves_from_work(pivot: str, screw: str, *, opening: bool) -> bool | None:
    """Whether the fence's point at the screw moves away from the work; None while pivot or screw is not known.

    Opening swings what lies on the keeper's side of the pivot away from the work. The screw lies there only when the
    pivot is near the blade and the screw on its keeper side; with the pivot far from the blade it lies the other way.
    """
    if not (pivot and screw):
        return None
    beyond_pivot = pivot == "near-blade" and screw == "keeper"
    return opening is beyond_pivot


@dataclass(frozen=True, slots=True)
class FeelerWords:
    """How a step is set by feelers: which ones, and what is done with them; `bring` is "" when no hand can make it.

    made_mm: the step that they make, which is the one to be ordered; the step itself where none of them makes it.
    """

    feelers: str
    bring: str = ""
    made_mm: float = 0.0


def settable_mm(step_mm: float, unit: str) -> float:
    """The step that feelers of a common set of that unit can make, nearest to this one; itself where none can."""
    return feeler_words(step_mm, unit).made_mm


def feeler_words(step_mm: float, unit: str) -> FeelerWords:
    """The fewest feelers of a common set of that unit that make a step, or two that differ by it.

    A step below the thinnest leaf is made by a thicker leaf in the place of a thinner one.
    """
    leaves = COMMON_METRIC if unit == "mm" else COMMON_INCH
    room = smallest_step_mm(leaves) / 2.0 if unit == "mm" else HALF_STEP_MM
    to_it = "Loosen the fence, push it to the {}, lock it."
    if step_mm < min(leaves) - room:
        pair = least_pair(step_mm, room, leaves)
        if pair is None:
            return FeelerWords("Too small to set with feelers. Leave it.", made_mm=step_mm)
        made = pair.thicker_mm - pair.thinner_mm
        swap = f"Swap it for the {_leaf(pair.thinner_mm, unit)}. {to_it.format('feeler')}"
        return FeelerWords(f"a {_leaf(pair.thicker_mm, unit)} feeler", swap, made)
    stack = least_stack(step_mm, room, leaves)
    if stack is None:
        return FeelerWords(f"a {_thick(step_mm, unit)} shim", f"Pull the shim. {to_it.format('block')}", step_mm)
    each, made = " + ".join(_leaf(leaf, unit) for leaf in stack.leaves_mm), stack.thickness_mm
    if len(stack.leaves_mm) == 1:
        return FeelerWords(f"a {each} feeler", f"Pull the feeler. {to_it.format('block')}", made)
    return FeelerWords(f"feelers {each}", f"Pull the feelers. {to_it.format('block')}", made)


def _thick(mm: float, unit: str) -> str:
    return units.as_mm(mm, 2).text if unit == "mm" else f"{units.as_decimal(mm, 4).text} in"


def _leaf(mm: float, unit: str) -> str:
    """As it is stamped on the leaf: `0.007`, `0.0015`, `0.20`."""
    if unit == "mm":
        return units.as_mm(mm, 2).text.removesuffix(" mm")
    text = units.as_decimal(mm, 4).text
    return text.removesuffix("0")


def _compass(step: int) -> str:
    return "away from you" if step > 0 else "toward you"


def _sense(turn: int) -> str:
    return "counterclockwise" if turn > 0 else "clockwise"
