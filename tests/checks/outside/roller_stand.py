"""Roller stand: does its roller lie level with the table, and does it come back to the same height?"""

from __future__ import annotations

from trued.drawing.shapes import Drawing, Label, Line, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.sd_interval import sd_uncertainty
from trued.procedure import (
    NOT_0_THERE,
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
    ReadingSpec,
    RunInput,
    Severity,
    Step,
    per_quarter,
)
from trued.procedure.quantities import MIL, inches, size

STEP, REPEAT = "roller-step", "roller-repeat"


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Height of the table less the roller's: positive = the roller lies low. From three lifts how it repeats."""
    low = taken.mean("table") - taken.mean("roller") + taken.between_runs()
    found = [FeatureResult(STEP, "mm", low, taken.tolerance(STEP), safety=True)]
    if taken.has("lifted"):
        values = taken.all("lifted")
        mean = sum(values) / len(values)
        s = (sum((v - mean) ** 2 for v in values) / (len(values) - 1)) ** 0.5
        known = EstimatedSd(max(s, 0.01), len(values) - 1)
        spread = sd_uncertainty("roller:lifts", "few lifts", known)
        found.append(FeatureResult(REPEAT, "mm", spread, taken.tolerance(REPEAT), spread=known))
    return tuple(found)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """To the middle of what is allowed."""
    by = founds[0].value.value - inches(0.010)
    text = f"{'Raise' if by > 0.0 else 'Lower'} the roller {size(by, taken.unit)}. Lock it, measure again."
    return (Move(STEP, text, "roller", "up" if by > 0.0 else "down", abs(by)),)


def roller_proud(taken: RunInput) -> Flag | None:
    """The roller stands above the table: work runs against it at its far end, and lifts off the table."""
    if not (taken.has("table") and taken.has("roller")):
        return None
    over = taken.mean("roller") - taken.mean("table")
    text = (
        f"The roller stands {size(over.value, taken.unit)} above the table: the work lifts. Cut nothing long over it."
    )
    return Flag("roller-proud", Severity.DANGER, text, (STEP,)) if over.value > 4.0 * over.u else None


def draw(_taken: RunInput, _founds: tuple[FeatureResult, ...]) -> Drawing:
    """Table and roller from the side."""
    shapes = (
        rectangle(-8.0, -1.0, 8.0, 1.0, "table"),
        Line((6.0, -8.0), (6.0, -1.0), "stand"),
        Label((6.0, 0.5), "roller", "note"),
    )
    return Drawing(
        "Roller stand", "The table at the left, the roller behind it at the right, seen from the side.", shapes
    )


CHECK = Check(
    id="roller-stand",
    version=1,
    title="Roller stand: level with the table?",
    purpose="Measures how far the roller lies below the table.",
    minutes=7.0,
    features=(
        Feature(
            STEP,
            "mm",
            "roller height",
            limits=ToleranceLimits(0.0, inches(0.020)),  # common practice: a little low, never proud
            directions=("up", "down"),
            orders=("raise the roller", "lower the roller"),
            sides=("low", "proud"),
            actuator=Actuator(4 * MIL, 4 * MIL),
            owner="saw",
            drift=per_quarter(10 * MIL),
            doubts=(AddedUncertainty("saw-carried", 60 * MIL),),
            safety=True,
        ),
        Feature(
            REPEAT,
            "mm",
            "roller repeatability",
            limits=ToleranceLimits(None, inches(0.010)),  # common practice
            owner="saw",
            spread=True,
        ),
    ),
    at_hand=("a caliper", "a stick"),
    cautions=("Saw unplugged, battery out.",),
    asks=(
        ReadingSpec("table", "floor to the table, over a stick", advise=2, positive=NOT_0_THERE, alike="heights"),
        ReadingSpec("roller", "floor to the roller, over the stick", advise=2, positive=NOT_0_THERE, alike="heights"),
        ReadingSpec(
            "lifted",
            "the roller again, lifted and locked anew each time",
            need=(3, 10),
            advise=3,
            optional=True,
            one_thing=False,
            positive=NOT_0_THERE,
            alike="heights",
        ),
        ReadingSpec("rocks", "does the stand rock", kind=Kind.CHOICE, choices=("yes", "no"), optional=True),
    ),
    steps=(Step("Lock the roller. Read table and roller from one stick.", ("table", "roller", "lifted", "rocks")),),
    evaluate=evaluate,
    moves=moves,
    blunders=(),
    dangers=(roller_proud,),
    draw=draw,
    example=Example(
        ("table=5.000", "table=5.000", "roller=4.950", "roller=4.950", "lifted=4.950", "lifted=4.951", "lifted=4.949"),
        ((STEP, inches(0.050)),),
        "by hand: 5.000 - 4.950 in",
    ),
    sources=("tolerance and drift: common practice",),
    between_runs=IntermediatePrecision("reading the roller", EstimatedSd(1 * MIL, 3), "common practice"),
)
