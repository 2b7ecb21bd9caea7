"""One cut and a piece rolled over: a quick look whether the fence is still square to the travel."""

from __future__ import annotations

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, Point, rectangle
from trued.equipment.sides import settable_mm
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.distribution.student import t_quantile
from trued.measure.estimate import UncertainValue
from trued.procedure import (
    NOT_0,
    Check,
    Example,
    FeatureResult,
    Flag,
    IntermediatePrecision,
    Kind,
    Move,
    ReadingSpec,
    RunInput,
    Severity,
    Step,
)
from trued.procedure.gross_errors import fraction_display, gap_without_place
from trued.procedure.quantities import inches, size, slope
from trued.procedure.reading_rules import burr, no_size, slipped_unit
from trued.procedure.shared.feeler import closed
from trued.procedure.shared.fence_turn import (
    FENCE_ANGLE,
    FENCE_FACTS,
    at_the_screw,
    drawn_layout,
    fence_order,
    fence_way,
    layout_of,
    side_of,
)
from trued.procedure.sketch.in_tolerances import InTolerances, band_label, in_tolerances, leaned, wedge
from trued.procedure.sketch.pieces import Shape, upside_down

FEATURE = FENCE_ANGLE.name
TOLERANCE = FENCE_ANGLE.allowed
NOT_PARALLEL = inches(0.003)  # common practice
RARE = 0.001  # parallel edges are taken for tapered ones so often
MOST_ANGLE = 0.01  # rad; common practice: more than this is no trim of a screw
GAP = 0.05  # of the drawing for one tolerance
GAPS_DIFFER = inches(0.003)  # common practice
BOARD = ("keeper", "offcut")


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Half of gap / width, and half of the angle between the board's edges: positive = corner tight."""
    keeper, offcut = (taken.mean("board", at) for at in BOARD)
    width = 0.5 * (keeper + offcut)
    edges = (offcut - keeper) / taken.mean("apart")
    angle = _opened(taken) / (2.0 * width) + 0.5 * edges + taken.between_runs()
    return (FeatureResult(FEATURE, "rad", angle, taken.tolerance(FEATURE)),)


def _opened(taken: RunInput) -> UncertainValue:
    """The gap with its sign: above 0 where it is open away from the straightedge."""
    where = taken.choice("where")
    if where == "none":
        return closed("flip")
    return taken.mean("gap") if where == "away" else -taken.mean("gap")


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Which way the fence is out and by how much; it is set by five cuts, which see it twice as large."""
    angle = founds[0].value.value
    opening = angle > 0.0
    radius = taken.number("radius")
    amount = None if radius is None else abs(angle) * radius
    by = (
        slope(angle, taken.unit)
        if amount is None
        else f"{size(settable_mm(amount, taken.unit), taken.unit)} at the screw"
    )
    text = (
        f"{fence_order(taken, opening, by)} This test only sees whether it moved: set it by the five-cut. "
        f"{at_the_screw(taken, opening, amount)}"
    )
    where, direction = "fence" if amount is None else "screw", "open" if opening else "close"
    return (Move(FEATURE, text, where, direction, amount),)


def nowhere(taken: RunInput) -> Flag | None:
    """A gap that is nowhere, or a place without a gap."""
    return gap_without_place(taken, "at which edge is it?")


def not_rolled(taken: RunInput) -> Flag | None:
    """The offcut's mark looks up: two ends of one cut always close."""
    text = (
        "The offcut's mark looks up, so it was not rolled over: as they were cut the two ends always fit, whatever "
        "the fence does. Roll it over about its long axis and read again."
    )
    return Flag("not-rolled", Severity.REFUSE, text) if taken.choice("mark") == "up" else None


def not_parallel(taken: RunInput) -> Flag | None:
    """The board's edges run together by more than the sum can be trusted with."""
    differ = taken.mean("board", "offcut") - taken.mean("board", "keeper")
    if abs(differ.value) <= max(NOT_PARALLEL, t_quantile(1.0 - RARE / 2.0, differ.dof) * differ.u) or slipped_unit(
        taken
    ):
        return None
    text = (
        f"The board is {size(differ.value, taken.unit)} wider at one end than at the other. Rip it parallel within "
        f"{size(NOT_PARALLEL, taken.unit)} and cut again; the taper would be taken for the fence."
    )
    return Flag("not-parallel", Severity.REFUSE, text)


