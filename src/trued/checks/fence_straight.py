"""A straightedge along the fence's face: is the fence hollow or crowned, after the straightedge's own error?"""

from __future__ import annotations

from collections.abc import Sequence

from trued.drawing.shapes import Arrow, Drawing, Label, Path, Point, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue, linear
from trued.measure.fitting.line import fit_line
from trued.measure.reversal import reversal
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
    ReadingSpec,
    RunInput,
    Severity,
    Step,
    per_quarter,
)
from trued.procedure.quantities import MIL, inches, size, slope, station_mm
from trued.procedure.shared.feeler import gap, gauged
from trued.procedure.shared.fence_turn import FENCE_FACT, KEEPER_FACT, drawn_layout, side_of
from trued.procedure.shared.straightedge import LIMIT_TEXT, PROVE, own_error
from trued.procedure.sketch.pieces import Shape, measured, upside_down

FEATURE = "fence-straight"
TOLERANCE = ToleranceLimits.within(inches(0.003))  # over the used length, common practice
SHORT = inches(6.0)  # a short edge beside the blade, as the example of what a bent fence does
WAVE = inches(0.003)  # common practice
LOPSIDED = inches(0.003)  # common practice
LIFTED = inches(0.003)  # common practice: dust or a chip under the straightedge
FEW = 5  # places, common practice


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """The fence's bow: gap less the straightedge's own hollow, through all places; positive = hollow."""
    at = places(taken)
    bow = _of(weights(list(at.values())), [gap(taken, "gap", s) - _own(taken, s) for s in at]) + taken.between_runs()
    if not taken.has("scribed"):
        bow = bow + own_error(taken)
    return (FeatureResult(FEATURE, "mm", bow, taken.tolerance(FEATURE)),)


def places(taken: RunInput) -> dict[str, float]:
    """Where gaps were read, along the fence in mm, in that order."""
    at = {station: station_mm(station, taken.unit) for station in taken.stations("gap")}
    return dict(sorted(at.items(), key=lambda item: item[1]))


def weights(xs: Sequence[float]) -> list[float]:
    """What each height counts in the depth of a parabola of depth 1 between the outer places (least squares).

    They add up to nought, and so do they times x: how the straightedge lies, square or askew, near or off, cancels.
    """
    low, high = min(xs), max(xs)
    if len(set(xs)) < 3:
        raise ValueError("a bow needs three places or more")
    shape = [4.0 * (x - low) * (high - x) / (high - low) ** 2 for x in xs]
    line = fit_line(xs, shape)
    rest = [s - line.offset - line.slope * x for x, s in zip(xs, shape, strict=True)]
    square = sum(r * r for r in rest)
    return [r / square for r in rest]


def _of(counts: Sequence[float], heights: Sequence[UncertainValue]) -> UncertainValue:
    value = sum(c * h.value for c, h in zip(counts, heights, strict=True))
    return linear(value, *zip(counts, heights, strict=True))


def _own(taken: RunInput, station: str) -> UncertainValue:
    """How hollow the straightedge itself is there: half the distance of the two lines it scribed."""
    if not taken.has("scribed", station):
        return UncertainValue(0.0)
    return 0.5 * taken.mean("scribed", station)


def short_edge(bow: float, length: float, edge: float) -> float:
    """By how much a short edge beside the blade is cut at another angle than one as long as the fence, rad."""
    return 4.0 * bow / length * (1.0 - edge / length)


