"""Diagonals: is a box or frame square as it stands, and across which corners is it squeezed?"""

from __future__ import annotations

import math

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, Point
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.student import t_quantile
from trued.measure.estimate import UncertainValue, linear
from trued.procedure import (
    NOT_0_THERE,
    Check,
    Example,
    Feature,
    FeatureResult,
    Flag,
    Kind,
    Move,
    Need,
    ReadingSpec,
    RunInput,
    SetupFact,
    Severity,
    Step,
)
from trued.procedure.gross_errors import burned, is_slip, slipped, unit_slip
from trued.procedure.quantities import inches, size, slope
from trued.procedure.reading_rules import no_size
from trued.procedure.sketch.pieces import Shape

FEATURE = "box-square"
TOLERANCE = ToleranceLimits.within(1.5e-3)  # rad, 1/16 in between the diagonals of a 24 × 30 box: common practice
CLOSES = inches(1 / 32)  # common practice: sides and diagonals of one box agree within this and their reading
OPPOSITE = inches(1 / 32)  # common practice
RARE = 0.001  # reading explains more than this at either side: a clean box is doubted less than once in 100
BURNED = 2.5  # mm: sides and diagonals read with a tape agree within this, common practice
ENDS = {"diagonal_1": ("A", "C"), "diagonal_2": ("B", "D")}
SIDES = ("width", "height", "other_width", "other_height")
MATES = (("width", "other_width"), ("height", "other_height"))


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Difference of the squared diagonals over four times the area: positive = corner A tight, A to C the longer."""
    one, two = taken.mean("diagonal_1"), taken.mean("diagonal_2")
    angle = (one * one - two * two) / (4.0 * _side(taken, 0) * _side(taken, 1))
    return (FeatureResult(FEATURE, "rad", angle, taken.tolerance(FEATURE)),)


def _side(taken: RunInput, which: int) -> UncertainValue:
    """Width (0) or height (1): the mean of the two opposite ones where both were read."""
    name, other = MATES[which]
    side = taken.mean(name)
    return (side + taken.mean(other)) * 0.5 if taken.has(other) else side


def moves(taken: RunInput, _founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Squeeze the longer diagonal by half of the difference; the other grows by as much."""
    one, two = _diagonals(taken)
    longer = "diagonal_1" if one > two else "diagonal_2"
    a, b = ENDS[longer]
    half = abs(one - two) / 2.0
    text = (
        f"Clamp across the LONGER diagonal, {a} to {b}, until it is {size(half, taken.unit)} shorter. The other one "
        f"grows by as much. Both then read about {size((one + two) / 2.0, taken.unit)}. Measure again with the clamps "
        "as they will stay."
    )
    return (Move(FEATURE, text, "clamp", "in", half),)


def _diagonals(taken: RunInput) -> tuple[float, float]:
    return taken.mean("diagonal_1").value, taken.mean("diagonal_2").value


def slipped_unit(taken: RunInput) -> Flag | None:
    """Two that should be about alike in two units, or a diagonal in another unit than the sides."""
    groups = [[r for n in names for r in taken.of(n)] for names in (tuple(ENDS), *MATES)]
    if found := next((seen for group in groups if (seen := unit_slip(taken, group)) is not None), None):
        return found
    sides = _from_sides(taken).value
    for r in (r for name in ENDS for r in taken.of(name)):
        if is_slip(max(r.value, sides), min(r.value, sides)):
            return slipped(
                taken, r, r.value * inches(1.0) if r.value < sides else r.value / inches(1.0), "to the sides"
            )
    return None


def _from_sides(taken: RunInput) -> UncertainValue:
    """The diagonal that a box with these sides has when it is square."""
    a, b = _side(taken, 0), _side(taken, 1)
    value = math.hypot(a.value, b.value)
    if value == 0.0:
        return UncertainValue(0.0)
    return linear(value, (a.value / value, a), (b.value / value, b))


def _beyond(x: UncertainValue, least: float) -> bool:
    """More than is common practice, and more than reading explains."""
    return abs(x.value) > max(least, t_quantile(1.0 - RARE, x.dof) * x.u)


