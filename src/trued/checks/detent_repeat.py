"""A detent engaged again and again from both sides: how well it repeats, and whether it matters from where one "
"comes."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.distribution.student import t_quantile
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.fitting.line import fit_line
from trued.measure.instrument import DEFAULTS, Instrument
from trued.measure.sd_interval import sd_uncertainty
from trued.procedure import (
    TURN_FACTS,
    AddedUncertainty,
    Check,
    Example,
    Feature,
    FeatureResult,
    Flag,
    Kind,
    Move,
    ReadingSpec,
    RunInput,
    Severity,
    Step,
)
from trued.procedure.quantities import MRAD, inches, size
from trued.procedure.shared.fence_turn import FENCE_FACT, KEEPER_FACT, drawn_layout, side_of
from trued.procedure.sketch.pieces import Shape, turned

REPEAT, BACKLASH = "detent-repeat", "detent-backlash"
TOLERANCE = math.radians(0.02)  # range of ten engagements, and between the two sides: common practice
RANGE_OF_TEN = 3.08  # expected range of ten readings in standard deviations, d2 of the control chart tables
WAYS = ("opening", "closing")
WAY_WORDS = {"opening": "opening the fence", "closing": "closing the fence"}
FEW = 5  # engagements from each side, common practice
RARE = 0.0005  # a clean series is taken for a drift, or for one engagement apart, once in 1,000: two sides of this
CUTS, CORNER = 8, inches(2.0)  # a frame of four pieces, 2 in wide


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Range that ten engagements from one side would show, and how far the means of the two sides lie apart."""
    reach, known = taken.mean("reach"), pooled(taken)
    repeat = EstimatedSd(RANGE_OF_TEN * known.s / reach.value, known.dof)
    groups = [taken.all(way) for way in WAYS]
    own = known.s * math.sqrt(sum(1.0 / len(values) for values in groups))
    apart = _mean(groups[0]) - _mean(groups[1])
    between = (
        UncertainValue.of(apart, ErrorSource("detent:sides", "scatter of the engagements", own, known.dof)) / reach
    )
    return (
        FeatureResult(
            REPEAT,
            "rad",
            sd_uncertainty("detent:scatter", "few engagements", repeat),
            taken.tolerance(REPEAT),
            spread=repeat,
        ),
        FeatureResult(BACKLASH, "rad", between, taken.tolerance(BACKLASH)),
    )


def pooled(taken: RunInput) -> EstimatedSd:
    """Scatter about the mean of each side, in mm at the indicator, never finer than it shows."""
    left = residuals(taken)
    dof = len(left) - len(WAYS)
    floor = _instrument(taken).resolution / math.sqrt(12.0)
    return EstimatedSd(max(math.sqrt(math.fsum(r * r for r in left) / dof), floor), dof)


def residuals(taken: RunInput) -> list[float]:
    """Each reading less the mean of its side, in the order of the engagements: opening and closing in turn."""
    groups = [taken.all(way) for way in WAYS]
    means = [_mean(values) for values in groups]
    return [value - mean for pair in zip(*groups, strict=True) for value, mean in zip(pair, means, strict=True)]


def _mean(values: Sequence[float]) -> float:
    return math.fsum(values) / len(values)


def _instrument(taken: RunInput) -> Instrument:
    return taken.of(WAYS[0])[0].instrument or DEFAULTS["indicator"]


def left_at_corner(scatter_rad: float, width: float) -> float:
    """What eight cuts that each scatter so leave open at the last corner of a frame of that width, standard "
    "deviation."""
    return math.sqrt(CUTS) * scatter_rad * width / math.cos(math.pi / 4.0)


def _corner(taken: RunInput, found: FeatureResult) -> str:
    open_mm = left_at_corner(found.value.value / RANGE_OF_TEN, CORNER)
    wide = "2 in" if taken.unit == "in" else "51 mm"
    return (
        f"Eight cuts that scatter so leave about {size(open_mm, taken.unit)} open at the corner of a frame {wide} wide."
    )


def steadier(taken: RunInput) -> str:
    """The side from which the engagements scatter less."""
    return min(WAYS, key=lambda way: math.fsum((v - _mean(taken.all(way))) ** 2 for v in taken.all(way)))


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """A detent that scatters is mended before its angle is set; one with two seats is always come to from one side."""
    repeat, backlash = founds
    mend = (
        "Fix the detent before you set its angle: it does not repeat. "
        f"Ten engagements range over {math.degrees(repeat.value.value):.3f}°. Brush out the notch and the pin. Look "
        f"for wear, a loose pivot, a lock that drags the fence. Then do this check again. {_corner(taken, repeat)}"
    )
    way = steadier(taken)
    side = (
        f"Always come to the detent from the same side, {WAY_WORDS[way]}. From its two sides it rests "
        f"{math.degrees(abs(backlash.value.value)):.3f}° apart. From there it varies less. Write it on the fixture."
    )
    return (
        Move(REPEAT, mend, "detent", "in", None),
        Move(BACKLASH, side, "detent", "open" if way == "opening" else "close", None),
    )