def _effect(taken: RunInput, bow: float) -> str:
    at = list(places(taken).values())
    length = at[-1] - at[0]
    if length <= SHORT + 1.0:
        return ""
    angle = slope(short_edge(bow, length, SHORT), taken.unit)
    short = "6 in" if taken.unit == "in" else "150 mm"
    return f" Until then a {short} edge beside the blade is cut {angle} off from a full-length one."


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Shim the facing where the fence lies back, by the depth found."""
    bow = founds[0].value.value
    hollow, by = bow > 0.0, size(bow, taken.unit)
    where = "behind its middle, tapering out to both ends" if hollow else "behind both ends, none at the middle"
    text = (
        f"Loosen the facing and lay {gauged(abs(bow), taken.unit)} of shim {where}. The fence is "
        f"{'hollow' if hollow else 'crowned'} by {by}. Screw it on and measure again. No facing? Plane the fence, or "
        f"change it. Then find the fence angle again.{_effect(taken, bow)}"
    )
    return (Move(FEATURE, text, "facing", "in" if hollow else "out", abs(bow)),)


def scribed_elsewhere(taken: RunInput) -> Flag | None:
    """The straightedge was proven at other places than the fence was read."""
    at, lines = places(taken), taken.stations("scribed")
    if not lines:
        return None
    inner = list(at)[1:-1]
    lone = [s for s in lines if s not in at] + [s for s in inner if s not in lines]
    text = (
        "The straightedge's two lines and the gaps belong to the same places (its ends may be left out): "
        f"{', '.join(lone)} stands alone."
    )
    return Flag("scribed-elsewhere", Severity.REFUSE, text) if lone else None


def same_place(taken: RunInput) -> Flag | None:
    """Two names for one place leave fewer than three."""
    text = "Gaps are needed at three different places or more along the fence."
    return Flag("same-place", Severity.REFUSE, text) if len(set(places(taken).values())) < 3 else None


def wavy(taken: RunInput) -> Flag | None:
    """A place that stands out from an even bow by more than the readings scatter."""
    at = places(taken)
    if len(set(at.values())) < 4 or scribed_elsewhere(taken):
        return None
    xs, heights = list(at.values()), [gap(taken, "gap", s) - _own(taken, s) for s in at]
    off = _rest(xs, [h.value for h in heights])
    worst = max(range(len(xs)), key=lambda n: abs(off[n]))
    if abs(off[worst]) <= max(WAVE, 4.0 * heights[worst].u):
        return None
    text = (
        f"At {list(at)[worst]} the face lies {size(off[worst], taken.unit)} {'back' if off[worst] > 0 else 'out'} "
        "from an even bow: a dent, a bump, a chip under the straightedge, or one gap misread. Clean, read there "
        "again; a wave cannot be shimmed as a bow."
    )
    return Flag("wavy", Severity.DOUBT, text)


def _rest(xs: Sequence[float], heights: Sequence[float]) -> list[float]:
    """What is left of heights beside line and parabola."""
    low, high = min(xs), max(xs)
    bow = sum(w * h for w, h in zip(weights(xs), heights, strict=True))
    flat = [h - bow * 4.0 * (x - low) * (high - x) / (high - low) ** 2 for x, h in zip(xs, heights, strict=True)]
    line = fit_line(xs, flat)
    return [h - line.offset - line.slope * x for x, h in zip(xs, flat, strict=True)]


def lopsided(taken: RunInput) -> Flag | None:
    """Turned end for end the straightedge reads otherwise: what changes is its own."""
    both = [s for s in places(taken) if taken.has("turned", s)]
    halves = {s: reversal(gap(taken, "gap", s), gap(taken, "turned", s))[1] for s in both}
    worst = max(both, key=lambda s: abs(halves[s].value), default="")
    if not worst or abs(halves[worst].value) <= max(LOPSIDED, 4.0 * halves[worst].u):
        return None
    text = (
        f"At {worst} the straightedge reads {size(2.0 * halves[worst].value, taken.unit)} otherwise turned end for "
        f"end: it is lopsided itself, or did not lie alike. Use another one. {PROVE}"
    )
    return Flag("lopsided-straightedge", Severity.DOUBT, text)


def not_proven_straightedge(taken: RunInput) -> Flag | None:
    """Nothing is known of the straightedge: its bow is in the finding, whole."""
    if taken.has("scribed") or taken.has("edge_limit"):
        return None
    text = f"The straightedge is not proven: a bow of its own looks like one of the fence. {PROVE}"
    return Flag("straightedge-not-proven", Severity.NOTE, text)


def lifted(taken: RunInput) -> Flag | None:
    """No place touches: something lies under the straightedge."""
    least = min(gap(taken, "gap", s).value for s in places(taken))
    text = (
        f"The straightedge touches nowhere; the least gap is {size(least, taken.unit)}. Is a chip under it, or does "
        "it touch between the places? Press it lightly in the middle, or hold it so that both ends stand off alike."
    )
    return Flag("lifted", Severity.NOTE, text) if least > LIFTED else None


def few_places(taken: RunInput) -> Flag | None:
    """Three or four places show a bow, but hardly a wave."""
    n = len(places(taken))
    text = f"{n} places show a bow, but not whether the face waves between them; {FEW} or more do."
    return Flag("few-places", Severity.NOTE, text) if n < FEW else None


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The fence from above with the straightedge at its face; afterwards its bow much enlarged, and the shim."""
    layout = drawn_layout(taken)
    k, f = layout.keeper_x, layout.fence_y
    seen = f"The fence on the {side_of(layout)}, the keeper {layout.keeper} of the blade, seen from above."
    low = -4.8 if founds else -3.0
    shapes: list[Shape] = [Label((k * 12.5, low), "far from the blade"), Label((k * 0.5, low), "near the blade")]
    if not founds:
        shapes += [rectangle(min(0, k * 13), -2, 13, 1.4, "fence"), rectangle(min(0, k * 13), 0.2, 13, 1, "fixture")]
        shapes += [Label((k * 6.5, 1.9), "straightedge"), Label((k * 6.5, -1.6), "fence")]
        for n in range(5):
            shapes += measured(
                (k * (1 + 2.75 * n), -0.6), (k * (1 + 2.75 * n), 0.2), "gap" if n == 2 else "", (k * 8, 3)
            )
        told = (
            f"{seen} The straightedge lies against the face. Read the gap at five places from one end to the other, "
            "and type each with its distance along the fence."
        )
        return Drawing("Fence straight: where to read", told, _laid(shapes, f))
    bow = founds[0].value.value
    hollow = bow > 0.0
    deep = 1.2 if hollow else -1.2
    face: list[Point] = [(k * 13 * n / 12, -deep * (1 - (n / 6 - 1) ** 2)) for n in range(13)]
    shapes += [
        Path((*face, (k * 13, -4.0), (0.0, -4.0)), "fence"),
        rectangle(min(0, k * 13), max(0.0, -deep), 13, 1, "fixture"),
    ]
    at = (6.5,) if hollow else (0.7, 12.3)
    shapes += [Arrow((k * x, -3.8), (k * x, -2.0 if hollow else -0.9), "move") for x in at]
    shapes += [Label((k * 6.5, -6.2), "shim behind the middle" if hollow else "shim behind both ends", "move")]
    mend = f"To mend it shim the facing {'behind the middle' if hollow else 'behind both ends'}, into the work."
    told = (
        f"{seen} Its face is {'hollow' if hollow else 'crowned'} by {size(bow, taken.unit)}, drawn much larger. "
        f"{mend}{_effect(taken, bow)}"
    )
    return Drawing("Fence straight: what was found", told, _laid(shapes, f), mend)


