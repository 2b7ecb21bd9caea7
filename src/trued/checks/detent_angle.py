"""A ring of pieces mitred at one detent: what the last joint leaves open is the error of one cut, many times over."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, Point, rectangle
from trued.equipment.fence_swing import SAME_DETENT
from trued.equipment.sides import feeler_words, screw_moves_from_work, settable_mm
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue, linear
from trued.procedure import (
    NOT_0,
    TURN_FACTS,
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
from trued.procedure.gross_errors import fraction_display, gap_without_place
from trued.procedure.quantities import DEG, MRAD, inches, size, slope
from trued.procedure.reading_rules import no_size, slipped_unit
from trued.procedure.shared.angle_limits import METAL_FACTS, metal_in_path
from trued.procedure.shared.feeler import closed
from trued.procedure.shared.fence_turn import (
    FENCE_FACT,
    KEEPER_FACT,
    PIVOT_FACT,
    SCREW_FACT,
    drawn_layout,
    fence_order,
    fence_way,
    side_of,
)
from trued.procedure.sketch.in_tolerances import band_label, in_tolerances, wedge
from trued.procedure.sketch.pieces import Shape, turned

FEATURE = "detent-angle"
TOLERANCE = ToleranceLimits.within(math.radians(0.02))  # common practice
UNEQUAL = inches(0.003)  # common practice
FELT = 1.0 / 3.0  # of the gap that the tolerance allows: pieces so unlike spoil the finding
MOST_ANGLE = math.radians(0.5)  # common practice: more than this is another notch
GAP = 0.06  # of the drawing for one tolerance
GAPS_DIFFER = inches(0.004)  # common practice
SAME = math.radians(SAME_DETENT)


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Error of one cut: the angle of the open joint over twice the number of pieces; positive = corner tight."""
    over = over_nominal(taken)
    tight = over if taken.choice("swung") == "closed" else -over
    return (FeatureResult(FEATURE, "rad", tight + taken.between_runs(), taken.tolerance(FEATURE)),)


def pieces(taken: RunInput) -> int:
    """How many pieces the ring has: each was measured once."""
    return len(taken.all("piece"))


def joint_length(taken: RunInput) -> UncertainValue:
    """Length of a mitre: the width of the pieces over the cosine of its angle from square; not the width itself."""
    return taken.mean("width") / math.cos(math.pi / pieces(taken))


def over_nominal(taken: RunInput) -> UncertainValue:
    """How many radians each cut is farther from square than the detent says; below 0 when it falls short."""
    where = taken.choice("where")
    gap = closed("ring") if where == "none" else taken.mean("gap")
    ratio = gap / joint_length(taken)
    wedge = linear(math.atan(ratio.value), (1.0 / (1.0 + ratio.value**2), ratio))
    return (1.0 if where == "inside" else -1.0) / (2.0 * pieces(taken)) * wedge


def gap_of(error: float, n: int, joint: float) -> float:
    """What a ring of n pieces leaves open, square to the joint, when each of its 2n cuts is off by `error` rad."""
    return joint * math.tan(2.0 * n * error)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Shift the detent by the error of one cut, held to a feeler where the radius is known."""
    angle = founds[0].value.value
    opening = angle > 0.0
    over = (angle > 0.0) == (taken.choice("swung") == "closed")
    radius = taken.number("radius")
    amount = None if radius is None else abs(angle) * radius
    settable = None if amount is None else size(settable_mm(amount, taken.unit), taken.unit)
    by = slope(angle, taken.unit) if settable is None else f"{settable} at the screw"
    how = _how(taken, opening, amount)
    text = (
        f"{fence_order(taken, opening, by)} Each cut is {'over' if over else 'short of'} its angle. {how} All detents "
        "off by the same? Leave this one: run the five-cut first."
    )
    return (Move(FEATURE, text, "detent", "open" if opening else "close", amount),)


def _how(taken: RunInput, opening: bool, amount: float | None) -> str:
    if amount is None:
        return "Enter the distance from pivot to screw (--radius) to get feeler sizes."
    by = feeler_words(amount, taken.unit)
    if not by.bring:
        return by.feelers
    away = screw_moves_from_work(taken.word("pivot"), taken.word("screw"), opening=opening)
    side = "on the side the fence moves to" if away is None else "behind the fence" if away else "on the work side"
    return (
        f"At the screw, clamp a block {side}. Put {by.feelers} between them. Loosen the detent's plate or pin. "
        f"{by.bring} Keep the pin seated."
    )


def metal_in_the_way(taken: RunInput) -> Flag | None:
    """Metal of the fence that is in the blade's way at this detent; swung open its blade end is in the work."""
    angle = math.pi / pieces(taken)
    return metal_in_path(taken, angle if taken.choice("swung") == "closed" else -angle)


