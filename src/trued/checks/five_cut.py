"""Five cuts round a panel: the angle between a sled's fence and its travel, magnified four times."""

from __future__ import annotations

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.equipment.sides import SledLayout, settable_mm
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.procedure import (
    NOT_0,
    Check,
    Example,
    FeatureResult,
    Flag,
    IntermediatePrecision,
    Move,
    ReadingSpec,
    RunInput,
    Severity,
    Step,
)
from trued.procedure.gross_errors import fraction_display, is_slip
from trued.procedure.quantities import inches, size, slope
from trued.procedure.reading_rules import burr, no_size, slipped_unit
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
from trued.procedure.sketch.in_tolerances import band_label, in_tolerances, leaned, wedge
from trued.procedure.sketch.pieces import Shape, measured, saw_from_above

FEATURE = FENCE_ANGLE.name
TOLERANCE = FENCE_ANGLE.allowed
WIDTHS = ("fence_end", "middle", "free_end")

BULGE = inches(0.003)  # common practice
MOST_TAPER, MOST_ANGLE = inches(0.25), 0.01  # common practice: more than this is no trim of a screw
ENDS_DIFFER = 0.2  # of one another, common practice


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Taper of the strip over four times its length: positive = corner tight, the fence must be opened."""
    taper = taken.mean("free_end") - taken.mean("fence_end")
    angle = taper / (4.0 * taken.mean("length")) + taken.between_runs()
    return (FeatureResult(FEATURE, "rad", angle, taken.tolerance(FEATURE)),)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """The full correction of this run, at the screw where its distance from the pivot is known."""
    angle = founds[0].value.value
    opening = angle > 0.0
    radius = taken.number("radius")
    amount = None if radius is None else abs(angle) * radius
    by = (
        slope(angle, taken.unit)
        if amount is None
        else f"{size(settable_mm(amount, taken.unit), taken.unit)} at the screw"
    )
    text = f"{fence_order(taken, opening, by)} {at_the_screw(taken, opening, amount)}"
    where, direction = "fence" if amount is None else "screw", "open" if opening else "close"
    return (Move(FEATURE, text, where, direction, amount),)


def ends_disagree(taken: RunInput) -> Flag | None:
    """The two ends differ too much for one strip."""
    fence, free = taken.mean("fence_end").value, taken.mean("free_end").value
    if fence <= 0.0 or abs(free / fence - 1.0) <= ENDS_DIFFER or is_slip(max(fence, free), min(fence, free)):
        return None
    text = "The two ends differ by more than a fifth. Read both again: is each the width of this strip, in one unit?"
    return Flag("ends-disagree", Severity.DOUBT, text)


def taper_implausible(taken: RunInput) -> Flag | None:
    """More out than a trim of the screw can be."""
    taper, length = taken.mean("free_end").value - taken.mean("fence_end").value, taken.mean("length").value
    if length <= 0.0 or (abs(taper) <= MOST_TAPER and abs(taper) <= 4.0 * length * MOST_ANGLE):
        return None
    text = (
        "This is more than a fence at its zero stop is ever out. Look at the pivot, whether the detent is seated and "
        "the lock tight, and whether the fresh edge went to the fence at every cut."
    )
    return Flag("taper-implausible", Severity.DOUBT, text)


def bowed_strip(taken: RunInput) -> Flag | None:
    """The middle stands out from the line between the ends."""
    if not taken.has("middle"):
        return None
    bulge = taken.mean("middle") - 0.5 * (taken.mean("fence_end") + taken.mean("free_end"))
    if abs(bulge.value) <= BULGE:
        return None
    act = Severity.DOUBT if abs(bulge.value) > 3.0 * bulge.u else Severity.NOTE
    text = (
        f"The strip is {'fat' if bulge.value > 0 else 'thin'} in the middle by {size(bulge.value, taken.unit)}: swing "
        "of the bar, a panel that moved, or a first trim left out. Do not adjust yet; look at the bar play, "
        "then cut all five again."
    )
    return Flag("bowed-strip", act, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """This person's sled from above: where to measure, or the error exaggerated and the way to turn."""
    layout = drawn_layout(taken)
    assumed = "" if layout_of(taken) else " Drawn for a far fence with the keeper left."
    place = f"Seen from above. The fence is on the {side_of(layout)}, the keeper {layout.keeper} of the blade.{assumed}"
    if founds:
        return _drawn_move(taken, founds[0], layout, place)
    k, f = layout.keeper_x, layout.fence_y
    shapes = [*saw_from_above(), *_sled(layout), rectangle(min(0, k * 8), -4, 8, 8, "board"), *_strip(k, f)]
    shapes += [
        Label((k * 4, f * 3), "fresh edge"),
        Arrow((k * 11, -3), (k * 11, 3), "feed"),
        Label((k * 11, -f * 4.0 - 0.4), "travel"),
    ]
    told = (
        f"{place} Turn the panel {layout.board_turn()} between the cuts, so that the fresh edge comes to the fence. "
        "The last cut frees a strip along the blade. Measure its width at the fence end, in the middle and at the free "
        "end, and the distance between the two end spots."
    )
    return Drawing("Five cuts: where to measure", told, tuple(shapes))


