"""Stock: how thick a board really is, how even, how straight its edge, how flat, and how wet."""

from __future__ import annotations

import math

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.estimate import Shape as Spread
from trued.measure.instrument import DEFAULTS
from trued.measure.sd_interval import sd_uncertainty
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
from trued.procedure.gross_errors import fraction_display
from trued.procedure.quantities import inches, size, slope
from trued.procedure.reading_rules import no_size, slipped_unit
from trued.procedure.series import own_mean, scatter_of
from trued.procedure.sketch.pieces import Shape, measured

THICKNESS, EVEN, EDGE, CUP, TWIST = "stock-thickness", "stock-even", "stock-edge", "stock-cup", "stock-twist"
MOISTURE = "stock-moisture"
EVEN_TOLERANCE = ToleranceLimits(None, inches(0.004))  # common practice: a range of 0.010 in over six spots
EDGE_TOLERANCE = ToleranceLimits.within(
    5e-4
)  # rad at the end, 0.006 in per foot: common practice for an edge that goes to a fence
FLAT_TOLERANCE = ToleranceLimits.within(inches(1 / 32))  # common practice
MOST_MOISTURE_SPREAD = 2.0  # % of dry weight, common practice: beyond it one number says nothing of the board
METER_LIMIT = 1.0  # % of dry weight, a pin meter set to the species: common practice
NOMINAL = (*(inches(x) for x in (0.25, 0.375, 0.5, 0.625, 0.75, 1.0)), 6.0, 9.0, 12.0, 15.0, 16.0, 18.0, 19.0, 25.0)
SPOTS = EstimatedSd(0.4, 4)  # % between spots of one board before they are read: common practice


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Thickness and its evenness; the end angle of a crooked edge; cup, twist and moisture where they were read."""
    found = _thickness(taken)
    if taken.has("crook") and taken.has("crook_length"):
        end = 4.0 * taken.mean("crook") / taken.mean("crook_length")
        found.append(FeatureResult(EDGE, "rad", end, taken.tolerance(EDGE)))
    for name, feature in (("cup", CUP), ("twist", TWIST)):
        if taken.has(name):
            found.append(FeatureResult(feature, "mm", taken.mean(name), taken.tolerance(feature)))
    if taken.has("moisture") and not _uneven(taken):
        found.append(FeatureResult(MOISTURE, "%", _moisture(taken)))
    return tuple(found)


def _thickness(taken: RunInput) -> list[FeatureResult]:
    instrument = taken.of("thickness")[0].instrument or DEFAULTS["caliper"]
    values = taken.all("thickness")
    known = scatter_of(values, instrument)
    limit = instrument.sources("", instrument.kind, 0.0, known.dof)[1]
    mean = own_mean("thickness:mean", "spots of unlike thickness", values, instrument) + UncertainValue.of(0.0, limit)
    value = sd_uncertainty("thickness:scatter", "few spots", known)
    return [
        FeatureResult(THICKNESS, "mm", mean),
        FeatureResult(EVEN, "mm", value, taken.tolerance(EVEN), spread=known),
    ]


def _moisture(taken: RunInput) -> UncertainValue:
    """Mean of the spots; a meter's own error is the same for all of them."""
    spots = taken.all("moisture")
    known = SPOTS.learn_repeats(spots)
    own = ErrorSource("moisture:mean", "spots of unlike moisture", known.s / math.sqrt(len(spots)), known.dof)
    mean = UncertainValue.of(math.fsum(spots) / len(spots), own)
    half = METER_LIMIT / math.sqrt(3.0)
    return mean + UncertainValue.of(
        0.0, ErrorSource("limit:meter", "moisture meter", half, math.inf, Spread.RECTANGULAR)
    )


def _uneven(taken: RunInput) -> bool:
    spots = taken.all("moisture")
    return max(spots) - min(spots) > MOST_MOISTURE_SPREAD


