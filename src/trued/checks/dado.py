"""Dado or groove: does the shelf that really goes in slide in by hand, and is the groove alike deep?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.measure.decision import ToleranceLimits
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
from trued.procedure.gross_errors import fraction_display, is_slip, slipped
from trued.procedure.quantities import inches, place, size
from trued.procedure.reading_rules import no_size
from trued.procedure.series import floor_of, scatter_of
from trued.procedure.sketch.pieces import Shape, measured

FIT, DEPTH = "dado-fit", "dado-depth"
FIT_TOLERANCE = ToleranceLimits(inches(0.002), inches(0.006))  # slides by hand, with room for glue: common practice
DEPTH_TOLERANCE = ToleranceLimits(None, inches(0.005))  # one standard deviation along the groove, common practice
OVERLAP = 0.9  # a pass moves by at most this part of the kerf, or ridges stay: common practice
INSIDE_JAWS = 0.01  # mm: inside jaws may differ from outside jaws by this much either way, common practice
UNEVEN = inches(0.004)  # as much as the whole room of the fit
# Of each shelf's difference from their mean: three readings that agree by chance do not make all shelves alike.
LEAST_KEPT = 0.35
NORMAL = NormalDist()
MISFIT = 3.0  # mm; more room or less is no fit of this shelf, common practice
NOMINAL = (*(inches(x) for x in (0.25, 0.375, 0.5, 0.625, 0.75, 1.0)), 6.0, 9.0, 12.0, 15.0, 16.0, 18.0, 19.0, 25.0)


@dataclass(frozen=True, slots=True)
class Passes:
    """How a groove wider than the blade is cut: so many passes, each moved on by `step_mm`."""

    count: int
    step_mm: float


def passes(width_mm: float, kerf_mm: float) -> Passes:
    """The fewest passes of one blade for a groove, evenly spread, none moved on by more than 0.9 of a kerf."""
    over = width_mm - kerf_mm
    if over <= 0.0:
        return Passes(1, 0.0)
    count = math.ceil(round(over / (OVERLAP * kerf_mm), 9)) + 1
    return Passes(count, over / (count - 1))


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Room of the thickest shelf in the groove; the scatter of its depth where that was read."""
    half = INSIDE_JAWS / math.sqrt(3.0)
    jaws = ErrorSource("limit:jaws", "inside against outside jaws", half, math.inf, Spread.RECTANGULAR)
    room = taken.mean("groove") - _thickest(taken) + UncertainValue.of(0.0, jaws)
    found = [FeatureResult(FIT, "mm", room, taken.tolerance(FIT))]
    depths = taken.all("depth")
    if len(depths) > 1:
        known = scatter_of(depths, taken.of("depth")[0].instrument or DEFAULTS["caliper"])
        value = sd_uncertainty("depth:scatter", "few places", known)
        found.append(FeatureResult(DEPTH, "mm", value, taken.tolerance(DEPTH), spread=known))
    return tuple(found)


def _thickest(taken: RunInput) -> UncertainValue:
    """The thickest shelf. The largest of several readings owes part of its size to its own error: each is taken back
    toward their mean by the share of their variance that is reading alone, and the largest of what remains is
    reckoned as the largest of normal variables.
    """
    readings = taken.of("shelf")
    instrument = readings[0].instrument or DEFAULTS["caliper"]
    values, known = [r.value for r in readings], taken.repeat(instrument)
    s = max(known.s, floor_of(instrument))
    mean = math.fsum(values) / len(values)
    square = math.fsum((v - mean) ** 2 for v in values) / max(1, len(values) - 1)
    keep = 1.0 if len(values) == 1 else max(LEAST_KEPT, 1.0 - s**2 / square) if square > 0.0 else LEAST_KEPT
    most, variance = mean + keep * (values[0] - mean), keep * s**2
    for value in values[1:]:
        most, variance = larger(most, variance, mean + keep * (value - mean), keep * s**2)
    u = math.sqrt(variance + (1.0 - keep) * s**2 / len(values))
    return UncertainValue.of(most, *instrument.sources("shelf:thickest", instrument.kind, u, known.dof))


