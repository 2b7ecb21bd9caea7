"""Blade parallel to the slot: one spot of the blade read at the operator's end, turned to the far end, read again.

Positive = the far end of the blade leans away from the slot, whichever side of the blade the slot lies on.
"""

from __future__ import annotations

import math

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Point, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.procedure import (
    AddedUncertainty,
    Check,
    Example,
    Feature,
    FeatureResult,
    Flag,
    IntermediatePrecision,
    Kind,
    Move,
    Need,
    ReadingSpec,
    RunInput,
    SetupFact,
    Severity,
    Step,
    per_quarter,
)
from trued.procedure.gross_errors import unit_slip
from trued.procedure.quantities import MIL, MRAD, inches, place, size
from trued.procedure.safety import held, middle
from trued.procedure.shared.dial import DIAL_ASK, dial_sign
from trued.procedure.sketch.in_tolerances import band_label, in_tolerances, wedge
from trued.procedure.sketch.pieces import Shape, measured, saw_from_above

FEATURE = "blade-parallel"
SPOTS = ("first", "second")
FENCE = ("beyond-blade", "slot-side")
ACROSS = inches(0.004) / 178.0  # rad; common practice: 0.003 to 0.005 in over the blade, here over 7 in
TILTED_DIFFERS = ACROSS  # common practice: more than the whole tolerance between upright and tilted
SPOTS_DIFFER = inches(0.003)  # common practice: the least wobble that a good blade is allowed
PLAY = inches(0.002)  # common practice: two readings of one place differ by the bar play
BY_FEELER = 5.0  # mm: a distance below this may be read with the dial near nought, so its ratio says nothing


def lean(taken: RunInput, near: str, far: str) -> UncertainValue:
    """How much farther the far end is from the slot than the operator's end, mean of the spots that were read."""
    spots = taken.stations(near)
    total = UncertainValue(0.0)
    for spot in spots:
        total = total + (_mean(taken, far, spot) - _mean(taken, near, spot))
    return total * (dial_sign(taken) / len(spots))


def _mean(taken: RunInput, name: str, spot: str) -> UncertainValue:
    return taken.mean(name, spot or None)


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """(far - operator's) / span; nothing is allowed of the heel that leans toward the rip fence."""
    angle = lean(taken, "operator_end", "far_end") / taken.mean("span") + taken.between_runs()
    return (FeatureResult(FEATURE, "rad", angle, limits(taken), safety=True),)


def limits(taken: RunInput) -> ToleranceLimits:
    """One-sided on the rip side: the far end may lean a little away from the rip fence, never toward it."""
    beyond = taken.choice("fence") == "beyond-blade"
    return held(taken, FEATURE, ToleranceLimits(-ACROSS, 0.0) if beyond else ToleranceLimits(0.0, ACROSS))


def aim(taken: RunInput) -> float:
    """The middle of what is allowed."""
    return middle(limits(taken))


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Turn the blade with its trunnions until the far end stands where it should, read at the same dial."""
    span = taken.mean("span").value
    turn = founds[0].value.value - aim(taken)
    amount, closer = abs(turn) * span, turn > 0.0
    way = "toward the slot" if closer else "away from the slot"
    text = (
        f"Move the back of the blade {way} by {size(amount, taken.unit)} over {size(span, taken.unit, 2)}. Follow the "
        "manual: loosen trunnions or table, all but one bolt. Leave the indicator at the back, on the marked spot. Tap "
        "until it has changed that much. Tighten in turns, then measure again: tightening moves it. Then recheck bevel "
        "stops, knife, insert, rip fence and kerf."
    )
    return (Move(FEATURE, text, "trunnions", "toward-slot" if closer else "from-slot", amount),)


def no_span(taken: RunInput) -> Flag | None:
    """Two places that are one."""
    if taken.mean("span").value > 0.0:
        return None
    text = "span cannot be 0: measure the distance between the two places at which the blade was read."
    return Flag("no-size", Severity.REFUSE, text)


def slipped_unit(taken: RunInput) -> Flag | None:
    """One distance typed in the other unit; dial readings near nought cannot show it."""
    readings = [*taken.of("operator_end"), *taken.of("far_end")]
    return unit_slip(taken, readings) if min(abs(r.value) for r in readings) > BY_FEELER / 25.4 else None


def different_teeth(taken: RunInput) -> Flag | None:
    """The two spots tell two stories: the blade's wobble got in, so each was not the same spot at both ends."""
    first, second = (_mean(taken, "far_end", s) - _mean(taken, "operator_end", s) for s in SPOTS)
    differ = first - second
    if abs(differ.value) <= max(SPOTS_DIFFER, 3.0 * differ.u):
        return None
    text = (
        f"The two spots differ by {size(differ.value, taken.unit)}. Was each spot turned with the blade, and read at "
        "both ends on the same mark? Two different teeth show the blade runout. Read both spots again."
    )
    return Flag("different-teeth", Severity.DOUBT, text)