def gaps_disagree(taken: RunInput) -> Flag | None:
    """Readings of one gap that do not agree: fuzz, or pieces that moved."""
    spread = taken.worst_repeat("gap")
    text = (
        f"Readings of the gap differ by {size(spread, taken.unit)}. Slice off the fuzz, press both pieces to the "
        "straightedge and to each other, and read again."
    )
    return Flag("gaps-disagree", Severity.DOUBT, text) if spread > GAPS_DIFFER else None


def implausible(taken: RunInput) -> Flag | None:
    """More out than a trim of the screw can be."""
    widths = taken.all("board")
    if min(widths) <= 0.0 or max(taken.all("gap")) <= 2.0 * MOST_ANGLE * min(widths):
        return None
    text = (
        "This is more than a fence at its zero stop is ever out. Is the detent seated, and do the keeper's fence "
        "edge and the offcut's other edge lie at the straightedge?"
    )
    return Flag("gap-implausible", Severity.DOUBT, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The two pieces at the straightedge, the offcut rolled over; afterwards the gap as found, and the fence's turn."""
    layout = drawn_layout(taken)
    k, f = layout.keeper_x, layout.fence_y
    assumed = "" if layout_of(taken) else " Drawn for a far fence with the keeper left."
    side = (
        f"The keeper lies {layout.keeper} as it lay at the blade, its fence edge to a straightedge on the "
        f"{side_of(layout)}.{assumed}"
    )
    shapes: list[Shape] = [rectangle(-13, -3, 26, 2, "fixture"), Label((0, -2.2), "straightedge")]
    if not founds:
        shapes += [*_pieces(k, 0.0), Arrow((-k * 9, 8.5), (-k * 9, 6.2), "move"), Label((-k * 9, 9.2), "rolled over")]
        shapes += [Label((0, 6.8), "gap away?"), Label((0, -4.3), "gap at the straightedge?")]
        told = (
            f"{side} Beside it lies the offcut, rolled over about its long axis, so that its other long edge lies at "
            "the straightedge; the two sawn ends are pushed together. Read the gap that stays open, and say whether "
            "it is at the straightedge or away from it."
        )
        return Drawing("Flip test: where to look", told, _at_the_fence_side(shapes, f))
    angle = founds[0].value.value
    opening = angle > 0.0
    at = (0.0, 6.8) if opening else (0.0, -4.3)
    touch, apart = ("at the straightedge", "away from it") if opening else ("away from the straightedge", "at it")
    drawn = in_tolerances(founds[0])
    shapes += [*_pieces(k, GAP * drawn.at), Label(at, "gap", "found"), *_fence(k, opening, drawn)]
    mend = f"Move {fence_way(taken, opening)}."
    told = (
        f"{side} The sawn ends meet {touch} and stand apart {apart}, drawn much larger: the corner is "
        f"{'tight' if opening else 'open'} by {slope(angle, taken.unit)}. {mend}"
    )
    return Drawing("Flip test: what was found", told, _at_the_fence_side(shapes, f), mend)


def _at_the_fence_side(shapes: list[Shape], f: int) -> tuple[Shape, ...]:
    """Shapes that were drawn with the fence toward the operator, as they lie for a fence on the side `f`."""
    return tuple(shapes) if f < 0 else upside_down(shapes)


def _pieces(k: int, lean: float) -> list[Shape]:
    """Keeper and rolled offcut, their ends leaning away from each other at the top by `lean`, or at the bottom."""
    high, low = (lean * 6.0, 0.0) if lean >= 0.0 else (0.0, -lean * 6.0)
    keeper: tuple[Point, ...] = ((k * 12, -1), (k * (0.1 + low), -1), (k * (0.1 + high), 5.5), (k * 12, 5.5))
    offcut = tuple((-x, y) for x, y in keeper)
    return [
        Path(keeper, "keeper"),
        Path(offcut, "offcut"),
        Label((k * 7, 2), "keeper"),
        Label((-k * 7, 2), "offcut"),
        Label((k * 7, 0), "fence edge"),
        Label((-k * 7, 0), "other edge"),
    ]


def _fence(k: int, opening: bool, drawn: InTolerances) -> list[Shape]:
    """The fence as it leans, its work beyond it, with the way of its end far from the blade."""
    fence = rectangle(min(0, k * 12), -12, 12, 1, "fence")
    place_of = (0.0, -11.0), (k * 12.0, -11.0), (0.0, 1.0)
    tip = -11.5 + drawn.far
    end = tip + (-3.5 if opening else 3.5)
    return [
        Line((0, -13), (0, -6.5), "blade"),
        Path(leaned(fence.points, *place_of, drawn.far), "fence"),
        *wedge(*place_of, drawn.band),
        band_label((k * 6.0, -6.2)),
        Line((0, -11), (k * 12, -11), "wanted", dashed=True),
        Arrow((k * 11, tip), (k * 11, end), "move"),
        Label((k * 5.5, -8.0), "open the fence" if opening else "close the fence", "move"),
        Label((k * 5.5, -13.5), "fence"),
    ]


CHECK = Check(
    id="flip",
    version=1,
    title="Flip test: has the fence moved?",
    purpose="Shows with one cut and a feeler whether the fence has moved: good for seeing, not for setting.",
    minutes=4.0,
    features=(),
    also=(FENCE_ANGLE,),
    ground=("bar-play", "fence-straight", "fence-upright"),
    at_hand=(
        "a board with parallel edges, ripped, 4 to 8 in wide and 12 in long or longer",
        "a straightedge, or the straight edge of the saw's table",
        "feelers",
        "a caliper for the board's width",
        "a pencil",
    ),
    cautions=(
        "The saw's manual goes first: is a sled allowed, and the guard off for it? Refit guard and knife afterwards.",
        "Hands at least 6 in from the kerf; stand out of the line of the board; eye and ear protection.",
        "Stop the saw and wait until the blade stands before either piece is lifted off.",
    ),
    made_on="sled",
    asks=(
        ReadingSpec(
            "board",
            "width of the board near its keeper's end and near its offcut's end, before the cut",
            stations=BOARD,
            advise=2,
            expect=(25.0, 400.0),
            positive=NOT_0,
            alike="board",
            edge=True,
        ),
        ReadingSpec(
            "apart",
            "distance along the board between the two places where its width was read",
            instrument="rule",
            expect=(100.0, 2500.0),
            positive=NOT_0,
        ),
        ReadingSpec(
            "mark",
            "where the offcut's mark looks now: under (it was rolled over) or up",
            Kind.CHOICE,
            choices=("under", "up"),
            optional=True,
        ),
        ReadingSpec(
            "where", "where the gap is open", Kind.CHOICE, choices=("away", "straightedge", "none"), need=(1, 1)
        ),
        ReadingSpec(
            "gap",
            "thickest feeler that goes into the gap, 0 when not even the thinnest does",
            instrument="feelers",
            advise=2,
            expect=(0.0, 6.0),
        ),
    ),
    facts=FENCE_FACTS,
    steps=(
        Step(
            "Choose a board with parallel edges, ripped in one go. Measure its width near both ends, at marked "
            "spots, and the distance between the spots: what its edges run together is taken off.",
            asks=("board", "apart"),
        ),
        Step("Mark the board's upper face on both sides of the cut, and write FENCE on the edge that goes to it."),
        Step(
            "Crosscut it in two about the middle, everything locked and pressed as in use.",
            caution="Let both pieces lie until the blade stands; the offcut must be free to move away.",
        ),
        Step(
            "Slice off the fuzz. Lay the keeper's fence edge against the straightedge. Roll the offcut over about "
            "its long axis, so that its mark looks down and its other long edge comes to the straightedge.",
            asks=("mark",),
        ),
        Step(
            "Push the two sawn ends together until they touch. See where they stand apart: away from the "
            "straightedge, at the straightedge, or nowhere; and read the gap there with feelers, at the very edge.",
            asks=("where", "gap"),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        not_rolled,
        nowhere,
        slipped_unit,
        burr,
        not_parallel,
        implausible,
        gaps_disagree,
        fraction_display,
    ),
    draw=draw,
    example=Example(
        ("board@keeper=5.500", "board@offcut=5.500", "apart=20", "where=away", "gap=0.008"),
        ((FEATURE, 0.008 / 11.0),),
        "worked by hand: 0.008 / (2 × 5.5) is 0.0007, 0.0087 in per foot",
    ),
    sources=(
        "common practice; the sum is geometry: two like corners side by side show twice the error",
        "edges that are not parallel add half of their angle: geometry",
        "scatter of 1e-4 rad between runs to start with: common practice, one cut seated and two pieces laid together",
    ),
    apart=(
        "Look at the method. Did the same edge lie against the fence? Was the offcut rolled over, and not turned? "
        "Did both pieces stand on clean edges?"
    ),
    between_runs=IntermediatePrecision("seating of the cut and of the pieces", EstimatedSd(1e-4, 4), "common practice"),
)