def _sled(layout: SledLayout) -> list[Shape]:
    k, f = layout.keeper_x, layout.fence_y
    return [
        rectangle(min(0, k * 12), -7, 12, 14, "sled"),
        rectangle(min(-k, k * 12), min(f * 4, f * 5), 13, 1, "fence"),
        Line((0, -7), (0, 7), "blade"),
    ]


def _strip(k: int, f: int) -> list[Shape]:
    x, out = -k * 1.5, "start" if k < 0 else "end"
    shapes: list[Shape] = [rectangle(min(-k * 0.4, -k * 2.6), -4, 2.2, 8, "strip")]
    for y, words in ((f * 3.5, "fence end"), (0.0, "middle"), (-f * 3.5, "free end")):
        shapes += measured((x - 1.1, y), (x + 1.1, y), words, (x - k * 1.6, y - 0.4), out)
    return [*shapes, *measured((-k * 9, f * 3.5), (-k * 9, -f * 3.5), "length", (-k * 10, -f * 5.5))]


def _drawn_move(taken: RunInput, found: FeatureResult, layout: SledLayout, place: str) -> Drawing:
    """The fence by how many tolerances it is out, about its face at the blade; the band is what would be true."""
    angle, drawn = found.value.value, in_tolerances(found)
    k, f, opening = layout.keeper_x, layout.fence_y, angle > 0.0
    place_of = (0.0, f * 4.0), (k * 12.0, f * 4.0), (0.0, -float(f))  # the far end of a tight fence stands in the work
    fence = rectangle(min(-k, k * 12), min(f * 4, f * 5), 13, 1, "fence")
    face = leaned(((-k, f * 4.0), (k * 12, f * 4.0)), *place_of, drawn.far)
    end_y = f * 4.5 - f * drawn.far
    shapes = [
        *saw_from_above(),
        rectangle(min(0, k * 12), -7, 12, 14, "sled"),
        Line((0, -7), (0, 7), "blade"),
        Path(leaned(fence.points, *place_of, drawn.far), "fence"),
        *wedge(*place_of, drawn.band),
        band_label((k * 6.0, -f * 3.0)),
        Line((-k, f * 4), (k * 12, f * 4), "wanted", dashed=True),
        Line(face[0], face[1], "found"),
        Arrow((k * 11, end_y), (k * 11, end_y + (f if opening else -f) * 3), "move"),
        Label((0, -f * 8.8), _move_said(taken, layout, opening=opening), "move"),
    ]
    mend = f"Move {fence_way(taken, opening)}."
    told = (
        f"{place} The corner of the keeper is {'tight' if opening else 'open'} by {slope(angle, taken.unit)}, drawn "
        f"much larger. {mend}"
    )
    return Drawing("Five cuts: what was found", told, tuple(shapes), mend)


def _move_said(taken: RunInput, layout: SledLayout, *, opening: bool) -> str:
    """The way by left and right only where the layout is the person's own."""
    word = "open" if opening else "close"
    return f"{word}: {layout.fence_turn(opening=opening).split(',')[0]}" if layout_of(taken) else f"{word} the fence"