def burned_inch(taken: RunInput) -> Flag | None:
    """One length off by a whole inch, or by 10 or 100 mm: the tape was read from a line."""
    one, two = _diagonals(taken)
    sides = _from_sides(taken).value
    # A racked box keeps the sum of its squared diagonals; a diagonal misread by an inch stands out against that.
    due = math.sqrt(max(0.0, 2.0 * sides**2 - two**2))
    offs = [(f"{a} and {b}", taken.mean(a).value - taken.mean(b).value) for a, b in MATES if taken.has(b)]
    offs += [("one diagonal against the rest", one - due), ("diagonals and sides", (one + two) / 2.0 - sides)]
    for what, off in offs:
        if words := burned(off, taken.unit, BURNED):
            text = (
                f"{what[0].upper()}{what[1:]} are off by about {words}: was the tape held at that line instead of its "
                "end, and the line not taken off? Measure all of them once more, alike."
            )
            return Flag("burned-inch", Severity.DOUBT, text)
    return None


def opposite_sides(taken: RunInput) -> Flag | None:
    """Opposite sides that differ: equal diagonals then prove nothing."""
    for name, other in MATES:
        if not taken.has(other):
            continue
        apart = taken.mean(name) - taken.mean(other)
        if _beyond(apart, OPPOSITE):
            text = (
                f"Not square, whatever the diagonals say: the opposite sides ({name}, {other}) differ by "
                f"{size(apart.value, taken.unit)}. Equal diagonals prove a square corner only where opposite sides are "
                "equal. Make the sides alike first."
            )
            return Flag("opposite-sides", Severity.DOUBT, text)
    return None


def does_not_close(taken: RunInput) -> Flag | None:
    """Sides and diagonals that are not of one box whose opposite sides are equal."""
    if no_size(taken) or burned_inch(taken) or opposite_sides(taken):
        return None
    one, two = taken.mean("diagonal_1"), taken.mean("diagonal_2")
    square = math.sqrt((one.value**2 + two.value**2) / 2.0)
    mean = linear(square, (one.value / (2.0 * square), one), (two.value / (2.0 * square), two))
    off = mean - _from_sides(taken)
    if not _beyond(off, CLOSES):
        return None
    text = (
        f"The diagonals are {size(off.value, taken.unit)} {'longer' if off.value > 0 else 'shorter'} than these sides "
        "allow: opposite sides are not equal, inside was mixed with outside, or the tape was misread. Measure all four "
        "sides (other_width, other_height) at the same faces as the diagonals."
    )
    return Flag("does-not-close", Severity.DOUBT, text)