def _laid(shapes: Sequence[Shape], f: int) -> tuple[Shape, ...]:
    kept = [shape for shape in shapes if not isinstance(shape, Label) or shape.text]
    return tuple(kept) if f < 0 else upside_down(kept)


CHECK = Check(
    id="fence-straight",
    version=1,
    title="Fence straightness: hollow or crowned?",
    purpose="Finds the bow of the fence's face: a bent fence cannot be squared, it cuts long and short edges unlike.",
    minutes=8.0,
    features=(
        Feature(
            FEATURE,
            "mm",
            "fence straightness",
            limits=TOLERANCE,
            sides=("hollow", "crowned"),
            drift=per_quarter(0.5 * MIL),
            doubts=(AddedUncertainty("facing-renewed", 4 * MIL),),
            turn=390,
        ),
    ),
    ground=("platform-flat",),
    at_hand=(
        "a straightedge as long as the used part of the fence, proven, or with its maker's limit of error",
        "feelers",
        "a pencil and a rule for the places",
    ),
    cautions=(
        "Saw unplugged, battery out; the blade lowered below the table.",
        "The edge of a straightedge is sharp: carry it flat, and brush the fence with a brush, not with a finger.",
    ),
    asks=(
        ReadingSpec(
            "scribed",
            "distance between the two lines that the straightedge scribed, at that place; minus where it bulges",
            Kind.GAP,
            stations=1,
            optional=True,
            expect=(-2.0, 2.0),
        ),
        ReadingSpec("edge_limit", LIMIT_TEXT, instrument="gauge", need=(1, 1), optional=True, expect=(0.0, 0.5)),
        ReadingSpec(
            "gap",
            "thickest feeler between straightedge and face, 0 where none goes in; and how far along the fence",
            instrument="feelers",
            stations=3,
            expect=(0.0, 1.5),
        ),
        ReadingSpec(
            "turned",
            "the same with the straightedge turned end for end",
            instrument="feelers",
            stations=1,
            optional=True,
            expect=(0.0, 1.5),
        ),
    ),
    facts=(FENCE_FACT, KEEPER_FACT),
    steps=(
        Step(
            f"{PROVE} At each place where you will read the fence, measure between the lines. A line that lies "
            "toward the straightedge that drew it: the edge is hollow there, type it plain; the other way it bulges, "
            "type it with a minus. From three straightedges held against each other, type twice the error.",
            asks=("scribed", "edge_limit"),
        ),
        Step("Brush face and straightedge clean. Mark five places along the face, the outer ones at its used ends."),
        Step(
            "Lay the straightedge against the face at half its height. Press it lightly in the middle; where it "
            "rocks the face is crowned: hold it so that both ends stand off alike. Read the gap at each place.",
            asks=("gap",),
        ),
        Step(
            "Turn the straightedge end for end and read again. That finds a lopsided one; it does not cancel its bow.",
            asks=("turned",),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(same_place, scribed_elsewhere, wavy, lopsided, lifted, not_proven_straightedge, few_places),
    draw=draw,
    example=Example(
        ("gap@0=0", "gap@12=0.004", "gap@24=0", "scribed@12=0"),
        ((FEATURE, inches(0.004)),),
        "worked by hand: 0.004 in the middle of 24 in; an edge of 6 in is then cut 0.0005 rad, 0.006 in per foot, off",
    ),
    sources=(
        "common practice; the bow is a parabola through all places by least squares",
        "reversal about the long axis: textbook algebra; turning end for end shows the lopsided part only",
        "a straightedge of unknown make: 0.006 in of bow assumed; tolerance 0.003 in: common practice",
        "scatter of 0.01 mm from run to run to start with: common practice",
    ),
    between_runs=IntermediatePrecision("laying the straightedge", EstimatedSd(0.01, 4), "common practice"),
)
