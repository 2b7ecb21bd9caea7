"""A block stood against the fence, and turned about: does the fence's face stand upright on the platform?"""

from __future__ import annotations

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, Point, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.measure.reversal import reversal
from trued.procedure import (
    NOT_0,
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
from trued.procedure.quantities import inches, size
from trued.procedure.reading_rules import burr, no_size, slipped_unit
from trued.procedure.shared.feeler import closed, gauged
from trued.procedure.shared.fence_turn import FENCE_FACT, KEEPER_FACT, drawn_layout, side_of
from trued.procedure.sketch.in_tolerances import band_label, in_tolerances, wedge
from trued.procedure.sketch.pieces import Shape, measured

FEATURE = "fence-upright"
TOLERANCE = ToleranceLimits.within(0.002 / 3.0)  # rad: 0.002 in over 3, for parts that stand on edge, common practice
ENDS = ("top", "bottom")
FIRST, TURNED = "first", "turned"
BLOCK_OUT = 0.01  # rad; common practice: more than this is no block that was sawn square
FACES = 0.005  # rad; common practice: faces that run together more than this are no faces of one board
LOW = inches(2.0)  # common practice: lower than this the readings show too little


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Half the sum of both readings over the height, less half of what the block's faces run together.

    Positive = the top leans away from the work.
    """
    height, lean = taken.mean("height"), reversal(opened(taken, FIRST), opened(taken, TURNED))[0]
    faces = taken.mean("block", "top") - taken.mean("block", "bottom")
    angle = (lean + 0.5 * faces) / height + taken.between_runs()
    return (FeatureResult(FEATURE, "rad", angle, taken.tolerance(FEATURE)),)


def opened(taken: RunInput, name: str) -> UncertainValue:
    """The gap of one reading with its sign: above 0 at the top, below 0 at the bottom."""
    if not any(taken.all(name)):
        return closed(name)
    where = next(end for end in ENDS if any(taken.all(name, end)))
    return taken.mean(name, where) if where == "top" else -taken.mean(name, where)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Shim behind the facing, at the top when it leans back, at the bottom when it leans over the work."""
    lean = founds[0].value.value
    back, tall = lean > 0.0, taken.number("tall")
    amount = None if tall is None else abs(lean) * tall
    end = "top" if back else "bottom"
    thick = (
        f"{size(lean * taken.mean('height').value, taken.unit)} for every {_height(taken)} of its height"
        if amount is None
        else gauged(amount, taken.unit)
    )
    text = (
        f"Loosen the facing and lay shim behind its {end} edge, the whole length: {thick}. Its top leans "
        f"{'away from' if back else 'over'} the work. Tape or paper will do. Screw it on and measure again. Keep the "
        "dust gap below it free. Then find fence angle and straightness again."
    )
    return (Move(FEATURE, text, "facing", "in" if back else "out", amount),)


def _height(taken: RunInput) -> str:
    return size(taken.mean("height").value, taken.unit, 2)


def both_ends(taken: RunInput) -> Flag | None:
    """A gap at the top and at the bottom at once."""
    for name, words in ((FIRST, "as it stood first"), (TURNED, "turned about")):
        if all(any(taken.all(name, end)) for end in ENDS):
            text = (
                f"{name}: the block, {words}, has a gap at its top and at its bottom. It touches in the middle, so "
                "the face is crowned or something sticks to it; clean both, press the block down, and read again."
            )
            return Flag("both-ends", Severity.REFUSE, text)
    return None


def faces_not_parallel(taken: RunInput) -> Flag | None:
    """The block is thicker at its top than at its bottom by more than one board is."""
    height = taken.mean("height").value
    differ = taken.mean("block", "top") - taken.mean("block", "bottom")
    if height <= 0.0 or slipped_unit(taken) or abs(differ.value) <= max(FACES * height, 4.0 * differ.u):
        return None
    text = (
        f"The block is {size(differ.value, taken.unit)} {'thicker' if differ.value > 0 else 'thinner'} at its top. "
        "Take one with parallel faces, and read both thicknesses again."
    )
    return Flag("faces-not-parallel", Severity.DOUBT, text)


def block_out(taken: RunInput) -> Flag | None:
    """The two readings differ by more than any block is out of square: it was not turned as told, or rocked."""
    height = taken.mean("height").value
    if height <= 0.0 or both_ends(taken):
        return None
    own = reversal(opened(taken, FIRST), opened(taken, TURNED))[1]
    if abs(own.value) <= max(BLOCK_OUT * height, 4.0 * own.u):
        return None
    text = (
        f"The block itself would be {size(own.value, taken.unit)} out of square over {_height(taken)}. Does it stand "
        "on a chip, or was one gap read at the other end? Clean, press it down, read both again."
    )
    return Flag("block-out", Severity.DOUBT, text)


def low_block(taken: RunInput) -> Flag | None:
    """A low block shows little."""
    height = taken.mean("height").value
    text = f"Over {_height(taken)} a feeler sees little of a lean. A block of 3 in or more sees it better."
    return Flag("low-block", Severity.NOTE, text) if 0.0 < height < LOW else None


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The fence in section, operator's side to the left, the block before it; afterwards the lean and the shim."""
    layout = drawn_layout(taken)
    f = layout.fence_y
    seen = f"The fence in section, seen along its face, your side to the left; it stands on the {side_of(layout)}."
    shapes: list[Shape] = [
        rectangle(-11, -1.5, 22, 1.5, "sled"),
        Label((0, -2.6), "platform"),
        Label((-11, 11.5), "your side", anchor="start"),
        Label((11, 11.5), "far side", anchor="end"),
    ]
    if not founds:
        shapes += [rectangle(min(f * 6, f * 8), 0, 2, 9, "fence"), rectangle(min(f * 5.6, f * 1.6), 0, 4, 8, "board")]
        shapes += [Label((f * 8.2, 9.8), "fence"), Label((f * 3.6, 5), "block")]
        shapes += measured((f * 5.6, 7.6), (f * 6, 7.6), "gap at the top", (f * 3.0, 9.2))
        shapes += measured((f * 5.6, 0.4), (f * 6, 0.4), "or at the bottom", (f * 3.2, 1.6))
        shapes += measured((f * 0.4, 0.4), (f * 0.4, 7.6), "height", (-f * 1.6, 3.6))
        shapes += [Arrow((-f * 3, 9.5), (-f * 6, 9.5), "move"), Label((-f * 5, 10.2), "then turned about", "move")]
        told = (
            f"{seen} A block stands on the platform against the fence. Read the gap at its top or at its bottom; "
            "then turn the block about, the same end down, so that its other face comes to the fence, and read again."
        )
        return Drawing("Fence upright: where to read", told, tuple(shapes))
    lean = founds[0].value.value
    back = lean > 0.0
    drawn = in_tolerances(founds[0])
    top = f * drawn.far
    fence: tuple[Point, ...] = ((f * 6, 0), (f * 6 + top, 9), (f * 8 + top, 9), (f * 8, 0))
    at = 8.2 if back else 0.8
    x = f * 8 + top * at / 9
    shapes += [Path(fence, "fence"), *wedge((f * 6.0, 0.0), (f * 6.0, 9.0), (f, 0.0), drawn.band)]
    shapes += [Line((f * 6, 0), (f * 6, 9), "wanted", dashed=True), band_label((f * 2.0, 10.6))]
    shapes += [Arrow((x + f * 2.6, at), (x - f * 0.4, at), "move")]
    shapes += [Label((-f * 1.0, at), f"shim behind the {'top' if back else 'bottom'}", "move")]
    mend = f"To mend it shim the facing behind its {'top' if back else 'bottom'} edge."
    told = (
        f"{seen} Its top leans {'away from' if back else 'over'} the work by "
        f"{size(lean * taken.mean('height').value, taken.unit)} in {_height(taken)}, drawn much larger. {mend}"
    )
    return Drawing("Fence upright: what was found", told, tuple(shapes), mend)


CHECK = Check(
    id="fence-upright",
    version=1,
    title="Fence face: square to the sled base?",
    purpose="Finds the lean of the fence's face, which spoils the ends of parts that stand on edge or are tall.",
    minutes=6.0,
    features=(
        Feature(
            FEATURE,
            "rad",
            "fence face to base",
            limits=TOLERANCE,
            sides=("top leans away from the work", "top leans over the work"),
            drift=per_quarter(1e-4),
            turn=400,
        ),
    ),
    ground=("platform-flat", "fence-straight"),
    at_hand=(
        "a block 3 in high or more and 1 1/2 in thick or more, its two faces parallel, its foot sawn about square",
        "feelers",
        "a caliper and a rule",
    ),
    cautions=(
        "Saw unplugged, battery out; the blade lowered below the platform.",
        "Brush chips away with a brush; one below the block looks like a lean.",
    ),
    asks=(
        ReadingSpec(
            "block",
            "thickness of the block, fence face to work face, at its bottom and at the height of the upper gap",
            stations=ENDS,
            advise=2,
            expect=(6.0, 150.0),
            positive=NOT_0,
            alike="block",
            edge=True,
        ),
        ReadingSpec(
            "height",
            "how far the two places of the gap are apart, one above the other",
            instrument="rule",
            expect=(20.0, 200.0),
            positive=NOT_0,
        ),
        ReadingSpec(
            FIRST,
            "gap between block and fence, at the top or at the bottom; 0 where no feeler goes in",
            instrument="feelers",
            stations=ENDS,
            least=1,
            expect=(0.0, 2.0),
        ),
        ReadingSpec(
            TURNED,
            "the same with the block turned about, its other face to the fence, the same end down",
            instrument="feelers",
            stations=ENDS,
            least=1,
            expect=(0.0, 2.0),
        ),
    ),
    facts=(
        FENCE_FACT,
        KEEPER_FACT,
        SetupFact("tall", "the height of the fence's facing", kind=Kind.LENGTH, needed_for=Need.MOVE),
    ),
    steps=(
        Step(
            "Mark the block's foot, and two heights on it, near the bottom and near the top. Measure its thickness "
            "at both, and how far they are apart.",
            asks=("block", "height"),
        ),
        Step(
            "Brush platform and fence. See that the facing stands clear of the platform (a gap of 1/16 in for dust), "
            "so that the block touches the face alone.",
        ),
        Step(
            "Stand the block on its foot against the fence, press it down, and slide it up until it touches. Read "
            "the gap at the top or at the bottom, wherever it stands off.",
            asks=(FIRST,),
        ),
        Step(
            "Turn it about like a top, the same end down, its other face to the fence, and read again at the same "
            "spot of the fence. Do not roll it upside down onto its other face: that brings the same corner back and "
            "cancels nothing.",
            asks=(TURNED,),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        both_ends,
        slipped_unit,
        burr,
        faces_not_parallel,
        block_out,
        low_block,
        fraction_display,
    ),
    draw=draw,
    example=Example(
        ("block@bottom=2.000", "block@top=2.000", "height=3", "first@top=0.006", "turned@top=0.002"),
        ((FEATURE, 0.008 / 6.0),),
        "worked by hand: (0.006 + 0.002) / (2 × 3); the block itself is out by 0.002",
    ),
    sources=(
        "common practice: 0.002 in over 3 for parts that stand on edge; for flat work the lean hardly matters",
        "reversal: turned about an upright axis the block's own angle changes its sign (geometry)",
        "scatter of 1e-4 rad between runs to start with: common practice",
    ),
    between_runs=IntermediatePrecision("standing the block", EstimatedSd(1e-4, 4), "common practice"),
)