def play(taken: RunInput) -> Flag | None:
    """Readings of one place that do not agree: the bar moves in the slot."""
    names = ("operator_end", "far_end")
    worst = max(names, key=taken.worst_repeat)
    spread = taken.worst_repeat(worst)
    if spread <= PLAY:
        return None
    act = Severity.DOUBT if spread > 2.0 * PLAY else Severity.NOTE
    text = (
        f"Readings of {worst} differ by {size(spread, taken.unit)}: the bar has play. Press it to the wall of the slot "
        "next to the blade at every reading, the same at both ends."
    )
    return Flag("bar-not-pressed", act, text)


def unpaired_tilted(taken: RunInput) -> Flag | None:
    """One of the two readings with the blade tilted without the other."""
    one, other = taken.has("operator_tilted"), taken.has("far_tilted")
    text = "operator_tilted and far_tilted belong together: read both with the blade tilted, or leave both out."
    return None if one == other else Flag("unpaired", Severity.REFUSE, text)


def tilt_changes(taken: RunInput) -> Flag | None:
    """Tilted, the blade leans another way than upright: its tilt axis does not lie along the slot."""
    if not (taken.has("operator_tilted") and taken.has("far_tilted") and taken.mean("span").value > 0.0):
        return None
    tilted, upright = lean(taken, "operator_tilted", "far_tilted"), lean(taken, "operator_end", "far_end")
    differ = (tilted - upright) / taken.mean("span")
    if abs(differ.value) <= max(TILTED_DIFFERS, 3.0 * differ.u):
        return None
    by = size(math.tan(differ.value) * taken.mean("span").value, taken.unit)
    text = (
        f"Tilted, the blade leans differently by {by} over the span: the axis of the tilt does not lie along the slot. "
        "Shim one trunnion at the table as the manual says, then set the blade upright again; until then no bevel rip."
    )
    return Flag("tilt-changes", Severity.NOTE, text)


