"""How to turn a sled's fence by an angle: the words of every check that finds the angle of a fence.

Opening is right in every layout: the fence's end far from the blade goes away from the work. Compass words are derived
from it, and left out while the layout is not known.
"""

from __future__ import annotations

from trued.equipment.sides import FENCE, KEEPER, PIVOT, SCREW, SledLayout, feeler_words, screw_moves_from_work
from trued.measure.decision import ToleranceLimits
from trued.procedure.asks import Kind, Need, SetupFact
from trued.procedure.declaration import RunInput
from trued.procedure.quantities import MRAD, turns
from trued.standing.declared import Actuator, AddedUncertainty, Feature, per_quarter

FENCE_ANGLE = Feature(
    "fence-angle",
    "rad",
    "fence angle",
    limits=ToleranceLimits.within(2e-4),  # rad, 0.0024 in per foot; common practice for fine work
    directions=("open", "close"),
    orders=("open the corner at the keeper", "close the corner at the keeper"),
    sides=("tight", "open"),
    actuator=Actuator(3e-5, 1e-4),
    drift=per_quarter(0.001 / 12.0),  # 0.001 in per foot in three months
    doubts=(
        AddedUncertainty("saw-carried", 0.15 * MRAD),
        AddedUncertainty("facing-renewed", 0.25 * MRAD),
        AddedUncertainty("bar-adjusted", 0.4 * MRAD),
        AddedUncertainty("screw-touched", 1 * MRAD),
        AddedUncertainty("detent-loosened", 1 * MRAD),
        AddedUncertainty("sled-stored", 0.3 * MRAD),
    ),
    angles="square",
    turn=10,
)
"""Found by five cuts, which are ordered for it, and by the flip test: two checks that must not import each other."""

FENCE_FACT = SetupFact("fence", "the side of the work on which the fence stands", choices=FENCE, needed_for=Need.WORDS)
KEEPER_FACT = SetupFact(
    "keeper", "the side of the blade on which the keeper lies", choices=KEEPER, needed_for=Need.WORDS
)
PIVOT_FACT = SetupFact("pivot", "where the fence's pivot is", choices=PIVOT, needed_for=Need.WORDS)
SCREW_FACT = SetupFact("screw", "the side of the blade on which the screw is", choices=SCREW, needed_for=Need.WORDS)
FENCE_FACTS = (
    FENCE_FACT,
    KEEPER_FACT,
    SetupFact("radius", "the distance from the pivot to the screw", kind=Kind.LENGTH, needed_for=Need.MOVE),
    PIVOT_FACT,
    SCREW_FACT,
    SetupFact("thread", "the thread of the screw", kind=Kind.THREAD, needed_for=Need.MOVE),
)


def layout_of(taken: RunInput) -> SledLayout | None:
    """The sled's layout; None while a fact of it is not known."""
    return SledLayout.known(taken.word("fence"), taken.word("keeper"))


def drawn_layout(taken: RunInput) -> SledLayout:
    """The sled as it is drawn: what is not known of it is taken as a far fence with the keeper left."""
    return SledLayout(taken.word("fence") or "far", taken.word("keeper") or "left")


def side_of(layout: SledLayout) -> str:
    """`near side` or `far side`: where the fence stands."""
    return "far side" if layout.fence == "far" else "near side"


def fence_way(taken: RunInput, opening: bool) -> str:
    """`the left end of the fence away from you`; by the corner while the layout is not known."""
    layout = layout_of(taken)
    if layout is not None:
        return layout.fence_turn(opening=opening)
    return f"the fence's end far from the blade {'away from' if opening else 'into'} the work"


def fence_order(taken: RunInput, opening: bool, by: str) -> str:
    """`Move the left end of the fence away from you, 0.0085 in at the screw.`; by the corner while no side is known."""
    layout = layout_of(taken)
    if layout is None:
        return f"{'Open' if opening else 'Close'} the corner at the keeper, {by}."
    return f"Move {layout.fence_turn(opening=opening)}, {by}."


def at_the_screw(taken: RunInput, opening: bool, amount: float | None) -> str:
    """How to make the move of `amount` mm at the screw with a block and a feeler; what is missing while it is None."""
    if amount is None:
        return "Enter the distance from pivot to screw (--radius) to get feeler sizes."
    away = screw_moves_from_work(taken.word("pivot"), taken.word("screw"), opening=opening)
    side = "on the side the fence moves to" if away is None else "behind the fence" if away else "on the work side"
    by = feeler_words(amount, taken.unit)
    if not by.bring:
        return by.feelers
    pitch = taken.number("thread")
    by_turns = f" No feelers? {turns(by.made_mm, pitch).capitalize()}." if pitch else ""
    return (
        f"At the screw, clamp a block {side}. Put {by.feelers} between them. {by.bring} Bring the screw up to the "
        f"fence.{by_turns}"
    )