def one_inside(taken: RunInput) -> Flag | None:
    """One diagonal from an outside corner to an inside one: the difference is a thickness."""
    thickness, (one, two) = taken.number("thickness"), _diagonals(taken)
    if thickness is None:
        return None
    along = _side(taken, 0).value, _side(taken, 1).value
    across = thickness * (along[0] + along[1]) / math.hypot(*along)
    room = inches(1 / 16)
    if not (thickness - room <= abs(one - two) <= across + room):
        return None
    short = "diagonal_1" if one < two else "diagonal_2"
    text = (
        f"{short} is shorter by about one board thickness: was it measured from an outside corner to an inside "
        "one? Measure both outside to outside, or both inside to inside."
    )
    return Flag("one-inside", Severity.DOUBT, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The box with its corners; afterwards racked, much enlarged, with the clamp across the longer diagonal."""
    rack = 0.0
    if founds and abs(founds[0].value.value) > 1e-9:
        rack = math.copysign(2.4, founds[0].value.value)
    corners = {"A": (-8.0 - rack, -6.0), "B": (8.0 - rack, -6.0), "C": (8.0 + rack, 6.0), "D": (-8.0 + rack, 6.0)}
    shapes: list[Shape] = [Path(tuple(corners.values()), "part")]
    shapes += [Label((x * 0.9, y + math.copysign(1.9, y) - 0.4), name, "letter") for name, (x, y) in corners.items()]
    if not founds:
        shapes += [Arrow(corners[a], corners[b], "measure", both_ends=True) for a, b in ENDS.values()]
        shapes += [Label((0, 3.8), "diagonal 1: A to C"), Label((0, -4.6), "diagonal 2: B to D")]
        shapes += [Label((0, -7.8), "width"), Label((9.4, 0), "height", anchor="start")]
        told = (
            "The box from the front, its corners A, B, C, D in turn round it. Measure both diagonals, A to C and B "
            "to D, and the sides; all from outside to outside, or all from inside to inside."
        )
        return Drawing("Diagonals: what to measure", told, tuple(shapes))
    angle = founds[0].value.value
    a, b = ENDS["diagonal_1"] if angle > 0.0 else ENDS["diagonal_2"]
    c, d = ENDS["diagonal_2"] if angle > 0.0 else ENDS["diagonal_1"]
    shapes.append(Line(corners[c], corners[d], "before", dashed=True))
    if rack:
        shapes += [Arrow(_out(corners[end], 3.6), _out(corners[end], 0.4), "move") for end in (a, b)]
        shapes.append(Label((0, -10.4), f"squeeze from {a} to {b}", "move"))
    mend = "Squeeze it by half of the difference."
    told = (
        f"The box from the front, racked by {slope(angle, taken.unit)}, drawn much larger: from {a} to {b} is the "
        f"longer diagonal. {mend}"
    )
    return Drawing("Diagonals: what was found", told, tuple(shapes), mend)


def _out(corner: Point, by: float) -> Point:
    """A place outside a corner, away from the middle."""
    return corner[0] + math.copysign(by, corner[0]), corner[1] + math.copysign(by * 0.75, corner[1])


CHECK = Check(
    id="diagonals",
    version=1,
    title="Diagonals: is the assembly square?",
    purpose="Finds how far a glued or clamped box is out of square, and across which corners and how far it is "
    "squeezed.",
    minutes=5.0,
    features=(
        Feature(
            FEATURE,
            "rad",
            "assembly squareness",
            limits=TOLERANCE,
            sides=("corner A under 90°", "corner A over 90°"),
            owner="work",
            turn=620,
        ),
    ),
    at_hand=(
        "a tape, or two sticks that slide",
        "a clamp longer than the diagonal, or a second pair of hands",
        "a pencil",
    ),
    cautions=(
        "Squeeze little by little: a joint forced while the glue sets stays strained, and a thin panel can break.",
        "Keep fingers out of joints that close under a clamp.",
    ),
    asks=(
        ReadingSpec(
            "diagonal_1",
            "from corner A to corner C",
            instrument="tape",
            advise=2,
            expect=(50.0, 5000.0),
            positive=NOT_0_THERE,
        ),
        ReadingSpec(
            "diagonal_2",
            "from corner B to corner D",
            instrument="tape",
            advise=2,
            expect=(50.0, 5000.0),
            positive=NOT_0_THERE,
        ),
        ReadingSpec("width", "from A to B", instrument="tape", expect=(25.0, 4000.0), positive=NOT_0_THERE),
        ReadingSpec("height", "from B to C", instrument="tape", expect=(25.0, 4000.0), positive=NOT_0_THERE),
        ReadingSpec(
            "other_width", "the side opposite, from D to C", instrument="tape", optional=True, positive=NOT_0_THERE
        ),
        ReadingSpec(
            "other_height", "the side opposite, from A to D", instrument="tape", optional=True, positive=NOT_0_THERE
        ),
    ),
    facts=(SetupFact("thickness", "the thickness of the box's sides", kind=Kind.LENGTH, needed_for=Need.WORDS),),
    steps=(
        Step(
            "Letter the corners A, B, C, D in turn round the box. Lay it on something flat, clamps as they will stay."
        ),
        Step(
            "Measure A to C and B to D twice each, the tape at the same faces at either end: all outside, or all "
            "inside.",
            ("diagonal_1", "diagonal_2"),
        ),
        Step(
            "Measure width and height, and the sides opposite to them.",
            ("width", "height", "other_width", "other_height"),
        ),
        Step(
            "Squeeze, if that is the finding, and measure again before the glue sets.",
            caution="Fingers out of the joints.",
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(no_size, slipped_unit, burned_inch, opposite_sides, does_not_close, one_inside),
    draw=draw,
    example=Example(
        ("diagonal_1=38 3/8", "diagonal_2=38 5/16", "width=23.875", "height=30"),
        ((FEATURE, (38.375**2 - 38.3125**2) / (4 * 23.875 * 30)),),
        "worked by hand: (1472.641 - 1467.848) / (4 × 716.25) = 0.00167",
    ),
    sources=(
        "law of cosines in a parallelogram: the squared diagonals differ by 4 × width × height × the angle",
        "common practice: 1/16 in between the diagonals of a 24 × 30 box, sides and diagonals agreeing within 1/32",
    ),
)
