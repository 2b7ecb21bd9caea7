"""Tilt stop at 45 degrees: four bevelled strips taped to a ring; the gaps of its joints show eight times the error.

Positive = the blade is tilted too far over; negative = too upright.
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
from trued.procedure.gross_errors import fraction_display
from trued.procedure.quantities import DEG, MRAD, inches, size
from trued.procedure.reading_rules import burr, slipped_unit
from trued.procedure.shared.bevel import STOP_FACTS, degrees, how_to_tilt, stop_travel
from trued.procedure.shared.feeler import closed, gap
from trued.procedure.sketch.in_tolerances import band_label, in_tolerances, wedge
from trued.procedure.sketch.pieces import Shape, measured

FEATURE = "bevel@45"
TOLERANCE = ToleranceLimits.within(math.radians(0.1))  # common practice: 0.1 degrees, 0.03 for show
JOINTS = ("1", "2", "3", "4")
AT = ("outside", "inside", "none")
CUT = ("crosscut", "rip-fence-left", "rip-fence-right")
BEVELS = 8.0  # two at each of four joints
GAP = 0.5  # units of the drawing for one tolerance
WIDTHS_DIFFER = inches(0.004)  # common practice: strips of unequal width open a ring like a wrong angle


def total(taken: RunInput) -> UncertainValue:
    """All gaps together: however a ring settles, the wedges of its joints add up to the same.

    Where no feeler goes in at any joint, each may be open outside or inside by less than the thinnest, all alike.
    """
    if not any(taken.all("gap")):
        return closed("gap") * len(JOINTS)
    return sum((gap(taken, "gap", joint) for joint in taken.stations("gap")), UncertainValue(0.0))


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Gaps over eight bevels, on a wall as long as the bevel: thickness times the root of two."""
    wall = taken.mean("thickness") * math.sqrt(2.0)
    over = -1.0 if taken.choice("at") == "outside" else 1.0
    error = total(taken) * over / (BEVELS * wall) + taken.between_runs()
    return (FeatureResult(FEATURE, "rad", error, taken.tolerance(FEATURE)),)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """The full correction, at the stop where its radius is known."""
    error = founds[0].value.value
    upright = error > 0.0
    way = "more upright" if upright else "further over"
    text = f"Tilt the blade {way} by {degrees(error)}. {how_to_tilt(taken, error, way)}"
    return (Move(FEATURE, text, "tilt-stop", "upright" if upright else "over", stop_travel(taken, error)),)


# --- blunders


def leans_over_fence(taken: RunInput) -> Flag | None:
    """A bevel rip with the blade over the fence traps the work below it."""
    cut, tilts = taken.choice("cut"), taken.word("tilts_to")
    if not tilts or cut != f"rip-fence-{tilts}":
        return None
    text = (
        f"The blade tilts to the {tilts}, and the rip fence stood on that side: the work is trapped under the blade "
        "and thrown. Never rip like that: move the fence to the other side of the blade, or crosscut. Cut new strips."
    )
    return Flag("leans-over-fence", Severity.REFUSE, text)


def tilt_unknown(taken: RunInput) -> Flag | None:
    """Strips were ripped, and which way the blade tilts is not known."""
    if taken.choice("cut") == "crosscut" or taken.word("tilts_to"):
        return None
    text = (
        "Which way the blade tilts is not known here (--tilts_to): look that it leaned away from the rip fence. Never "
        "rip with the blade leaning over toward the fence."
    )
    return Flag("tilt-side-unknown", Severity.NOTE, text)


def no_size(taken: RunInput) -> Flag | None:
    """Strips of no thickness."""
    if taken.mean("thickness").value > 0.0:
        return None
    return Flag("no-size", Severity.REFUSE, "thickness cannot be 0: measure a strip away from its bevels.")


def gap_nowhere(taken: RunInput) -> Flag | None:
    """A gap that lies nowhere, or a side without a gap."""
    if taken.choice("at") != "none" or not any(taken.all("gap")):
        return None
    text = "A gap was read, but at=none: say whether the joints are open outside or inside."
    return Flag("gap-nowhere", Severity.REFUSE, text)


