"""A small check that is nobody's, to try the form with."""

from dataclasses import replace

from trued.drawing.shapes import Drawing, Label
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.procedure import (
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
)


def _evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    value = taken.mean("gap") + taken.between_runs()
    return (FeatureResult("gap", "mm", value, taken.tolerance("gap", ToleranceLimits.within(0.1))),)


def _moves(_taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    return (Move("gap", "Close it.", "screw", "close", abs(founds[0].value.value)),)


def _too_big(taken: RunInput) -> Flag | None:
    return Flag("too-big", Severity.REFUSE, "It cannot be that big.") if max(taken.all("gap")) > 5.0 else None


def _odd(taken: RunInput) -> Flag | None:
    return Flag("odd", Severity.DOUBT, "Look again.") if taken.choice("rocks") == "yes" else None


def _draw(_taken: RunInput, _founds: tuple[FeatureResult, ...]) -> Drawing:
    return Drawing("Gap", "A gap.", (Label((0.0, 0.0), "gap"),))


GAP = Check(
    id="gap",
    version=1,
    title="Gap",
    purpose="Finds a gap.",
    minutes=1.0,
    features=(Feature("gap", "mm", "gap"),),
    at_hand=("feelers",),
    cautions=("Saw unplugged.",),
    asks=(
        ReadingSpec("gap", "the gap", kind=Kind.GAP, instrument="feelers", need=(1, 3), expect=(-2.0, 2.0)),
        ReadingSpec("rocks", "does it rock", kind=Kind.CHOICE, choices=("yes", "no"), optional=True),
        ReadingSpec("wall", "the wall at three places", stations=("near", "middle", "far"), optional=True, least=2),
        ReadingSpec("step", "the step along it", stations=2, optional=True),
        ReadingSpec("lean", "how far it leans", kind=Kind.ANGLE, instrument="angle-gauge", optional=True),
        ReadingSpec("count", "how many", kind=Kind.COUNT, optional=True, row="pairs"),
        ReadingSpec("warm", "how warm", kind=Kind.TEMPERATURE, optional=True, row="pairs"),
        ReadingSpec("both", "both ends", stations=("left", "right"), optional=True),
    ),
    facts=(
        SetupFact("side", "the side it is on", choices=("left", "right")),
        SetupFact("reach", "how far it reaches", kind=Kind.LENGTH, needed_for=Need.MOVE),
        SetupFact("thread", "its thread", kind=Kind.THREAD, needed_for=Need.MOVE),
    ),
    steps=(Step("Read all.", ("gap", "rocks", "wall", "step", "lean", "count", "warm", "both")),),
    evaluate=_evaluate,
    moves=_moves,
    blunders=(_too_big, _odd),
    draw=_draw,
    example=Example(("gap=0.01",), (("gap", 0.254),), "invented for the test"),
    sources=("invented for the test",),
    between_runs=IntermediatePrecision("hands", EstimatedSd(0.01, 4), "invented for the test"),
)
PLAIN = replace(GAP, between_runs=None)