def left_in_part_mm(crook_mm: float, length_mm: float, part_mm: float) -> float:
    """What is left of a crook in a shorter part cut from it: it falls with the square of the length."""
    return crook_mm * (part_mm / length_mm) ** 2


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Straighten the edge by its crook; for the rest, what to make of such a board."""
    texts = {
        EVEN: "Bring the board to one thickness, or fit every joint to its own end. Joints cut to one number will be "
        "tight here and loose there.",
        CUP: "Rip the cupped board into narrower parts, or flatten one face before you measure from it.",
        TWIST: "Cut the twisted board into short parts, or flatten one face first. It will rock on the saw.",
    }
    made = [Move(f.feature, texts[f.feature], "board", "in", None) for f in founds if f.feature in texts]
    edge = next((f for f in founds if f.feature == EDGE), None)
    if edge is not None:
        made.append(_straighten(taken, edge.value.value))
    return tuple(made)


def _straighten(taken: RunInput, end: float) -> Move:
    crook, hollow = taken.mean("crook").value, end > 0.0
    where = "its two ends" if hollow else "its middle"
    text = (
        f"Take {size(crook, taken.unit)} off {where}, down to nothing {'in the middle' if hollow else 'at the ends'}. "
        f"Use a plane or a guided cut. An end cut against this edge is out by {slope(end, taken.unit)}. No fence and "
        f"no screw fixes this.{_left(taken)}"
    )
    return Move(EDGE, text, "edge", "in", abs(crook))


def _left(taken: RunInput) -> str:
    part = taken.number("part")
    if part is None:
        return ""
    length, crook = taken.mean("crook_length").value, taken.mean("crook").value
    rest = size(left_in_part_mm(crook, length, part), taken.unit)
    return f" In a part {size(part, taken.unit, 2)} long {rest} of the crook is left: give it the short parts."


def unpaired(taken: RunInput) -> Flag | None:
    """A crook without the length that it was seen over, or the length alone."""
    text = "A crook means nothing without the length of the string or straightedge: give both, or neither."
    return None if taken.has("crook") == taken.has("crook_length") else Flag("unpaired", Severity.REFUSE, text)


def nominal(taken: RunInput) -> Flag | None:
    """All spots alike, and just what such a board is called: the name was typed, not the board."""
    values = taken.all("thickness")
    if max(values) - min(values) > 1e-9 or not any(abs(values[0] - name) < 1e-6 for name in NOMINAL):
        return None
    text = (
        f"Every spot is just {size(values[0], taken.unit)}: is that what the caliper showed, or what the board is "
        "called? Every joint hangs on what it really is; 3/4 in plywood is 0.69 to 0.74 in."
    )
    return Flag("nominal", Severity.DOUBT, text)


def moisture_uneven(taken: RunInput) -> Flag | None:
    """Spots too unlike for one number: a range is all that can be said."""
    if not taken.has("moisture") or not _uneven(taken):
        return None
    low, high = min(taken.all("moisture")), max(taken.all("moisture"))
    text = (
        f"The spots range from {low:.1f} to {high:.1f} %: reckon with both, no single number is given. The board has "
        "not settled (freshly come, dry outside, or case-hardened). Sticker it a week or two and read again, in a "
        "fresh cut away from its ends."
    )
    return Flag("moisture-uneven", Severity.NOTE, text)


def meter_not_set(taken: RunInput) -> Flag | None:
    """A meter reads what it is set to."""
    text = "Set the meter to the species and the temperature, or look the correction up, and read again."
    return Flag("meter-not-set", Severity.NOTE, text) if taken.choice("meter_set") == "no" else None


def part_crook(taken: RunInput) -> Flag | None:
    """What is left of the crook in the part to be cut from it."""
    part, known = taken.number("part"), taken.has("crook") and taken.has("crook_length")
    if part is None or not known or taken.mean("crook_length").value <= 0.0:
        return None
    if part > taken.mean("crook_length").value:
        text = (
            "The part is longer than the stretch that the crook was seen over, so it holds more. Measure it over all."
        )
        return Flag("part-crook", Severity.DOUBT, text)
    return Flag("part-crook", Severity.NOTE, _left(taken).strip())


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The board from above with its spots and the string along its edge; afterwards its edge much enlarged."""
    spots = [(x, y) for x in (-8.0, 0.0, 8.0) for y in (1.4, 4.6)]
    if not founds:
        shapes: list[Shape] = [
            rectangle(-12, 0, 24, 6, "board"),
            *(Label(at, "×", "measure") for at in spots),
            Label((0, 7.4), "thickness at six spots"),
            Line((-12, -2.4), (12, -2.4), "limit"),
            *measured((0, -2.4), (0, 0), "crook", (1, -1.5), "start"),
            *measured((-12, -4.2), (12, -4.2), "crook length", (0, -5.8)),
        ]
        told = (
            "The board seen from above. Its thickness is read at six spots, well inside the edges and away from "
            "the ends. A string from end to end of its edge shows the crook in the middle."
        )
        return Drawing("Stock: where to measure", told, tuple(shapes))
    edge = next((f.value.value for f in founds if f.feature == EDGE), 0.0)
    bow = 0.0 if edge == 0.0 else math.copysign(2.2, edge)
    low = [(-12 + 2.0 * n, bow * (1 - ((n - 6) / 6) ** 2)) for n in range(13)]
    shapes = [
        Path((*low, (12, 8), (-12, 8)), "board"),
        Line((-12, 0), (12, 0), "wanted", dashed=True),
        *(Label((x, y + 2.2), "×", "measure") for x, y in spots),
    ]
    if bow > 0:
        shapes += [Arrow((x, 0), (x, 1.8), "move") for x in (-11.0, 11.0)]
    elif bow < 0:
        shapes += [Arrow((0, -2.4), (0, -0.4), "move")]
    if bow:
        shapes.append(Label((0, -4), f"take off {'the two ends' if bow > 0 else 'the middle'}", "move"))
    told = f"The board seen from above. It is {size(founds[0].value.value, taken.unit)} thick."
    mend = f"Take it off {'the two ends' if bow > 0 else 'the middle'}." if bow else ""
    if bow:
        told += (
            f" Its edge is {'hollow' if bow > 0 else 'crowned'}, drawn much larger: an end cut against it is out of "
            f"square by {slope(edge, taken.unit)}. {mend}"
        )
    return Drawing("Stock: what was found", told, tuple(shapes), mend)


