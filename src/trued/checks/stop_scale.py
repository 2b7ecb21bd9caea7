"""Scale of the length stop: parts cut at known readings and measured, a line through them: true = reading + error."""

from __future__ import annotations

from trued.drawing.shapes import Arrow, Drawing, Label, Line, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.measure.fitting.line import fit_line
from trued.procedure import (
    TURN_FACTS,
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
from trued.procedure.declaration import Reading
from trued.procedure.gross_errors import burned, fraction_display, is_slip, slipped
from trued.procedure.quantities import inches, place, plain, size, station_mm
from trued.procedure.shared.angle_limits import FACE_FACT, METAL_FACTS, metal_at_an_angle, metal_in_path, zero_at_angles
from trued.procedure.shared.cursor import CURSOR_FACT, KEEPER_FACT
from trued.procedure.shared.stop import STOP_OFFSET, cursor_move, cuts_of, mis_cut, presumed, scale_of
from trued.procedure.sketch.pieces import Shape, measured
from trued.standing.stop_history import LABEL, OFFSET, SLOPE
from trued.standing.stop_model import Cuts

SLOPE_TOLERANCE = ToleranceLimits.within(3e-4)  # common practice: 0.0003 in an inch
BURNED = 2.0  # mm: a scale that is off and stretched is within this, common practice


def points(taken: RunInput) -> list[tuple[float, float]]:
    """(reading of the scale, measured - reading) of each part, mm."""
    return [(at, r.value - at) for r in taken.of("measured") for at in (station_mm(r.station, taken.unit),)]


def parts(taken: RunInput) -> tuple[Cuts, ...]:
    """The parts of each setting: what stands at one reading of the scale was cut without touching the stop."""
    at = (taken.of("measured", station) for station in taken.stations("measured"))
    return tuple(cuts_of(station_mm(copies[0].station, taken.unit), copies) for copies in at)


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Offset, and from two different lengths on the slope, as a line through these settings alone gives them.

    Copies of one setting are one point: its error is in all of them.
    """
    settings, tolerance = parts(taken), taken.tolerance(OFFSET)
    if len(settings) == 1:
        return (FeatureResult(OFFSET, "mm", scale_of(taken, settings)[0], tolerance),)
    xs, ys = [cuts.reading_mm for cuts in settings], [cuts.mean_mm for cuts in settings]
    line, start = fit_line(xs, ys), presumed(taken)
    copies = sum(len(cuts.off_mm) for cuts in settings) / len(settings)
    known = EstimatedSd(start.one_setting_mm(copies), start.setting.dof).learn([line.s] * line.dof)
    offset, slope = line.numbers("part", LABEL, known.s, known.dof)
    common = UncertainValue(0.0, {settings[0].limit: 1.0})  # the instrument's, one for all: it cancels in the slope
    return (
        FeatureResult(OFFSET, "mm", offset + common, tolerance),
        FeatureResult(SLOPE, "mm/mm", slope, taken.tolerance(SLOPE)),
    )


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """The offset goes into the cursor, the slope into a table."""
    at = points(taken)[-1][0]
    cursor = cursor_move(taken, founds[0].value, at, parts(taken), founds[0].limits)
    made = [] if cursor is None else [cursor]
    if len(founds) > 1:
        made.append(_slope_move(taken, founds[0].value.value, founds[1].value.value))
    return tuple(made)


def _slope_move(taken: RunInput, offset: float, slope: float) -> Move:
    rows = sorted({x for x, _ in points(taken)})
    table = ", ".join(f"{plain(x, taken)}: set {plain((x - offset) / (1.0 + slope), taken)}" for x in rows)
    text = (
        f"Set the stop by this table: {table}. The scale is {'short' if slope > 0 else 'long'}: the error grows with "
        "the length. No cursor position fixes that. Lay the scale again without pulling it, or change it."
    )
    return Move(SLOPE, text, "scale", "shorter" if slope > 0 else "longer", None)


def _each(taken: RunInput) -> list[tuple[Reading, float]]:
    return [(r, station_mm(r.station, taken.unit)) for r in taken.of("measured")]


def no_size(taken: RunInput) -> Flag | None:
    """A part or a setting of nought."""
    zero = [place(r) for r, at in _each(taken) if at <= 0.0 or r.value <= 0.0]
    text = f"{', '.join(zero)}: neither the setting nor the part can be 0."
    return Flag("no-size", Severity.REFUSE, text) if zero else None


def slipped_unit(taken: RunInput) -> Flag | None:
    """A part typed in another unit than its setting."""
    for r, at in _each(taken):
        if is_slip(r.value, at):
            return slipped(taken, r, r.value / 25.4, "against its setting")
        if is_slip(at, r.value):
            return slipped(taken, r, r.value * 25.4, "against its setting")
    return None


def burned_inch(taken: RunInput) -> Flag | None:
    """A length off by a whole inch, or by 10 or 100 mm: a rule read from a line instead of its end."""
    off = [(r, words) for r, at in _each(taken) if (words := burned(r.value - at, taken.unit, BURNED))]
    if not off:
        return None
    text = (
        f"{', '.join(place(r) for r, _ in off)}: off by {off[0][1]}. Was the rule or the stop read from that line "
        "instead of the end? Read again."
    )
    return Flag("burned-inch", Severity.DOUBT, text)


def written_offset(taken: RunInput) -> Flag | None:
    """The offset that is written on the fence left out, subtracted instead of added, or applied twice."""
    written, found = taken.number("offset"), evaluate(taken)[0].value
    if written is None or written <= 10.0 * found.u:
        return None
    cases = (
        ("offset-left-out", 1.0, "was left out"),
        ("offset-sign", 2.0, "was subtracted instead of added, or added instead of subtracted"),
        ("offset-twice", -1.0, "was applied twice"),
    )
    for code, share, what in cases:
        if abs(found.value - share * written) <= 3.0 * found.u:
            text = (
                f"Parts are {'long' if share > 0 else 'short'} by {size(share * written, taken.unit)}: it looks as if "
                f"the offset on the fence {what}. Set once more by hand: length = reading + "
                f"{size(written, taken.unit)}."
            )
            return Flag(code, Severity.DOUBT, text)
    return None


def one_is_mis_cut(taken: RunInput) -> Flag | None:
    """A part that fits neither its mates nor any likely scale."""
    if any(at <= 0.0 or r.value <= 0.0 for r, at in _each(taken)):
        return None
    names = [[place(r) for r in taken.of("measured", station)] for station in taken.stations("measured")]
    return mis_cut(taken, parts(taken), names)


def metal_when_square(taken: RunInput) -> Flag | None:
    """Metal that is in the blade's way with the fence at its zero, or at the angle of this run."""
    angle = taken.number("angle") or 0.0
    return metal_in_path(taken, angle if taken.word("swing") == "closed" else -angle)


def few_lengths(taken: RunInput) -> Flag | None:
    """What one or two lengths cannot show."""
    lengths = len({at for _, at in _each(taken)})
    if lengths > 2:
        return None
    one = "One length shows the error at that length, not whether it grows with the length"
    two = "Two lengths give a line that must go through both, so they do not show how much a single part scatters"
    text = f"{one if lengths == 1 else two}. Three lengths or more, short to long, show it."
    return Flag("one-length" if lengths == 1 else "two-lengths", Severity.NOTE, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The fence with its scale and stop: what is read where; afterwards where the cursor goes."""
    keeper = taken.word("keeper") or "left"
    k = -1 if keeper == "left" else 1
    shapes: list[Shape] = [
        rectangle(min(0, k * 14), 0, 14, 1, "fence"),
        Line((0, -6), (0, 3), "blade"),
        Label((0, 3.5), "blade"),
        *(Line((k * x, 0.5), (k * x, 1), "scale") for x in range(1, 14)),
        rectangle(min(k * 12, k * 13), -2, 1, 3, "stop"),
        Label((k * 12.5, -3.2), "stop"),
    ]
    seen = f"The fence with its scale, seen from above, the keeper {keeper} of the blade; the stop sets the length."
    if not founds:
        shapes += [rectangle(min(0, k * 12), -1.6, 12, 1.5, "board")]
        shapes += measured((0, -2.4), (k * 12, -2.4), "measured", (k * 6, -3.8))
        shapes += [Arrow((k * 12, 3.5), (k * 12, 1.2), "read"), Label((k * 11, 4.2), "reading of the scale")]
        told = f"{seen} Set the stop to a reading, cut a part, measure its length; the same at two further readings."
        return Drawing("Stop scale: what to read", told, tuple(shapes))
    offset = founds[0].value.value
    long = offset > 0.0
    larger = "larger" if long else "smaller"
    before = k * (10.0 if long else 14.0)
    shapes += [
        rectangle(min(0, k * 12), -1.6, 12, 1.5, "board"),
        Line((before, 1), (before, 2.4), "cursor", dashed=True),
        Line((k * 12, 1), (k * 12, 2.4), "cursor"),
        Arrow((before, 3), (k * 12, 3), "move"),
        Label((k * 10, 4.2), f"cursor to {larger} numbers", "move"),
    ]
    mend = f"To mend it leave the stop where it is: the cursor must come to read {larger} numbers by that much."
    told = (
        f"{seen} Parts come out {'long' if long else 'short'} by {size(offset, taken.unit)}, drawn much larger. {mend}"
    )
    return Drawing("Stop scale: what was found", told, tuple(shapes), mend)


CHECK = Check(
    id="stop-scale",
    version=2,
    title="Stop scale: do parts match the scale?",
    purpose="Finds by how much parts are longer or shorter than the scale of the stop says, and whether that grows.",
    minutes=8.0,
    features=(
        STOP_OFFSET,
        Feature(
            SLOPE,
            "mm/mm",
            "stop scale slope",
            limits=SLOPE_TOLERANCE,
            sides=("long parts too long", "long parts too short"),
            angles="swing",
            turn=30,
        ),
    ),
    ground=("fence-angle", "stop-repeat", "kerf"),
    at_hand=(
        "scrap with square ends, long enough for the longest length",
        "a caliper, or a stick of known length and a caliper for the difference; beyond its reach a good rule",
    ),
    cautions=(
        "The stop stands on the keeper's side only; the offcut must be free to move away.",
        "Hands at least 6 in from the kerf, shorter parts clamped; wait until the blade stands before reaching.",
    ),
    made_on="sled",
    asks=(
        ReadingSpec(
            "measured",
            "length of a part cut at that reading of the scale; a reading named again is another part of that setting",
            stations=1,
            advise=1,
            one_thing=False,
        ),
    ),
    facts=(
        *TURN_FACTS,
        KEEPER_FACT,
        CURSOR_FACT,
        SetupFact("offset", "the offset written on the fence", kind=Kind.LENGTH, needed_for=Need.WORDS),
        FACE_FACT,
        *METAL_FACTS,
    ),
    steps=(
        Step("Blow the dust off fence and stop. Square one end of the scrap; that end goes to the stop."),
        Step(
            "Set the stop to a short length as you always read it, lock it, cut, and measure the part. Do the same in "
            "the middle and near the longest length that you use, a fresh part each time.",
            asks=("measured",),
            caution="The short part is near the blade: hold it down with a clamp or a second piece, not with fingers.",
        ),
        Step("Type each part beside the reading it was cut at. Change nothing between them but the stop."),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        metal_when_square,
        slipped_unit,
        burned_inch,
        fraction_display,
        written_offset,
        one_is_mis_cut,
        few_lengths,
        metal_at_an_angle,
        zero_at_angles,
    ),
    draw=draw,
    parts=parts,
    example=Example(
        ("measured@6=6.004", "measured@12=12.006", "measured@24=24.010"),
        ((OFFSET, inches(0.002)), (SLOPE, 0.002 / 6)),
        "worked by hand: a line through 0.004, 0.006 and 0.010",
        (("angle", "0"),),
    ),
    sources=(
        "common practice; straight line by least squares",
        "tolerances 0.005 in and 0.0003 in an inch, 0.005 in for setting, 0.0034 in for one part: common practice",
    ),
)
