"""Tilt stop at 90 degrees: a block cut standing, the offcut rolled upside down, the two ends pushed together.

Positive = the top of the blade leans toward the keeper. The gap shows twice the lean over the height of the block.
"""

from __future__ import annotations

import math

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.procedure import (
    Actuator,
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
from trued.procedure.quantities import DEG, MRAD, inches, size
from trued.procedure.shared.bevel import STOP_FACTS, degrees, how_to_tilt, stop_travel
from trued.procedure.shared.feeler import THINNEST, closed, gap
from trued.procedure.sketch.in_tolerances import band_label, in_tolerances, wedge
from trued.procedure.sketch.pieces import Shape, measured

FEATURE = "bevel@0"
TOLERANCE = ToleranceLimits.within(
    math.radians(0.05)
)  # common practice: 0.05 to 0.1 degrees, 0.03 for tall edge joints
AT = ("top", "bottom", "none")
RUNS = (("gap", "at"), ("gap_turned", "at_turned"))
SEEN_BY_SQUARE = math.radians(0.1)  # common practice: light that anyone sees
GAP = 0.5  # units of the drawing for one tolerance
TAPER = inches(0.004)  # common practice: a block planed by hand is parallel to this


def closing(taken: RunInput, name: str, at: str) -> UncertainValue:
    """The gap with its sign: above 0 at the top. Where no feeler goes in, it may be at either."""
    side = taken.choice(at)
    if side == "none":
        return closed(name)
    return gap(taken, name) * (1.0 if side == "top" else -1.0)


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Gap over twice the height; with the block turned end for end too, the mean is free of its taper."""
    signed = closing(taken, "gap", "at")
    if taken.has("gap_turned"):
        signed = 0.5 * (signed + closing(taken, "gap_turned", "at_turned"))
    lean = signed / (2.0 * taken.mean("height")) + taken.between_runs()
    return (FeatureResult(FEATURE, "rad", lean, taken.tolerance(FEATURE)),)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """The full correction, at the stop where its radius is known."""
    lean = founds[0].value.value
    away = lean > 0.0
    way = _way(taken, away=away)
    how = how_to_tilt(taken, lean, way.partition(" (")[0])
    text = f"Tilt the top of the blade {way} by {degrees(lean)}. {how}"
    return (Move(FEATURE, text, "tilt-stop", "away" if away else "toward-keeper", stop_travel(taken, lean)),)


def _way(taken: RunInput, *, away: bool) -> str:
    keeper = taken.word("keeper")
    to_left = (keeper == "left") is not away
    compass = f" ({'left' if to_left else 'right'})" if keeper else ""
    return f"{'away from' if away else 'toward'} the keeper{compass}"


# --- blunders


def no_size(taken: RunInput) -> Flag | None:
    """A block of no height."""
    if taken.mean("height").value > 0.0:
        return None
    return Flag(
        "no-size", Severity.REFUSE, "height cannot be 0: measure the block where the gap was read, top to bottom."
    )


def unpaired(taken: RunInput) -> Flag | None:
    """The second gap without its side, or the other way."""
    if taken.has("gap_turned") == taken.has("at_turned"):
        return None
    text = "gap_turned and at_turned belong together: read both with the block turned end for end, or leave both out."
    return Flag("unpaired", Severity.REFUSE, text)


def side_missing(taken: RunInput) -> Flag | None:
    """A gap that lies nowhere."""
    for name, at in RUNS:
        if taken.choice(at) == "none" and any(taken.all(name)):
            text = f"{name} was read, but {at}=none: say whether the gap is at the top or at the bottom."
            return Flag("gap-nowhere", Severity.REFUSE, text)
    return None


def not_cycled(taken: RunInput) -> Flag | None:
    """A stop with dust under it shows only after the blade was tilted away and back."""
    if taken.choice("cycled") == "yes":
        return None
    text = (
        "Brush the stop, tilt the blade away and back against it, then cut again: with dust under the stop the result "
        "after one tilt is another."
    )
    return Flag("not-cycled", Severity.DOUBT, text)


def suspiciously_perfect(taken: RunInput) -> Flag | None:
    """No gap, yet a square shows light: turned end for end instead of rolled, a gap is always closed."""
    open_too = any(abs(closing(taken, *run).value) > THINNEST for run in RUNS if taken.has(run[0]))
    if open_too or taken.choice("square") == "no-light":
        return None
    text = (
        "The ends close, yet the square shows light at the blade. Was the offcut pushed back as it lay, or turned end "
        "for end? It must be rolled upside down about its long axis. Roll it and read again."
    )
    return Flag("turned-not-rolled", Severity.DOUBT, text)


def square_disagrees(taken: RunInput) -> Flag | None:
    """A gap that a square should see too."""
    height = taken.mean("height").value
    lean = closing(taken, "gap", "at").value / (2.0 * height) if height > 0.0 else 0.0
    if abs(lean) < SEEN_BY_SQUARE or taken.choice("square") == "light" or taken.has("gap_turned"):
        return None
    text = (
        f"The gap tells of {degrees(lean)}, which a square would show as light. Are the block's faces parallel? Cut it "
        "once more, turned end for end before the cut (gap_turned, at_turned): the mean of both is free of that."
    )
    return Flag("square-disagrees", Severity.NOTE, text)


def tapered_block(taken: RunInput) -> Flag | None:
    """Turned end for end before the cut it tells another story: the block is not parallel."""
    if not taken.has("gap_turned") or not taken.has("at_turned"):
        return None
    differ = closing(taken, "gap", "at") - closing(taken, "gap_turned", "at_turned")
    if abs(differ.value) <= max(TAPER, 3.0 * differ.u):
        return None
    text = (
        f"Turned end for end the gap differs by {size(differ.value, taken.unit)}: the faces of the block are not "
        "parallel. The mean is free of that, but plane it before it is used again."
    )
    return Flag("block-tapered", Severity.NOTE, text)


# --- drawing


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """Keeper and rolled offcut from the operator's side; afterwards the gap and the way to tilt, much enlarged."""
    k = 1 if taken.word("keeper") == "right" else -1
    shapes: list[Shape] = [Line((-12, 0), (12, 0), "table"), Label((0, -1.6), "flat table")]
    seen = (
        f"Seen from where you stand, the keeper {taken.word('keeper') or 'left'} of the blade, the rolled offcut "
        "beside it."
    )
    if not founds:
        shapes += [
            Path(((0, 0), (k * 9, 0), (k * 9, 6), (k * 0.6, 6)), "part"),
            Path(((0, 0), (-k * 9, 0), (-k * 9, 6), (-k * 0.6, 6)), "waste"),
            Label((k * 5, 3), "keeper, as cut"),
            Label((-k * 5, 3), "offcut, rolled"),
            *measured((-0.6, 6.4), (0.6, 6.4), "gap (at the top here)", (0, 7.2)),
            *measured((k * 10, 0), (k * 10, 6), "height", (k * 10.6, 3), "start" if k > 0 else "end"),
        ]
        told = (
            f"{seen} Cut the block standing on edge, leave the keeper as it was cut, roll the offcut upside down about "
            "its long axis, and push the two cut ends together on a flat table. Read the gap, and say whether it is at "
            "the top or at the bottom; measure the height of the block."
        )
        return Drawing("90° bevel stop: what to read", told, tuple(shapes))
    lean = founds[0].value.value
    away = lean > 0.0
    drawn = in_tolerances(founds[0])
    gap = GAP * abs(drawn.at)
    bottom, top = (0.0, gap) if away else (gap, 0.0)
    tilt = k * drawn.far
    back = -k if away else k
    shapes += [
        Path(((k * bottom, 0), (k * 9, 0), (k * 9, 6), (k * top, 6)), "part"),
        Path(((-k * bottom, 0), (-k * 9, 0), (-k * 9, 6), (-k * top, 6)), "waste"),
        Label((k * 5, 3), "keeper"),
        *wedge((0.0, 8.5), (0.0, 14.0), (k, 0.0), drawn.band),
        band_label((-k * 5.5, 11.5)),
        Line((0, 8.5), (tilt, 14), "blade"),
        Line((0, 8.5), (0, 14), "wanted", dashed=True),
        Arrow((tilt, 14.8), (tilt + back * 2.5, 14.8), "move"),
        Label((0, 16.2), f"top {'away from' if away else 'toward'} the keeper", "move"),
    ]
    mend = f"To mend it tilt the blade {_way(taken, away=away)}."
    told = (
        f"{seen} The top of the blade leans {'toward' if away else 'away from'} the keeper by {degrees(lean)}, drawn "
        f"much larger: the gap is at the {'top' if away else 'bottom'}. {mend}"
    )
    return Drawing("90° bevel stop: what was found", told, tuple(shapes), mend)


CHECK = Check(
    id="tilt-90",
    version=1,
    title="90° bevel stop: is the blade square to the table?",
    purpose="Shows the lean of the blade twice as large, as a gap between a cut block and its rolled offcut.",
    minutes=8.0,
    features=(
        Feature(
            FEATURE,
            "rad",
            "90° bevel stop",
            limits=TOLERANCE,
            directions=("away", "toward-keeper"),
            orders=("tilt the top of the blade away from the keeper", "tilt the top of the blade toward the keeper"),
            sides=("leans toward the keeper", "leans away from the keeper"),
            actuator=Actuator(0.02 * DEG, 0.02 * DEG),
            owner="saw",
            drift=per_quarter(math.radians(0.02)),
            doubts=(
                AddedUncertainty("saw-carried", 1 * MRAD),
                AddedUncertainty("blade-realigned", 1 * MRAD),
                AddedUncertainty("tilt-used", 1 * MRAD),
            ),
            angles="tilt",
            turn=110,
        ),
    ),
    ground=("blade-parallel",),
    at_hand=(
        "a straight block with parallel planed faces, 2 to 2 1/2 in high and no higher than your cut allows",
        "a clamp",
        "feelers",
        "a caliper",
        "a flat table and a square",
    ),
    cautions=(
        "The block stands on edge: clamped to the fence, hands at least 6 in from the kerf. The manual goes first.",
        "Wait until the blade stands before you lift either piece.",
        "The stop itself is set with the saw unplugged, battery out.",
    ),
    made_on="sled",
    asks=(
        ReadingSpec(
            "cycled",
            "whether the stop was brushed and the blade tilted away and back",
            kind=Kind.CHOICE,
            choices=("yes", "no"),
        ),
        ReadingSpec(
            "square",
            "what a square on the table shows at the blade's plate",
            kind=Kind.CHOICE,
            choices=("no-light", "light"),
        ),
        ReadingSpec(
            "gap",
            "gap between the two cut ends; 0 where no feeler goes in",
            instrument="feelers",
            advise=2,
            expect=(0.0, 2.5),
        ),
        ReadingSpec("at", "where the gap is", kind=Kind.CHOICE, choices=AT),
        ReadingSpec("height", "height of the block where the gap was read", expect=(19.0, 110.0)),
        ReadingSpec(
            "gap_turned",
            "the same, of a second cut with the block turned end for end before it",
            instrument="feelers",
            optional=True,
            advise=2,
            expect=(0.0, 2.5),
        ),
        ReadingSpec("at_turned", "where that gap is", kind=Kind.CHOICE, choices=AT, optional=True),
    ),
    facts=(
        SetupFact(
            "keeper", "the side of the blade on which the keeper lies", choices=("left", "right"), needed_for=Need.WORDS
        ),
        *STOP_FACTS,
    ),
    steps=(
        Step(
            "Brush the stop, tilt the blade away and back against it, lock it. Hold a square at the plate, off the "
            "teeth: is there light?",
            asks=("cycled", "square"),
            caution="Unplugged, battery out, for this step.",
        ),
        Step(
            "Stand the block on edge, clamp it to the fence, and cut it in two.",
            caution="Clamped to the fence; higher than the cut allows it cannot be cut. Let the offcut lie.",
        ),
        Step("Leave the keeper as it was cut. Roll the offcut upside down about its long axis; never end for end."),
        Step("Push the two cut ends together on a flat table and read the gap at its wide edge.", asks=("gap", "at")),
        Step("Measure the height of the block.", asks=("height",)),
        Step(
            "Where the block's faces may not be parallel, turn it end for end, cut it again and read that gap too.",
            asks=("gap_turned", "at_turned"),
        ),
        Step("Before you adjust anything, do it all once more with one more tilt away and back."),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(no_size, unpaired, side_missing, not_cycled, suspiciously_perfect, square_disagrees, tapered_block),
    draw=draw,
    example=Example(
        ("cycled=yes", "square=light", "gap=0.008", "at=top", "height=2.4"),
        ((FEATURE, 0.008 / 4.8),),
        "worked by hand: 0.008 / (2 x 2.4) is 0.00167, or 0.095 degrees, the top of the blade toward the keeper",
    ),
    sources=(
        "common practice; the doubling is geometry: rolled, the offcut meets the keeper with the same lean",
        "scatter of 0.01 degrees between runs to start with: common practice, from tilting back against the stop",
    ),
    between_runs=IntermediatePrecision(
        "tilting back against the stop", EstimatedSd(math.radians(0.01), 4), "common practice"
    ),
)