def nowhere(taken: RunInput) -> Flag | None:
    """A gap that is nowhere, or a place without a gap."""
    return gap_without_place(taken, "is it at the inside or the outside of the joint?")


def mates(values: Sequence[float]) -> list[tuple[float, float]]:
    """Pieces that must be alike for the ring to close: opposite ones where their number is even, else all."""
    n = len(values)
    if n % 2 == 0:
        return [(values[i], values[i + n // 2]) for i in range(n // 2)]
    return [(min(values), max(values))]


def unlike(taken: RunInput) -> float:
    """Most that two such pieces differ, mm."""
    return max(abs(a - b) for a, b in mates(taken.all("piece")))


def opens_all(taken: RunInput) -> float:
    """What unlike pieces open at every corner when the outer corners are kept flush, mm."""
    mean = math.fsum(taken.all("piece")) / pieces(taken)
    return joint_length(taken).value * unlike(taken) / (2.0 * mean)


def unequal(taken: RunInput) -> Flag | None:
    """Pieces that must be alike differ: the joints all open a little, whatever the detent does."""
    if no_size(taken) or slipped_unit(taken):
        return None
    differ, opened = unlike(taken), opens_all(taken)
    allowed = gap_of(math.radians(0.02), pieces(taken), joint_length(taken).value)
    which = "opposite pieces" if pieces(taken) % 2 == 0 else "pieces"
    text = (
        f"The {which} differ by {size(differ, taken.unit)}. That opens about {size(opened, taken.unit)} at each "
        "corner alike, not at one"
    )
    if opened > FELT * allowed:
        more = "; as much as the error that is looked for. Cut them to one stop, and assemble again."
        return Flag("unequal-pieces", Severity.DOUBT, text + more)
    reading = taken.of("piece")[0].instrument
    noise = 4.0 * math.sqrt(2.0) * (reading.repeat.s if reading else 0.0)
    return Flag("unequal-pieces", Severity.NOTE, text + ".") if differ > UNEQUAL + noise else None


def other_detent(taken: RunInput) -> Flag | None:
    """The ring closes at another angle than the one told: a piece was left out, or the notch was another."""
    told, ring = taken.number("angle"), math.pi / pieces(taken)
    if told is None or abs(told - ring) <= SAME:
        return None
    text = (
        f"{pieces(taken)} pieces close at {math.degrees(ring):g}°, and --angle says {math.degrees(told):g}°. "
        "Give every piece of the ring, or the detent angle they were cut at."
    )
    return Flag("other-detent", Severity.REFUSE, text)


def two_detents(taken: RunInput) -> Flag | None:
    """One detent for one end and its mirror for the other: the ring shows only what both add up to."""
    text = (
        "One end of each piece was cut at this detent and the other end at its mirror: the ring shows only the sum "
        "of the two. Cut both ends at one detent, the piece turned over between them, or test the two apart."
    )
    return Flag("two-detents", Severity.DOUBT, text) if taken.choice("ends") == "two" else None


def another_notch(taken: RunInput) -> Flag | None:
    """More than a detent is ever out."""
    if no_size(taken) or abs(over_nominal(taken).value) <= MOST_ANGLE:
        return None
    text = (
        f"Each cut would be {math.degrees(abs(over_nominal(taken).value)):.2f}° out. Was the pin seated, is this the "
        f"notch for {pieces(taken)} pieces ({180 / pieces(taken):g}°), and is each joint closed over its whole "
        "length?"
    )
    return Flag("another-notch", Severity.DOUBT, text)


def gaps_disagree(taken: RunInput) -> Flag | None:
    """Readings of one gap that do not agree."""
    spread = taken.worst_repeat("gap")
    text = (
        f"Readings of the gap differ by {size(spread, taken.unit)}. Close the other joints anew, slice off the fuzz, "
        "and read square to the joint."
    )
    return Flag("gaps-disagree", Severity.DOUBT, text) if spread > GAPS_DIFFER else None


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The ring with its open joint; afterwards the gap as found and the way of the fence at this detent."""
    layout = drawn_layout(taken)
    k, f = layout.keeper_x, layout.fence_y
    n = pieces(taken) or 4
    if not founds:
        shapes = [*_ring(n, 0.0), Label((0, 0), f"{n} pieces"), Label((0, -9.5), "the last joint")]
        told = (
            f"A ring of {n} pieces, mitred at both ends at one detent, laid flat; all joints but the last are closed "
            "face to face. Read what the last joint leaves open, square to the joint, and whether at its inside or "
            "its outside."
        )
        return Drawing("Detent angle: the ring", told, tuple(shapes))
    angle = founds[0].value.value
    opening = angle > 0.0
    over = opening == (taken.choice("swung") == "closed")
    drawn = in_tolerances(founds[0])
    base = -k * f * 0.5 if taken.choice("swung") == "closed" else k * f * 0.5
    lean = base - k * f * math.atan2(drawn.far / 2.0, 9.0)  # the far end of a tight corner stands in the work
    bar = rectangle(min(0, k * 9), f * 0.0, 9, f * 0.9, "fence")
    moved = [(x, y - 17.0) for x, y in turned(bar.points, (0.0, 0.0), lean)]
    tip: Point = turned(((k * 8.0, 0.0),), (0.0, 0.0), lean)[0]
    wanted, across = turned(((k * 9.0, 0.0), (0.0, -float(f))), (0.0, 0.0), base)
    way = f if opening else -f
    shapes = [*_ring(n, GAP * abs(drawn.at) * (1.0 if over else -1.0))]
    shapes += [Label((0, 0), f"gap {'inside' if over else 'outside'}", "found")]
    shapes += [Line((0, -22), (0, -12), "blade"), Path(tuple(moved), "fence")]
    shapes += [*wedge((0.0, -17.0), (wanted[0], wanted[1] - 17.0), across, (drawn.band[0] / 2.0, drawn.band[1] / 2.0))]
    shapes += [Line((0.0, -17.0), (wanted[0], wanted[1] - 17.0), "wanted", dashed=True), band_label((k * 6.0, -22.5))]
    shapes += [Arrow((tip[0], tip[1] - 17.0 - way * 0.4), (tip[0], tip[1] - 17.0 + way * 3.0), "move")]
    shapes += [Label((-k * 5.0, -17.0), "open the fence" if opening else "close the fence", "move")]
    mend = f"Move {fence_way(taken, opening)}: {'back toward' if over else 'farther from'} its zero."
    told = (
        f"The ring with its last joint open at the {'inside' if over else 'outside'}, drawn much larger: each cut is "
        f"{'over' if over else 'short of'} its angle by {slope(angle, taken.unit)}. Below the fence at this detent, "
        f"seen from above, on the {side_of(layout)}, the keeper {layout.keeper}. {mend}"
    )
    return Drawing("Detent angle: what was found", told, tuple(shapes), mend)


def _ring(n: int, wedge: float) -> list[Shape]:
    """n mitred pieces round the middle, the joint at the bottom open by `wedge`: above 0 at the inside."""
    half = math.pi / n
    outer, inner = 8.0 / math.cos(half), 5.6 / math.cos(half)
    shapes: list[Shape] = []
    for i in range(n):
        ends = (-math.pi / 2 + 2 * half * i, -math.pi / 2 + 2 * half * (i + 1))
        corners = [(r * math.cos(a), r * math.sin(a)) for r, a in ((outer, ends[0]), (outer, ends[1]))]
        corners += [(r * math.cos(a), r * math.sin(a)) for r, a in ((inner, ends[1]), (inner, ends[0]))]
        if i == 0:
            corners = _opened(corners, (0, 3), wedge)
        if i == n - 1:
            corners = _opened(corners, (1, 2), -wedge)
        shapes.append(Path(tuple(corners), "board"))
    return shapes


def _opened(corners: list[Point], face: tuple[int, int], wedge: float) -> list[Point]:
    """One end face drawn back at its inside (wedge above or below 0 by the piece's side), or at its outside."""
    by = abs(wedge) * 4.0 * (1.0 if face == (0, 3) else -1.0)
    inside = (wedge > 0.0) == (face == (0, 3))
    at = face[1] if inside else face[0]
    x, y = corners[at]
    return [(x + by, y) if i == at and wedge else p for i, p in enumerate(corners)]


CHECK = Check(
    id="detent-angle",
    version=1,
    title="Detent angle: do the miters close?",
    purpose="Magnifies the error of a detent by twice the number of pieces: eight times for a frame of four.",
    minutes=25.0,
    features=(
        Feature(
            FEATURE,
            "rad",
            "detent angle",
            limits=TOLERANCE,
            directions=("open", "close"),
            orders=("open the corner at this detent", "close the corner at this detent"),
            sides=("tight", "open"),
            actuator=Actuator(0.01 * DEG, 0.01 * DEG),
            drift=per_quarter(math.radians(0.005)),
            doubts=(
                AddedUncertainty("facing-renewed", 0.25 * MRAD),
                AddedUncertainty("bar-adjusted", 0.4 * MRAD),
                AddedUncertainty("screw-touched", 1 * MRAD),
                AddedUncertainty("detent-loosened", 1 * MRAD),
            ),
            angles="swing",
            turn=440,
        ),
    ),
    ground=("fence-angle", "fence-straight", "fence-upright", "detent-repeat", "stop-repeat"),
    at_hand=(
        "flat, even stock for the ring: 4 pieces for 45°, 6 for 30°, 8 for 22.5°, 6 to 8 in long, 1 1/2 to 3 in wide",
        "a stop, so that all pieces come out alike",
        "feelers, a caliper",
        "a flat board to lay the ring on, and a band or helping hands",
    ),
    cautions=(
        "The saw's manual goes first: is a sled allowed, and the guard off for it? Refit guard and knife afterwards.",
        "Short mitred pieces: clamp them or hold them down with a second piece, hands at least 6 in from the kerf.",
        "The offcut is a loose triangle that flies: zero-clearance facing, let it lie until the blade stands.",
        "Turn the blade by hand through the whole travel at this angle before power: no metal in its way.",
    ),
    made_on="sled",
    asks=(
        ReadingSpec(
            "swung",
            "whether the fence stands open from its zero at this detent (its far end away from the work) or closed",
            Kind.CHOICE,
            choices=("open", "closed"),
            need=(1, 1),
        ),
        ReadingSpec(
            "ends",
            "whether both ends of a piece were cut at this one detent, or one end at its mirror on the other side",
            Kind.CHOICE,
            choices=("one", "two"),
            optional=True,
        ),
        ReadingSpec(
            "piece",
            "length of one piece along its outer edge, in the order round the ring, each piece once",
            need=(3, 24),
            advise=4,
            expect=(40.0, 700.0),
            one_thing=False,
            positive=NOT_0,
            alike="piece",
        ),
        ReadingSpec("width", "width of the pieces, square across", expect=(12.0, 200.0), positive=NOT_0),
        ReadingSpec(
            "where",
            "where the last joint is open: at its inside, at its outside, or none",
            Kind.CHOICE,
            choices=("inside", "outside", "none"),
            need=(1, 1),
        ),
        ReadingSpec(
            "gap",
            "what the last joint leaves open at that end, square to the joint; 0 when no feeler goes in",
            instrument="feelers",
            advise=2,
            expect=(0.0, 20.0),
        ),
    ),
    facts=(
        *TURN_FACTS,
        FENCE_FACT,
        KEEPER_FACT,
        PIVOT_FACT,
        SCREW_FACT,
        SetupFact("radius", "the distance from the pivot to the feeler", kind=Kind.LENGTH, needed_for=Need.MOVE),
        *METAL_FACTS,
    ),
    steps=(
        Step(
            "Come to the detent from the side that repeats best, lock as in use. Note whether the fence stands open "
            "or closed from its zero.",
            asks=("swung",),
        ),
        Step(
            "Mitre one end of every piece, then set the stop and cut the other ends to one length: each piece turned "
            "over end for end, the same edge to the fence, so that both its ends are cut at this same detent. Mark "
            "which face was up and which detent each end had.",
            asks=("ends",),
            caution="Clamp short pieces; the triangle that falls off lies still until the blade stands.",
        ),
        Step(
            "Slice off the fuzz. Measure each piece along its outer edge, in the order round the ring, and the width.",
            asks=("piece", "width"),
        ),
        Step(
            "Lay the ring on the flat board, all marks up, and close all joints but the last, face to face over "
            "their whole length; let them slide along their faces until the last joint touches at one end.",
        ),
        Step(
            "Is the last joint open at its inside or its outside? Read the gap there, square to the joint.",
            asks=("where", "gap"),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        other_detent,
        metal_in_the_way,
        nowhere,
        slipped_unit,
        two_detents,
        unequal,
        another_notch,
        gaps_disagree,
        fraction_display,
    ),
    draw=draw,
    example=Example(
        ("swung=closed", *("piece=7.5",) * 4, "width=2", "where=inside", "gap=0.0197"),
        ((FEATURE, math.atan(0.0197 * math.cos(math.pi / 4) / 2) / 8),),
        "worked by hand: the joint is 2 / cos 45° = 2.828 long; 0.0197 over it is 0.4°, an eighth of it 0.05°",
        (("angle", "45"),),
    ),
    sources=(
        "geometry: 2n cuts round a ring leave 2n errors in the last joint; its length is width / cos (180° / n)",
        "common practice: 0.02° a cut; pieces alike within 0.003 in",
        "scatter of 5e-5 rad between runs to start with, 8 cuts at a detent that scatters by 0.0074°: common practice",
    ),
    between_runs=IntermediatePrecision("seating of the cuts and joints", EstimatedSd(5e-5, 4), "common practice"),
)