CHECK = Check(
    id="five-cut",
    version=1,
    title="Five-cut: is the sled fence square?",
    purpose="Shows the fence angle to the sled's travel four times as large, on a strip read with a caliper.",
    minutes=15.0,
    features=(FENCE_ANGLE,),
    ground=("bar-play", "fence-straight", "fence-upright"),
    at_hand=(
        "a flat, stable panel (MDF or plywood, 1/2 to 3/4 in thick), 12 to 18 in, 1 in less than the sled's depth",
        "a caliper",
        "a pencil and a rule",
        "a clamp for the last cut",
    ),
    cautions=(
        "The saw's manual goes first: is a sled allowed, and the guard off for it? Refit guard and knife afterwards.",
        "Hands at least 6 in from the kerf; stand out of the line of the board; eye and ear protection.",
        "Stop the saw and wait until the blade stands before anything is lifted off.",
    ),
    made_on="sled",
    asks=(
        ReadingSpec(
            "fence_end",
            "width of the strip at the end that lay against the fence",
            advise=2,
            expect=(4.0, 80.0),
            positive=NOT_0,
            alike="strip",
            edge=True,
        ),
        ReadingSpec(
            "middle",
            "width in the middle of the strip",
            optional=True,
            advise=2,
            expect=(4.0, 80.0),
            alike="strip",
            edge=True,
        ),
        ReadingSpec(
            "free_end",
            "width of the strip at its other end",
            advise=2,
            expect=(4.0, 80.0),
            positive=NOT_0,
            alike="strip",
            edge=True,
        ),
        ReadingSpec(
            "length",
            "distance between the two spots that were read",
            instrument="rule",
            expect=(75.0, 1300.0),
            positive=NOT_0,
        ),
    ),
    facts=FENCE_FACTS,
    steps=(
        Step("Lock everything as you use it. Number the panel's edges 1 to 4 and draw an arrow toward the fence."),
        Step("Trim edge 1 by 1/4 in. Do not leave this trim out: a factory edge spoils the sum."),
        Step(
            "Turn the panel so that the fresh edge goes to the fence, and trim edge 2; the same again for 3 and 4. "
            "Seen from above that is counterclockwise for a far fence with the keeper left and for an operator's "
            "fence with the keeper right, clockwise for the other two. Blow the dust off fence and platform before "
            "each cut, press alike.",
        ),
        Step(
            "Turn once more and cut side 1 again, so that a strip 3/4 to 1 1/4 in wide comes off.",
            caution="The strip is narrow: clamp the panel, do not catch the strip, let it lie until the blade stands.",
        ),
        Step("Before you lift the strip, write FENCE END on the end at the fence."),
        Step(
            "Mark a spot near either end, slice off any fuzz, and read the width there two or three times, and once "
            "in the middle.",
            asks=("fence_end", "middle", "free_end"),
        ),
        Step("Measure the distance between the two end spots, not the width of the panel.", asks=("length",)),
        Step("Before you adjust anything, do it all once more with nothing touched."),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        slipped_unit,
        fraction_display,
        ends_disagree,
        taper_implausible,
        burr,
        bowed_strip,
    ),
    draw=draw,
    example=Example(
        ("fence_end=1.0120", "free_end=1.0300", "length=15"),
        ((FEATURE, 0.0003),),
        "worked by hand: 0.018 / (4 × 15)",
    ),
    sources=(
        "common practice; the sum is geometry: each of four turned cuts adds the same angle",
        "scatter of 6e-5 rad between runs to start with: common practice, the middle of 0.0005 to 0.001 in per foot",
    ),
    ends=("fence_end", "free_end"),
    apart=(
        "Look at the method. Did the edge cut last lie against the fence at each cut? Was the first trim made? "
        "Were the edges numbered, and was the strip read fence end first?"
    ),
    between_runs=IntermediatePrecision("seating of the cuts", EstimatedSd(6e-5, 4), "common practice"),
)