def no_size(taken: RunInput) -> Flag | None:
    """An indicator at the pivot shows nothing."""
    text = "The distance from the pivot to the indicator cannot be 0: measure it and type it."
    return Flag("no-size", Severity.REFUSE, text) if taken.mean("reach").value <= 0.0 else None


def drifting(taken: RunInput) -> Flag | None:
    """The readings run one way in their order, by the t test of the slope at 1 in 1,000."""
    left = residuals(taken)
    if len(left) < 6:
        return None
    line = fit_line(range(len(left)), left)
    s = max(line.s, _instrument(taken).resolution / math.sqrt(12.0))
    if abs(line.slope) * math.sqrt(line.sxx) <= t_quantile(1.0 - RARE, line.dof) * s:
        return None
    text = (
        f"The readings run one way, by {size(line.slope, taken.unit)} an engagement: the indicator's stand creeps, "
        "or something loosens. Clamp it anew and engage again."
    )
    return Flag("drifting", Severity.DOUBT, text)


def one_apart(taken: RunInput) -> Flag | None:
    """One engagement stands apart from all the others (Grubbs' test, 1 in 1,000): a chip in the notch."""
    left, floor = residuals(taken), _instrument(taken).resolution / math.sqrt(12.0)
    n = len(left)
    if n < 8 or drifting(taken):
        return None
    worst = max(range(n), key=lambda i: abs(left[i]))
    s = max(math.sqrt(math.fsum(r * r for r in left) / (n - 2)), floor)
    t = t_quantile(1.0 - RARE / n, n - 3)
    if abs(left[worst]) <= s * (n - 2) / math.sqrt(n) * math.sqrt(t * t / (n - 3 + t * t)):
        return None
    way = WAYS[worst % 2]
    text = (
        f"Engagement {worst // 2 + 1} while {way} stands {size(left[worst], taken.unit)} apart from the others. A "
        "chip in the notch, not seated, or misread? Brush it out; when it happens again, the detent cannot be "
        "trusted."
    )
    return Flag("one-apart", Severity.DOUBT, text)


def nothing_moves(taken: RunInput) -> Flag | None:
    """All readings alike: does the indicator touch at all?"""
    alike = len({value for way in WAYS for value in taken.all(way)}) == 1
    text = (
        "Every engagement reads the same to the last digit. Does the indicator touch, and is it finer than the detent?"
    )
    return Flag("nothing-moves", Severity.NOTE, text) if alike else None


def two_seats(taken: RunInput) -> Flag | None:
    """The two sides differ by more than they scatter: say from which side to come."""
    if taken.mean("reach").value <= 0.0:
        return None
    found = evaluate(taken)[1].value
    if abs(found.value) <= t_quantile(0.995, found.dof) * found.u:
        return None
    way = WAY_WORDS[steadier(taken)]
    text = f"It matters from which side you come: the two differ by more than they scatter. Always come {way}."
    return Flag("two-seats", Severity.NOTE, text)