def unequal_strips(taken: RunInput) -> Flag | None:
    """Strips of unequal width look like a wrong angle."""
    widths = {strip: taken.mean("width", strip) for strip in JOINTS}
    wide, narrow = (pick(widths, key=lambda strip: widths[strip].value) for pick in (max, min))
    differ = widths[wide] - widths[narrow]
    if differ.value <= max(WIDTHS_DIFFER, 3.5 * differ.u):
        return None
    text = (
        f"Strip {wide} is {size(differ.value, taken.unit)} wider than strip {narrow}: the ring cannot close, whatever "
        f"the angle. Cut all four at one setting, within {size(WIDTHS_DIFFER, taken.unit)}, and tape again."
    )
    return Flag("unequal-strips", Severity.DOUBT, text)


# --- drawing


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """One corner of the ring end on; afterwards open as it was found, and the blade with the way to tilt."""
    tilts = taken.word("tilts_to") or "left"
    k = -1 if tilts == "left" else 1
    seen = "One corner of the ring, looked at from its end."
    if not founds:
        shapes: list[Shape] = [
            Path(((0, 10), (10, 10), (7, 7), (0, 7)), "part"),
            Path(((10, 10), (10, 0), (7, 0), (7, 7)), "part"),
            Label((3, 8.2), "strip"),
            Label((12.0, 11.2), "outside"),
            Label((5.0, 5.0), "inside"),
            *measured((-1, 7), (-1, 10), "thickness", (-1.6, 8.3), "end"),
            Arrow((7.7, 9.3), (9.3, 7.7), "measure", both_ends=True),
            Label((13.5, 8.6), "gap, at every joint", "measure"),
        ]
        told = (
            f"{seen} Four strips, bevelled on both edges, are taped to a ring. Press it together and read the gap at "
            "every joint that stays open; say whether the joints are open outside or inside. Measure the thickness of "
            "a strip, and the widths of all four first."
        )
        return Drawing("45° bevel stop: what to read", told, tuple(shapes))
    error = founds[0].value.value
    over = error > 0.0
    drawn = in_tolerances(founds[0])
    gap = GAP * abs(drawn.at)
    a, b = (0.0, gap) if over else (gap, 0.0)  # how open outside, inside
    wanted = (k * 5.0, 5.0)
    aside = drawn.far / math.sqrt(2.0)  # square to the blade at 45 degrees
    stands = (k * (5.0 + aside), 5.0 - aside)
    tip, way = (stands[0], stands[1] - 8.2), 1.0 if over else -1.0
    shapes = [
        Path(((0, 10), (10 - a, 10), (7 - b, 7), (0, 7)), "part"),
        Path(((10, 10 - a), (10, 0), (7, 0), (7, 7 - b)), "part"),
        Label((12.0, 11.2), "outside"),
        Label((4.5, 5.0), "inside"),
        Line((-8, -9), (8, -9), "table"),
        *wedge((0.0, -9.0), (wanted[0], wanted[1] - 9.0), (k / math.sqrt(2.0), -1.0 / math.sqrt(2.0)), drawn.band),
        band_label((-k * 4.0, -6.5)),
        Line((0, -9), (wanted[0], wanted[1] - 9), "wanted", dashed=True),
        Line((0, -9), (stands[0], stands[1] - 9), "blade"),
        Arrow(tip, (tip[0] - k * way * 1.7, tip[1] + way * 1.7), "move"),
        Label((-k * 4.5, -4.5), f"blade {'more upright' if over else 'further over'}", "move"),
    ]
    open_at = "inside" if over else "outside"
    mend = f"To mend it tilt it {'more upright' if over else 'further over'}."
    told = (
        f"{seen} The joints are open {open_at}, drawn much larger: the blade is {degrees(error)} "
        f"{'too far over' if over else 'too upright'}. {mend}"
    )
    return Drawing("45° bevel stop: what was found", told, tuple(shapes), mend)