def larger(a: float, var_a: float, b: float, var_b: float) -> tuple[float, float]:
    """Mean and variance of the larger of two independent normal variables (C. E. Clark 1961, from memory)."""
    spread_ab = math.sqrt(var_a + var_b)
    z = (a - b) / spread_ab
    above, density = NORMAL.cdf(z), NORMAL.pdf(z)
    mean = a * above + b * (1.0 - above) + spread_ab * density
    square = (a * a + var_a) * above + (b * b + var_b) * (1.0 - above) + (a + b) * spread_ab * density
    return mean, max(0.0, square - mean * mean)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Widen by one more pass; a groove too wide is filled, and the next one cut narrower."""
    made = [_fit_move(taken, founds[0])]
    if len(founds) > 1:
        text = (
            "Run the groove again at the same setting, pressed down at the blade with a block. "
            f"Its depth varies by {size(founds[1].value.value, taken.unit)} (one standard deviation). The sheet is not "
            "flat, or was not held down."
        )
        made.append(Move(DEPTH, text, "groove", "in", None))
    return tuple(made)


def _fit_move(taken: RunInput, found: FeatureResult) -> Move:
    limits = found.limits or FIT_TOLERANCE
    low, high = limits.low, limits.high
    aim = (low + high) / 2.0 if low is not None and high is not None else low if low is not None else high or 0.0
    by = aim - found.value.value
    said = size(by, taken.unit)
    if by > 0.0:
        text = (
            f"Move the stop on by {said} and take one more pass: the groove is too tight. Widen it to the side that "
            f"may grow.{_passes_said(taken, by)}"
        )
        return Move(FIT, text, "groove", "wider", by)
    text = (
        f"Glue a shaving of {said} to the shelf's end, or use a thicker shelf: the groove is too loose. Make the next "
        f"groove {said} narrower.{_passes_said(taken, by)}"
    )
    return Move(FIT, text, "groove", "narrower", -by)


def _passes_said(taken: RunInput, by: float) -> str:
    kerf = taken.number("marked")
    if kerf is None:
        return ""
    wide = taken.mean("groove").value + by
    plan = passes(wide, kerf)
    many = f"{plan.count} passes of this blade, moved on by {size(plan.step_mm, taken.unit)} each"
    return f" A groove of {size(wide, taken.unit)} takes {many if plan.count > 1 else 'one pass of this blade'}."


def slipped_unit(taken: RunInput) -> Flag | None:
    """Groove and shelf typed in two units."""
    readings = [*taken.of("groove"), *taken.of("shelf")]
    large, small = max(readings, key=lambda r: r.value), min(readings, key=lambda r: r.value)
    if not is_slip(large.value, small.value):
        return None
    odd, other = (small, large) if taken.unit == "mm" else (large, small)
    meant = odd.value * inches(1.0) if odd is small else odd.value / inches(1.0)
    return slipped(taken, odd, meant, f"beside {place(other)}")


def nominal(taken: RunInput) -> Flag | None:
    """The shelf's name instead of its thickness."""
    values = taken.all("shelf")
    if max(values) - min(values) > 1e-9 or not any(abs(values[0] - name) < 1e-6 for name in NOMINAL):
        return None
    text = (
        f"The shelf is typed as just {size(values[0], taken.unit)}: was it measured, or is that what it is called? "
        "Read every shelf that goes in, where it goes in."
    )
    return Flag("nominal", Severity.DOUBT, text)


def other_joint(taken: RunInput) -> Flag | None:
    """Room that no fit has: another groove or another shelf was read."""
    room = evaluate(taken)[0].value.value
    text = (
        f"{size(room, taken.unit)} {'of room' if room > 0 else 'too thick'} is no fit of this shelf: was another "
        "groove, another shelf or another dimension read?"
    )
    return Flag("other-joint", Severity.DOUBT, text) if abs(room) > MISFIT and slipped_unit(taken) is None else None


def narrower_than_kerf(taken: RunInput) -> Flag | None:
    """A groove narrower than one pass of the blade."""
    kerf = taken.number("marked")
    if kerf is None or taken.mean("groove").value >= kerf - inches(0.005):
        return None
    text = (
        "The groove is narrower than one pass of this blade, which cannot be. Read it again with the inside jaws "
        "square across, or look up the kerf (check kerf)."
    )
    return Flag("narrower-than-kerf", Severity.DOUBT, text)


def groove_uneven(taken: RunInput) -> Flag | None:
    """A groove that is not one width."""
    spread_mm = taken.worst_repeat("groove")
    text = (
        f"Along the groove its width differs by {size(spread_mm, taken.unit)}, as much as the whole room of the fit: a "
        "stop that moved between passes, ridges left standing, or fuzz. Clean it out and read it at both ends."
    )
    return Flag("groove-uneven", Severity.NOTE, text) if spread_mm > UNEVEN + 1e-9 else None