CHECK = Check(
    id="stock",
    version=1,
    title="Board: thickness, crook, moisture",
    purpose="Finds the thickness that joints must fit, the crook that spoils square ends, and how wet the wood is.",
    minutes=10.0,
    features=(
        Feature(THICKNESS, "mm", "board thickness", owner="work", turn=540),
        Feature(EVEN, "mm", "thickness variation", limits=EVEN_TOLERANCE, owner="work", spread=True, turn=550),
        Feature(
            EDGE,
            "rad",
            "edge crook at the end",
            limits=EDGE_TOLERANCE,
            sides=("hollow", "crowned"),
            owner="work",
            turn=560,
        ),
        Feature(CUP, "mm", "board cup", limits=FLAT_TOLERANCE, owner="work", turn=570),
        Feature(TWIST, "mm", "board twist", limits=FLAT_TOLERANCE, owner="work", turn=580),
        Feature(MOISTURE, "%", "moisture content", owner="work", turn=590),
    ),
    at_hand=(
        "a caliper",
        "a string or a straightedge as long as the board, feelers or a rule for the gap under it",
        "two straight sticks for the twist",
        "a moisture meter set to the species, if there is one",
    ),
    cautions=(
        "A crooked, cupped or twisted board rocks and pinches at the saw: straighten one edge and one face first.",
        "Lift long boards with your legs, and with two people.",
        "Dust of wood and board stuff is not to be breathed: collect it, and wear the mask that is required for it.",
    ),
    asks=(
        ReadingSpec(
            "thickness",
            "thickness at another spot each time, two inches in from edge and end",
            need=(3, 40),
            advise=6,
            expect=(3.0, 80.0),
            one_thing=False,
            positive=NOT_0_THERE,
            alike="thickness",
        ),
        ReadingSpec(
            "crook",
            "gap between the edge and a string from end to end, in the middle: with a minus where the edge is crowned",
            kind=Kind.GAP,
            instrument="feelers",
            optional=True,
            expect=(-20.0, 20.0),
        ),
        ReadingSpec(
            "crook_length",
            "length of that string",
            instrument="tape",
            optional=True,
            expect=(150.0, 6000.0),
            positive=NOT_0_THERE,
        ),
        ReadingSpec(
            "cup",
            "gap under a rule across the width, in the middle: with a minus where the face is crowned",
            kind=Kind.GAP,
            instrument="feelers",
            optional=True,
            expect=(-15.0, 15.0),
        ),
        ReadingSpec(
            "twist",
            "how far one winding stick's end stands above the other stick's when you look along them",
            kind=Kind.GAP,
            instrument="rule",
            optional=True,
            expect=(-25.0, 25.0),
        ),
        ReadingSpec(
            "moisture",
            "moisture at three spots, inside a fresh cut or well away from the ends",
            kind=Kind.PERCENT,
            need=(3, 12),
            advise=3,
            optional=True,
            expect=(3.0, 30.0),
            one_thing=False,
        ),
        ReadingSpec(
            "meter_set",
            "whether the meter is set to the species and the temperature",
            kind=Kind.CHOICE,
            choices=("yes", "no"),
            optional=True,
        ),
    ),
    facts=(SetupFact("part", "the longest part that is to come out of it", kind=Kind.LENGTH, needed_for=Need.WORDS),),
    steps=(
        Step(
            "Read the thickness at six spots, two along each end and two in the middle. Never type a name.",
            ("thickness",),
        ),
        Step(
            "Stretch a string along the edge that will go to a fence; read the gap in the middle.",
            ("crook", "crook_length"),
        ),
        Step("Lay a rule across the face, and two winding sticks on its ends.", ("cup", "twist")),
        Step("Read the moisture at three spots.", ("moisture", "meter_set"), "The pins are sharp."),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        slipped_unit,
        unpaired,
        nominal,
        fraction_display,
        moisture_uneven,
        meter_not_set,
        part_crook,
    ),
    draw=draw,
    example=Example(
        (
            *("thickness=0.742", "thickness=0.744", "thickness=0.741", "thickness=0.743", "thickness=0.742"),
            *("thickness=0.740", "crook=1/32", "crook_length=48"),
        ),
        ((THICKNESS, inches(0.742)), (EVEN, inches(0.0014142135623730963)), (EDGE, 4.0 / 32.0 / 48.0)),
        "worked by hand: 4 × 1/32 over 48 is 0.0026 rad",
    ),
    sources=(
        "common practice: six spots within 0.010 in (one standard deviation of 0.004), moisture alike within 2 %",
        "the end of an edge that is an even curve lies at 4 × crook / length: geometry",
        "moisture meter: 1 % of dry weight, common practice",
    ),
)