def few(taken: RunInput) -> Flag | None:
    """Few engagements show little of a scatter."""
    n = len(taken.all(WAYS[0]))
    text = f"{n} engagements from each side leave the scatter uncertain; {FEW} or more show it."
    return Flag("few-engagements", Severity.NOTE, text) if n < FEW else None


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The fence at its detent with the indicator far out; afterwards the engagements of either side as marks."""
    layout = drawn_layout(taken)
    k, f = layout.keeper_x, layout.fence_y
    seen = f"The fence on the {side_of(layout)}, the keeper {layout.keeper} of the blade, seen from above."
    bar = rectangle(min(0, k * 12), f * 4, 12, f * 1.0, "fence")
    at = turned(((k * 11, f * 4),), (0.0, f * 4.5), -k * f * 0.35)[0]
    shapes: list[Shape] = [
        rectangle(min(-k * 4, k * 14), -7, 18, 14, "sled"),
        Line((0, -7), (0, 7), "blade"),
        Path(turned(bar.points, (0.0, f * 4.5), -k * f * 0.35), "fence"),
        Label((k * 0.5, f * 6.2), "pivot"),
        Arrow((at[0], at[1] - f * 3.4), at, "measure"),
        Label((at[0], at[1] - f * 4.2), "indicator"),
    ]
    if not founds:
        shapes += [
            Arrow((k * 13, f * 5), (k * 13, f * 1.8), "move"),
            Arrow((k * 13, -f * 4), (k * 13, -f * 0.8), "move"),
        ]
        shapes += [Label((k * 13, f * 6.2), "closing", "move"), Label((k * 13, -f * 5.4), "opening", "move")]
        told = (
            f"{seen} An indicator stands against the fence far from the pivot. Engage and lock the detent five times "
            "while opening the fence and five times while closing it, in turn, and read each time."
        )
        return Drawing("Detent repeat: where to read", told, tuple(shapes))
    values = [v for way in WAYS for v in taken.all(way)]
    least, most = min(values), max(values)
    wide = (most - least) or 1.0
    shapes = [Line((-10, 0), (10, 0), "scale")]
    for n, way in enumerate(WAYS):
        y = 2.2 if n == 0 else -2.2
        marks = [-9.0 + 18.0 * (v - least) / wide for v in taken.all(way)]
        shapes += [Line((x, 0), (x, y), "read") for x in marks]
        shapes += [
            Arrow((_mean(marks), y * 2.0), (_mean(marks), y * 1.1), "found"),
            Label((_mean(marks), y * 2.5), way),
        ]
    shapes.append(Label((0, -7.5), f"come to it {steadier(taken)}", "move"))
    repeat, backlash = founds
    told = (
        f"{seen} The engagements as marks on a line, drawn much larger: above those while opening, below those while "
        f"closing. Ten from one side would range over {math.degrees(repeat.value.value):.3f}°; the means of the two "
        f"sides lie {math.degrees(abs(backlash.value.value)):.3f}° apart. They scatter less while {steadier(taken)}."
    )
    return Drawing("Detent repeat: what was found", told, tuple(shapes))


def _engaged(way: str) -> ReadingSpec:
    return ReadingSpec(
        way,
        f"indicator after the detent was engaged and locked while {way} the fence, each time named again",
        Kind.GAP,
        instrument="indicator",
        need=(2, 30),
        advise=FEW,
        row="engagement",
        expect=(-12.0, 12.0),
        one_thing=False,
    )


CHECK = Check(
    id="detent-repeat",
    version=1,
    title="Detent repeatability: same angle every time?",
    purpose="Tells a detent that scatters, or has two seats, from one that is only off; just the last is adjusted.",
    minutes=10.0,
    features=(
        Feature(
            REPEAT,
            "rad",
            "detent repeatability",
            limits=ToleranceLimits(None, TOLERANCE),
            doubts=(AddedUncertainty("detent-loosened", 0.3 * MRAD),),
            angles="swing",
            spread=True,
            turn=420,
        ),
        Feature(
            BACKLASH,
            "rad",
            "detent backlash",
            limits=ToleranceLimits.within(TOLERANCE),
            doubts=(AddedUncertainty("detent-loosened", 0.3 * MRAD),),
            angles="swing",
            turn=430,
        ),
    ),
    at_hand=("a dial indicator on a stand, or feelers against a clamped block", "a rule", "a brush"),
    cautions=(
        "Saw unplugged, battery out; the blade lowered below the platform.",
        "Keep fingers out of the notch while the pin is sprung.",
    ),
    asks=(
        ReadingSpec(
            "reach",
            "distance from the pivot to the place where the indicator touches the fence",
            instrument="rule",
            need=(1, 3),
            expect=(75.0, 1300.0),
        ),
        *(_engaged(way) for way in WAYS),
    ),
    facts=(*TURN_FACTS, FENCE_FACT, KEEPER_FACT),
    steps=(
        Step(
            "Brush out the notch. Stand the indicator against the fence as far from the pivot as it goes, square to "
            "the fence, its stand clamped. Measure from the pivot to its tip.",
            asks=("reach",),
        ),
        Step(
            "Swing the fence well away to the closed side and come back opening it; engage, lock as in use, read. "
            "Then swing it away to the open side and come back closing it; engage, lock, read. Five times each, in "
            "turn.",
            asks=WAYS,
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(no_size, drifting, one_apart, nothing_moves, two_seats, few),
    draw=draw,
    example=Example(
        (
            "reach=15",
            *(f"{way}={value}" for value in ("0.001", "0.003", "0.002", "0.001", "0.003") for way in WAYS),
        ),
        ((REPEAT, 3.08 * 0.001 / 15.0), (BACKLASH, 0.0)),
        "worked by hand: standard deviation 0.001 about both means; 3.08 × 0.001 / 15",
        (("angle", "45"), ("swing", "closed")),
    ),
    sources=(
        "common practice: a range of ten engagements up to 0.02°, and the two sides no farther apart",
        "expected range of ten normal readings 3.08 standard deviations (d2 of control charts), from memory",
        "Grubbs' test and the t test of a slope at 1 in 1,000",
    ),
)