def other_sheet(taken: RunInput) -> Flag | None:
    """Tried in a scrap of another sheet."""
    text = "Try it in a scrap of the very sheet that is used: sheets of one name differ by more than this room."
    return Flag("other-sheet", Severity.NOTE, text) if taken.choice("same_sheet") == "no" else None


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """Groove and shelf from the end; afterwards the room between them exaggerated."""
    sheet = [(-10.0, 0.0), (-10.0, 5.0), (-3.0, 5.0), (-3.0, 2.0), (3.0, 2.0), (3.0, 5.0), (10.0, 5.0), (10.0, 0.0)]
    shapes: list[Shape] = [Path(tuple(sheet), "board")]
    if not founds:
        shapes += [rectangle(-2.4, 8, 4.8, 6, "part"), *measured((-2.4, 15), (2.4, 15), "shelf", (0, 16))]
        shapes += [
            *measured((-3, 3.4), (3, 3.4), "groove", (0, 6)),
            *measured((5, 5), (5, 2), "depth", (5.8, 3.2), "start"),
        ]
        told = (
            "The groove seen from its end, the shelf above it. Measure the groove's width with the inside jaws at both "
            "ends and in the middle, every shelf's thickness where it goes in, and the depth every 12 in."
        )
        return Drawing("Dado: what to measure", told, tuple(shapes))
    room = founds[0].value.value
    half = 2.2 if room > 0 else 3.6
    shapes += [rectangle(-half, 2.2 if room > 0 else 6.0, 2 * half, 8, "part")]
    told = (
        f"The groove seen from its end. The shelf {'has room of' if room > 0 else 'is too thick by'} "
        f"{size(room, taken.unit)}, drawn much larger."
    )
    if (founds[0].limits or FIT_TOLERANCE).hold(room):
        return Drawing("Dado: what was found", told, tuple(shapes))
    by = _fit_move(taken, founds[0])
    if by.direction == "wider":
        shapes += [Line((4, 2), (4, 5), "wanted", dashed=True), Arrow((3, 3.4), (4, 3.4), "move")]
    shapes += [Label((0, -2), "one more pass" if by.direction == "wider" else "next groove narrower", "move")]
    return Drawing("Dado: what was found", f"{told} {by.text}", tuple(shapes), by.text)


CHECK = Check(
    id="dado",
    version=1,
    title="Dado: does the shelf fit?",
    purpose="Finds the room between a groove and the shelves that really go into it, and whether it is alike deep.",
    minutes=10.0,
    features=(
        Feature(
            FIT,
            "mm",
            "dado clearance",
            limits=FIT_TOLERANCE,
            directions=("narrower", "wider"),
            sides=("loose", "tight"),
            owner="work",
            turn=600,
        ),
        Feature(DEPTH, "mm", "dado depth variation", limits=DEPTH_TOLERANCE, owner="work", spread=True, turn=610),
    ),
    ground=("stop-repeat",),
    at_hand=(
        "a scrap of the same sheet with the groove cut at the setting in question",
        "every shelf that goes in",
        "a caliper with inside jaws and a depth rod",
    ),
    cautions=(
        "The saw's manual decides whether a stack of cutters, or a cut that does not go through, is allowed at all.",
        "Guard and knife off for such a cut go on again before any other: no rip without them.",
        "Hold the sheet down with blocks, hands at least 6 in from the blade, which is hidden under the work.",
    ),
    made_on="joint",
    asks=(
        ReadingSpec(
            "groove",
            "width of the groove, at both ends and in the middle",
            advise=3,
            expect=(1.0, 60.0),
            positive=NOT_0_THERE,
        ),
        ReadingSpec(
            "shelf",
            "thickness of a shelf where it goes in; named again for every shelf",
            advise=3,
            expect=(1.0, 60.0),
            one_thing=False,
            positive=NOT_0_THERE,
        ),
        ReadingSpec(
            "depth",
            "depth of the groove, every 12 in along it",
            need=(2, 30),
            advise=4,
            optional=True,
            one_thing=False,
            positive=NOT_0_THERE,
        ),
        ReadingSpec(
            "same_sheet",
            "whether the groove was cut in a scrap of the sheet that is used",
            kind=Kind.CHOICE,
            choices=("yes", "no"),
            optional=True,
        ),
    ),
    facts=(SetupFact("marked", "the kerf of the blade", kind=Kind.LENGTH, needed_for=Need.WORDS),),
    steps=(
        Step(
            "Cut the groove in scrap of the same sheet at this setting, pressed down as in the real one.",
            ("same_sheet",),
            "Read what the manual says of knife and guard for a cut that does not go through.",
        ),
        Step("Brush it out. Measure its width at both ends and in the middle.", ("groove",)),
        Step("Measure every shelf where it goes in; the thickest decides.", ("shelf",)),
        Step("Measure the depth every 12 in.", ("depth",)),
        Step("Refit what was taken off the saw.", caution="No through cut before knife and guard are back on."),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        slipped_unit,
        nominal,
        other_joint,
        narrower_than_kerf,
        fraction_display,
        groove_uneven,
        other_sheet,
    ),
    draw=draw,
    example=Example(
        ("groove=0.746", "groove=0.746", "groove=0.746", "shelf=0.742"),
        ((FIT, inches(0.004)),),
        "worked by hand: 0.746 - 0.742",
    ),
    sources=(
        "common practice: a room of 0.002 to 0.006 in slides by hand and holds glue; a pass moves on by 0.9 of a kerf",
        "inside jaws 0.01 mm different from outside jaws either way: common practice",
        "the thickest of several readings, shrunk by the share of their variance that is reading: own algebra",
        "the largest of normal variables: C. E. Clark, Operations Research 9 (1961) 145, from memory",
    ),
)