CHECK = Check(
    id="tilt-45",
    version=1,
    title="45° bevel stop: do four bevels close?",
    purpose="Shows the error of the 45° stop eight times as large, as gaps in a ring of four bevelled strips.",
    minutes=20.0,
    features=(
        Feature(
            FEATURE,
            "rad",
            "45° bevel stop",
            limits=TOLERANCE,
            directions=("upright", "over"),
            orders=("tilt the blade more upright", "tilt the blade further over"),
            sides=("past 45°", "short of 45°"),
            actuator=Actuator(0.02 * DEG, 0.02 * DEG),
            owner="saw",
            drift=per_quarter(math.radians(0.02)),
            doubts=(AddedUncertainty("saw-carried", 1 * MRAD), AddedUncertainty("blade-realigned", 1 * MRAD)),
            angles="tilt",
            turn=120,
        ),
    ),
    ground=("bevel@0", "blade-parallel"),
    at_hand=(
        "four flat strips, 3 to 4 in wide, all from one board",
        "strong tape",
        "feelers",
        "a caliper",
    ),
    cautions=(
        "Never rip with the blade leaning over toward the fence: move the fence to the other side, or crosscut.",
        "Turn the tilted blade by hand past insert, guard, fence and sled before power; the manual says what fits.",
        "The offcut of a bevel lies sharp and loose: let it lie until the blade stands; hold short pieces down.",
    ),
    made_on="saw",
    asks=(
        ReadingSpec(
            "cut",
            "how the bevels were cut: across on the sled, or along the rip fence standing left or right of the blade",
            kind=Kind.CHOICE,
            choices=CUT,
        ),
        ReadingSpec(
            "width",
            "outer width of each strip, from edge to edge",
            stations=JOINTS,
            advise=2,
            expect=(25.0, 300.0),
            alike="width",
            edge=True,
        ),
        ReadingSpec("thickness", "thickness of a strip", advise=2, expect=(5.0, 50.0)),
        ReadingSpec(
            "gap",
            "gap at each joint that stays open when the ring is pressed together; 0 where no feeler goes in",
            instrument="feelers",
            stations=JOINTS,
            least=1,
            expect=(0.0, 3.0),
        ),
        ReadingSpec("at", "where the joints are open: outside (the heel) or inside", kind=Kind.CHOICE, choices=AT),
    ),
    facts=(
        SetupFact(
            "tilts_to",
            "the side to which the top of the blade leans when it is tilted",
            choices=("left", "right"),
            needed_for=Need.WORDS,
        ),
        *STOP_FACTS,
    ),
    steps=(
        Step(
            "Brush the stop, tilt the blade over against it and lock it.",
            caution="Unplugged, battery out, while you reach to the stop; turn the blade by hand past everything.",
        ),
        Step(
            "Bevel both edges of four strips at one setting, all to one width.",
            asks=("cut",),
            caution="At the rip fence the blade leans AWAY from it: knife, push stick, longer than wide. Else "
            "crosscut, hold-down on.",
        ),
        Step("Measure the widths of all four first: they must agree within 0.004 in.", asks=("width", "thickness")),
        Step("Lay them edge to edge, outer faces up, tape the joints, fold them to a ring and tape the last joint."),
        Step(
            "Press the ring together and read every joint that stays open, where it is widest.",
            asks=("gap", "at"),
        ),
        Step("Before you adjust anything, tilt away and back, cut four more and do it all once more."),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        leans_over_fence,
        tilt_unknown,
        no_size,
        gap_nowhere,
        slipped_unit,
        burr,
        unequal_strips,
        fraction_display,
    ),
    draw=draw,
    example=Example(
        (
            "cut=crosscut",
            "width@1=4.000",
            "width@2=4.001",
            "width@3=4.000",
            "width@4=4.002",
            "thickness=0.750",
            "gap@4=0.030",
            "at=outside",
        ),
        ((FEATURE, -0.030 / (8 * 0.750 * math.sqrt(2.0))),),
        "worked by hand: 0.030 over 8 x 0.750 x 1.414 is 0.0035, or 0.20 degrees too upright",
    ),
    sources=(
        "common practice; geometry: the corners of a closed ring of four are 360 degrees, made by eight bevels",
        "scatter of 0.01 degrees between runs to start with: common practice, from tilting back against the stop",
    ),
    between_runs=IntermediatePrecision(
        "tilting back against the stop and cutting the strips", EstimatedSd(math.radians(0.01), 4), "common practice"
    ),
)
