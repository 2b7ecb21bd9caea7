"""A small check that is nobody's, to try the form with."""

from dataclasses import replace

from trued.drawing.shapes import Drawing, Label
from trued.measure.decision import Limits
from trued.measure.distribution.standard_deviation import Scatter
from trued.procedure import Act, Ask, BetweenRuns, Check, Example, Fact, Found, Kind, Move, Need, Seen, Step, Taken


def _evaluate(taken: Taken) -> tuple[Found, ...]:
    value = taken.mean("gap") + taken.between_runs()
    return (Found("gap", "mm", value, taken.tolerance("gap", Limits.within(0.1))),)


def _moves(_taken: Taken, founds: tuple[Found, ...]) -> tuple[Move, ...]:
    return (Move("gap", "Close it.", "screw", "close", abs(founds[0].value.value)),)


def _too_big(taken: Taken) -> Seen | None:
    return Seen("too-big", Act.REFUSE, "It cannot be that big.") if max(taken.all("gap")) > 5.0 else None


def _odd(taken: Taken) -> Seen | None:
    return Seen("odd", Act.DOUBT, "Look again.") if taken.choice("rocks") == "yes" else None


def _draw(_taken: Taken, _founds: tuple[Found, ...]) -> Drawing:
    return Drawing("Gap", "A gap.", (Label((0.0, 0.0), "gap"),))


GAP = Check(
    id="gap",
    version=1,
    title="Gap",
    purpose="Finds a gap.",
    minutes=1.0,
    features=("gap",),
    at_hand=("feelers",),
    cautions=("Saw unplugged.",),
    asks=(
        Ask("gap", "the gap", kind=Kind.GAP, instrument="feelers", need=(1, 3), expect=(-2.0, 2.0)),
        Ask("rocks", "does it rock", kind=Kind.CHOICE, choices=("yes", "no"), optional=True),
        Ask("wall", "the wall at three places", stations=("near", "middle", "far"), optional=True, least=2),
        Ask("step", "the step along it", stations=2, optional=True),
        Ask("lean", "how far it leans", kind=Kind.ANGLE, instrument="angle-gauge", optional=True),
        Ask("count", "how many", kind=Kind.COUNT, optional=True, row="pairs"),
        Ask("warm", "how warm", kind=Kind.TEMPERATURE, optional=True, row="pairs"),
        Ask("both", "both ends", stations=("left", "right"), optional=True),
    ),
    facts=(
        Fact("side", "the side it is on", choices=("left", "right")),
        Fact("reach", "how far it reaches", kind=Kind.LENGTH, needed_for=Need.MOVE),
        Fact("thread", "its thread", kind=Kind.THREAD, needed_for=Need.MOVE),
    ),
    steps=(Step("Read all.", ("gap", "rocks", "wall", "step", "lean", "count", "warm", "both")),),
    evaluate=_evaluate,
    moves=_moves,
    blunders=(_too_big, _odd),
    draw=_draw,
    example=Example(("gap=0.01",), (("gap", 0.254),), "invented for the test"),
    sources=("invented for the test",),
    between_runs=BetweenRuns("hands", Scatter(0.01, 4), "invented for the test"),
)
PLAIN = replace(GAP, between_runs=None)