def not_pressed_right(taken: RunInput) -> Flag | None:
    """Dial readings may be negative, a distance may not."""
    names = ("operator_end", "far_end")
    below = [r for name in names for r in taken.of(name) if r.value < 0.0]
    if taken.choice("dial") != "distance" or not below:
        return None
    text = f"{', '.join(place(r) for r in below)}: a distance cannot be below 0. If a dial was read, say dial=grows."
    return Flag("negative-distance", Severity.REFUSE, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """Table, slot and blade from above; afterwards the blade turned as it stands, and the way to turn it."""
    k = 1 if taken.word("keeper") == "right" else -1
    near = "beyond the blade" if taken.choice("fence") != "slot-side" else "on the slot's side of the blade"
    x, fence_x = k * 5.0, (k * 11.5 if taken.choice("fence") == "slot-side" else -k * 9.0)
    shapes: list[Shape] = [
        *saw_from_above(),
        rectangle(x - 0.4, -10, 0.8, 20, "slot"),
        Label((x, 8.3), "slot"),
        rectangle(fence_x - 0.5, -10, 1.0, 20, "fence"),
        Label((fence_x, -7.5), "rip fence"),
    ]
    seen = f"The saw from above, the slot {taken.word('keeper') or 'left'} of the blade, the rip fence {near}."
    if not founds:
        shapes.append(Line((0, -4), (0, 4), "blade"))
        for y, words in ((-3.5, "operator's end"), (3.5, "far end")):
            shapes += measured((x + (0.4 if k < 0 else -0.4), y), (0, y), words, (k * 2.3, y + 0.5))
        shapes += measured((-k * 1.5, -3.5), (-k * 1.5, 3.5), "span", (-k * 2.0, 0), "start" if k < 0 else "end")
        told = (
            f"{seen} Mark a spot on the blade's plate. Read it from the slot at the operator's end, turn the blade by "
            "hand until the same spot stands at the far end, read again; measure how far apart the two places are. "
            "Then the same with a second spot, a quarter turn on."
        )
        return Drawing("Blade-to-slot angle: what to read", told, tuple(shapes))
    value, turn = founds[0].value.value, founds[0].value.value - aim(taken)
    away, closer = value > 0.0, turn > 0.0
    drawn = in_tolerances(founds[0])
    foot: Point = (0.0, -4.5)
    head: Point = (-k * drawn.far, 4.5)
    shapes += [
        *wedge((0.0, -4.5), (0.0, 4.5), (-k, 0.0), drawn.band),
        band_label((-k * 3.4, -5.6)),
        Line((0, -4.5), (0, 4.5), "wanted", dashed=True),
        Line(foot, head, "blade"),
        Arrow((head[0], 5.6), (head[0] + (k if closer else -k) * 2.5, 5.6), "move"),
        Label((k * -1.0, 6.8), f"far end {'toward' if closer else 'away from'} the slot", "move"),
    ]
    span = taken.mean("span").value
    mend = f"To mend it its far end goes {'toward' if closer else 'away from'} the slot."
    told = (
        f"{seen} The far end of the blade leans {'away from' if away else 'toward'} the slot by "
        f"{size(value * span, taken.unit)} over {size(span, taken.unit, 2)}, drawn much larger. {mend}"
    )
    return Drawing("Blade-to-slot angle: what was found", told, tuple(shapes), mend)


CHECK = Check(
    id="blade-parallel",
    version=1,
    title="Blade to slot: is the blade parallel?",
    purpose="Finds how the blade stands to the slot: a far end that leans toward the rip fence burns and kicks back.",
    minutes=15.0,
    features=(
        Feature(
            FEATURE,
            "rad",
            "blade-to-slot angle",
            limits=ToleranceLimits(-ACROSS, 0.0),
            directions=("toward-slot", "from-slot"),
            orders=("move the back of the blade toward the slot", "move the back of the blade away from the slot"),
            sides=("back of the blade away from the slot", "back of the blade toward the slot"),
            owner="saw",
            drift=per_quarter(0.5 * MIL / 178.0),
            doubts=(AddedUncertainty("saw-carried", 0.5 * MRAD), AddedUncertainty("blade-realigned", 1 * MRAD)),
            safety=True,
            turn=100,
        ),
    ),
    ground=("wobble",),
    at_hand=(
        "a dial indicator on a bar that fits the slot (or a stick in the slot with a screw, and feelers)",
        "a rule",
        "a felt pen",
    ),
    cautions=(
        "Saw unplugged, battery out, key in your pocket. Turn the blade by hand with a stick, not with fingers.",
        "The saw's manual says whether and how the blade may be set to the slot; it goes before this page.",
    ),
    asks=(
        ReadingSpec(
            "fence",
            "where the rip fence stands: beyond the blade as seen from this slot, or on the slot's own side of the "
            "blade",
            kind=Kind.CHOICE,
            choices=FENCE,
        ),
        DIAL_ASK,
        ReadingSpec(
            "operator_end",
            "the marked spot, read from the slot at the operator's end",
            kind=Kind.GAP,
            instrument="indicator",
            stations=SPOTS,
            advise=2,
            expect=(-300.0, 300.0),
        ),
        ReadingSpec(
            "far_end",
            "the same spot, turned to the far end and read there",
            kind=Kind.GAP,
            instrument="indicator",
            stations=SPOTS,
            advise=2,
            expect=(-300.0, 300.0),
        ),
        ReadingSpec("span", "distance between the two places along the slot", instrument="rule", expect=(75.0, 300.0)),
        ReadingSpec(
            "operator_tilted",
            "with the blade tilted over and the first spot marked: read at the operator's end",
            kind=Kind.GAP,
            instrument="indicator",
            optional=True,
        ),
        ReadingSpec(
            "far_tilted",
            "the same at the far end, the blade still tilted",
            kind=Kind.GAP,
            instrument="indicator",
            optional=True,
        ),
    ),
    facts=(
        SetupFact(
            "keeper",
            "the side of the blade on which the slot and the keeper lie",
            choices=("left", "right"),
            needed_for=Need.WORDS,
        ),
    ),
    steps=(
        Step(
            "Raise the blade fully. Say where the rip fence stands as seen from the slot that you use.",
            asks=("fence",),
            caution="Unplug first. The riving knife may come off for this; note that it must go back on.",
        ),
        Step(
            "Mark a spot on the plate just below a gullet, clear of the set and of the teeth. Put the indicator's tip "
            "on it, push it in a little by hand and watch: does the number grow or shrink?",
            asks=("dial",),
        ),
        Step(
            "With the bar pressed to the wall of the slot next to the blade, read the spot at the operator's end. Turn "
            "the blade by hand until the same spot stands at the far end, press alike, read again.",
            asks=("operator_end", "far_end"),
            caution="Turn with a stick, fingers away from the teeth.",
        ),
        Step("Mark a second spot a quarter turn on and do the same with it: both must tell the same."),
        Step("Measure how far apart the two places are, along the slot.", asks=("span",)),
        Step(
            "Where the trunnions are doubtful, tilt the blade over and read the first spot at both ends once more, "
            "then bring it back to upright.",
            asks=("operator_tilted", "far_tilted"),
        ),
        Step("Before you adjust anything, read all of it once more with nothing touched."),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(no_span, slipped_unit, not_pressed_right, unpaired_tilted, different_teeth, play, tilt_changes),
    draw=draw,
    example=Example(
        (
            "fence=beyond-blade",
            "dial=shrinks",
            "operator_end@first=0.020",
            "far_end@first=0.024",
            "operator_end@second=0.022",
            "far_end@second=0.026",
            "span=7",
        ),
        ((FEATURE, 0.004 / 7),),
        "worked by hand: 0.004 over 7 is 0.007 in per foot, the far end away from the slot",
    ),
    sources=(
        "common practice: 0.003 to 0.005 in over the blade, and nothing of it toward the rip fence",
        "scatter of 8e-5 rad between runs to start with: common practice, half a thousandth of an inch over the blade",
    ),
    between_runs=IntermediatePrecision(
        "pressing the bar and finding the spot again", EstimatedSd(8e-5, 4), "common practice"
    ),
)
