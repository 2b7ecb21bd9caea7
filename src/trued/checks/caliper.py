"""Caliper and rule: is the measuring good enough to judge anything by it?"""

from __future__ import annotations

import math

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.instrument import DEFAULTS, Instrument
from trued.measure.sd_interval import sd_uncertainty
from trued.procedure import (
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
from trued.procedure.declaration import Reading
from trued.procedure.gross_errors import burned, fraction_display, is_slip, slipped, unit_slip
from trued.procedure.quantities import MIL, inches, size
from trued.procedure.reading_rules import no_size
from trued.procedure.series import creep, own_mean, scatter_of
from trued.procedure.sketch.pieces import Shape, measured

ZERO, REPEAT, SCALE, JAWS = "caliper-zero", "caliper-repeat", "caliper-scale", "caliper-jaws"
HOOK, START = "tape-hook", "tape-start"
ZERO_TOLERANCE = ToleranceLimits.within(inches(0.0005))  # common practice
REPEAT_TOLERANCE = ToleranceLimits(
    None, inches(0.001)
)  # one standard deviation on an edge of wood or MDF, common practice
JAWS_TOLERANCE = ToleranceLimits.within(inches(0.001))  # common practice: more is worn jaws
TAPE_TOLERANCE = ToleranceLimits.within(inches(1 / 64))  # common practice
WANDER = inches(0.001)  # common practice: closed jaws come back nearer than this
BURNED = 3.0  # mm: a worn hook and a coarse tape are within this of each other, common practice
ONE_PIECE = ("marked", "known", "tip", "root")
TAPE = ("hook_pull", "hook_push", "from_line")
NEVER_0 = "{places}: nothing that is measured can be 0; only the closed jaws may read it."


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Zero and repeat; scale against a known piece, jaws from tip to beam, and the tape's hook where they were read.

    The caliper's limit of error is nowhere added: its own error is what is looked for.
    """
    zero = _mean(taken, "closed")
    known = scatter_of(taken.all("edge"), _caliper(taken))
    found = [
        FeatureResult(ZERO, "mm", zero, taken.tolerance(ZERO)),
        FeatureResult(
            REPEAT,
            "mm",
            sd_uncertainty("edge:scatter", "few readings", known),
            taken.tolerance(REPEAT),
            spread=known,
        ),
    ]
    if taken.has("known") and taken.has("marked"):
        error = _mean(taken, "known") - taken.mean("marked") - zero
        limit = ToleranceLimits.within(_caliper(taken).limit or WANDER)
        found.append(FeatureResult(SCALE, "mm", error, taken.tolerance(SCALE, limit)))
    if taken.has("tip") and taken.has("root"):
        found.append(FeatureResult(JAWS, "mm", _worn(taken), taken.tolerance(JAWS)))
    return (*found, *_tape(taken))


def _tape(taken: RunInput) -> list[FeatureResult]:
    found = []
    if taken.has("hook_pull") and taken.has("hook_push"):
        slack = taken.mean("hook_push") - taken.mean("hook_pull")
        found.append(FeatureResult(HOOK, "mm", slack, taken.tolerance(HOOK)))
    if taken.has("hook_pull") and taken.has("from_line"):
        start = taken.mean("hook_pull") - taken.mean("from_line")
        found.append(FeatureResult(START, "mm", start, taken.tolerance(START)))
    return found


def _caliper(taken: RunInput) -> Instrument:
    return taken.of("closed")[0].instrument or DEFAULTS["caliper"]


def _mean(taken: RunInput, name: str) -> UncertainValue:
    """Mean by the scatter of these readings alone: closed jaws repeat better than an edge of wood does."""
    return own_mean(f"{name}:mean", f"caliper: repeat of {name}", taken.all(name), _caliper(taken))


def _worn(taken: RunInput) -> UncertainValue:
    """Tips less beam: one piece, held twice over, so that both series show one scatter, with the freedom of both."""
    caliper, ends = _caliper(taken), (taken.all("tip"), taken.all("root"))
    freedom = sum(len(values) - 1 for values in ends)
    square = math.fsum((len(values) - 1) * scatter_of(values, caliper).s ** 2 for values in ends) / freedom
    seen = square >= (caliper.resolution / 2.0) ** 2  # else the steps hide what lies below them
    share = math.fsum(1.0 / len(values) if seen else 1.0 for values in ends)
    tip, root = (math.fsum(values) / len(values) for values in ends)
    own = ErrorSource("jaws:mean", "caliper: repeat of tip and root", math.sqrt(square * share), freedom)
    return UncertainValue.of(tip - root, own)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Zero anew; take the mean of more readings; for the rest, what to measure with instead."""
    return tuple(_move(taken, found) for found in founds)


def _move(taken: RunInput, found: FeatureResult) -> Move:
    value, limits = found.value.value, found.limits
    out = size(value, taken.unit)
    if found.feature == REPEAT:
        text = _repeat_move(value, limits.high if limits and limits.high else value, out)
        return Move(REPEAT, text, "caliper", "down", None)
    texts = {
        ZERO: f"Closed, it reads {out} {'too much' if value > 0 else 'too little'}. Clean both jaws with paper drawn "
        "between them, close them lightly and set the zero anew; then close them five times more.",
        SCALE: f"It reads {out} {'more' if value > 0 else 'less'} than the known piece, its zero taken off. Write that "
        "down as its limit of error, or compare with the known piece instead of reading lengths.",
        JAWS: f"At the tips it reads {out} {'more' if value > 0 else 'less'} than near the beam: the jaws are worn or "
        "the slide is loose. Take up the gib, and read near the beam always.",
        HOOK: f"Pushed, the hook reads {out} {'more' if value > 0 else 'less'} than pulled. Bend or free it until it "
        "slides by its own thickness, or read inside and outside sizes both from a line.",
        START: f"From its hook the tape reads {out} {'more' if value > 0 else 'less'} than from a line. Use a line as "
        "its start, or take that off.",
    }
    amount = abs(value) if found.feature in (ZERO, HOOK, START) else None
    where = "tape" if found.feature in (HOOK, START) else "caliper"
    return Move(found.feature, texts[found.feature], where, "down" if value > 0 else "up", amount)


def _repeat_move(s: float, limit: float, out: str) -> str:
    times = math.ceil((s / limit) ** 2)
    return (
        f"One reading wanders by {out} (one standard deviation). Slice off fuzz, rock the caliper to its least "
        f"reading, press alike. Until then read every spot {times} times and take the mean, as good as one good one."
    )


def slipped_unit(taken: RunInput) -> Flag | None:
    """Readings of one and the same piece, one of them in the other unit."""
    marked = taken.of("marked")
    for r in taken.of("known") if marked else ():
        large, small = max(r.value, marked[0].value), min(r.value, marked[0].value)
        if is_slip(large, small):
            return slipped(taken, r, marked[0].value, "beside what is marked on the piece")
    groups: list[list[Reading]] = [[r for n in names for r in taken.of(n)] for names in (("known",), ("edge",), TAPE)]
    groups.append([r for n in ("tip", "root") for r in taken.of(n)])
    return next((seen for group in groups if (seen := unit_slip(taken, group)) is not None), None)


def burned_inch(taken: RunInput) -> Flag | None:
    """The stick read from a line of the tape, and the line not taken off; or a rule read from a line."""
    if not (taken.has("hook_pull") and taken.has("from_line")):
        return None
    off = taken.mean("from_line").value - taken.mean("hook_pull").value
    ten = burned(off, taken.unit, BURNED) or ("10 in" if abs(abs(off) - inches(10.0)) <= BURNED else "")
    text = (
        f"From the line the stick comes out {ten} {'longer' if off > 0 else 'shorter'} than from the hook: was the "
        "line that it was read from taken off? Type the length, not the mark."
    )
    return Flag("burned-inch", Severity.DOUBT, text) if ten else None


def light(taken: RunInput) -> Flag | None:
    """Light between the closed jaws: what they read closed is no zero."""
    text = (
        "There is light between the closed jaws: dirt, a burr or wear. Clean them with paper drawn between them and "
        "look again; as they are, what they read closed is not their zero."
    )
    return Flag("light-in-jaws", Severity.DOUBT, text) if taken.choice("light") == "yes" else None


def not_zeroed(taken: RunInput) -> Flag | None:
    """The same error in every reading: which sums it spoils, and which not."""
    zero = _mean(taken, "closed")
    limits = taken.tolerance(ZERO)
    if limits.hold(zero.value) or abs(zero.value) <= 2.0 * zero.u:
        return None
    text = (
        f"Every reading holds {size(zero.value, taken.unit)} too {'much' if zero.value > 0 else 'little'}. A taper or "
        "any other difference of two readings is right all the same; a length, a thickness or a kerf is not."
    )
    return Flag("not-zeroed", Severity.NOTE, text)


def zero_wanders(taken: RunInput) -> Flag | None:
    """Closed jaws that do not come back to one number."""
    wander = taken.worst_repeat("closed")
    text = (
        f"Closed five times, the jaws come back within {size(wander, taken.unit)} only: dirt, a loose gib, or pressed "
        "unlike. Mend that before the zero is set."
    )
    return Flag("zero-wanders", Severity.NOTE, text) if wander > WANDER + 1e-9 else None


def crushed(taken: RunInput) -> Flag | None:
    """An edge of MDF or soft wood that gives way under the jaws, reading after reading."""
    line = creep(taken.all("edge"), _caliper(taken))
    if line is None or line.slope > 0.0:
        return None
    text = (
        f"The edge gets thinner with each reading, by {size(line.slope, taken.unit)} a time: the jaws crush it. Press "
        "less, read a fresh spot beside it, or use a piece of hard wood; this scatter is not the caliper's."
    )
    return Flag("crushed-edge", Severity.DOUBT, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """A caliper with a piece near the beam and at the tips; afterwards closed, its zero much enlarged."""
    beam: list[Shape] = [rectangle(-12, 0, 24, 2, "fixture")]
    if not founds:
        shapes = [
            *beam,
            _jaw(-10, 1),
            _jaw(2, -1),
            rectangle(-8, -4.4, 8, 2.2, "board"),
            *measured((-8, -3.3), (0, -3.3), "edge", (-4, -6.2)),
            Label((-13, -1), "root", anchor="end"),
            Label((-10, -9), "tip"),
            Label((6, -2), "beam", anchor="start"),
        ]
        told = (
            "A caliper from the side. Closed, it must read nought and let no light through. Then one edge of wood or "
            "MDF is read five times at one marked spot, and a piece of known size near the beam (root) and at the tips."
        )
        return Drawing("Caliper: what to read", told, tuple(shapes))
    zero, repeat = founds[0].value.value, founds[1].value.value
    off = 0.0 if abs(zero) < 1e-9 else math.copysign(2.0, zero)
    shapes = [
        *beam,
        _jaw(-6, 1),
        _jaw(-2, -1),
        Line((2, 3.2), (2, 2), "wanted", dashed=True),
        Line((2 + off, 3.2), (2 + off, 2), "found"),
        Label((2, 4), "0"),
    ]
    if off:
        shapes += [Arrow((2 + off, 5.4), (2, 5.4), "move"), Label((8, 6.6), "set the zero anew", "move")]
    told = (
        f"A caliper from the side, its jaws closed: it reads {size(zero, taken.unit)} "
        f"{'too much' if zero > 0 else 'too little' if zero < 0 else 'off'}, drawn much larger. One reading of an edge "
        f"wanders by {size(repeat, taken.unit)} (one standard deviation)."
    )
    return Drawing("Caliper: what was found", told, tuple(shapes))


def _jaw(x: float, way: int) -> Path:
    return Path(((x, 1), (x + way * 2, 1), (x + way * 2, -8), (x + way * 1.4, -8), (x, -3)), "stop")


CHECK = Check(
    id="caliper",
    version=1,
    title="Caliper and tape: can you trust the readings?",
    purpose="Finds the zero, the repeat and the wear of a caliper and the slack of a tape's hook: every other check "
    "rests on them.",
    minutes=5.0,
    features=(
        Feature(
            ZERO,
            "mm",
            "caliper zero",
            limits=ZERO_TOLERANCE,
            sides=("reads over", "reads under"),
            owner="caliper",
            doubts=(AddedUncertainty("caliper-dropped", 2 * MIL),),
            turn=470,
        ),
        Feature(REPEAT, "mm", "caliper repeatability", limits=REPEAT_TOLERANCE, owner="caliper", spread=True, turn=480),
        Feature(SCALE, "mm", "caliper scale error", owner="caliper", turn=490),
        Feature(
            JAWS,
            "mm",
            "caliper jaw taper",
            limits=JAWS_TOLERANCE,
            sides=("tips read more", "tips read less"),
            owner="caliper",
            turn=500,
        ),
        Feature(
            HOOK,
            "mm",
            "tape hook play",
            limits=TAPE_TOLERANCE,
            sides=("pushed reads more", "pushed reads less"),
            owner="tape",
            turn=510,
        ),
        Feature(
            START,
            "mm",
            "tape zero",
            limits=TAPE_TOLERANCE,
            sides=("reads over", "reads under"),
            owner="tape",
            turn=520,
        ),
    ),
    at_hand=(
        "the caliper, the tape, a strip of paper",
        "a scrap of wood or MDF as you usually measure it, one spot marked",
        "one piece of known size: a gauge block, the race of a bearing, the shank of a drill",
        "a straight stick for the tape, longer than the slack of the hook matters",
    ),
    cautions=(
        "Nothing is switched on for this. Never measure at a blade that can turn: saw unplugged, battery out.",
        "The jaws' tips are sharp.",
    ),
    asks=(
        ReadingSpec(
            "closed",
            "what it shows with the jaws closed lightly, opened and closed anew each time",
            kind=Kind.GAP,
            need=(3, 20),
            advise=5,
            expect=(-3.0, 3.0),
        ),
        ReadingSpec(
            "light",
            "whether light comes through the closed jaws",
            kind=Kind.CHOICE,
            choices=("yes", "no"),
            optional=True,
        ),
        ReadingSpec(
            "edge",
            "one marked spot of wood or MDF, the caliper taken off each time",
            need=(3, 30),
            advise=5,
            positive=NEVER_0,
        ),
        ReadingSpec("marked", "the true size of the known piece", instrument="gauge", optional=True, positive=NEVER_0),
        ReadingSpec(
            "known",
            "the known piece, in the middle of the jaws",
            need=(2, 20),
            advise=5,
            optional=True,
            positive=NEVER_0,
        ),
        ReadingSpec(
            "tip", "the known piece at the tips of the jaws", need=(2, 20), advise=3, optional=True, positive=NEVER_0
        ),
        ReadingSpec("root", "the known piece near the beam", need=(2, 20), advise=3, optional=True, positive=NEVER_0),
        ReadingSpec(
            "hook_pull",
            "the stick with the hook over its end, pulled",
            instrument="tape",
            advise=2,
            optional=True,
            positive=NEVER_0,
        ),
        ReadingSpec(
            "hook_push",
            "the stick butted against a wall, the hook pushed against the wall",
            instrument="tape",
            advise=2,
            optional=True,
            positive=NEVER_0,
        ),
        ReadingSpec(
            "from_line",
            "the stick from the 10 in or 100 mm line, that line taken off",
            instrument="tape",
            advise=2,
            optional=True,
            positive=NEVER_0,
        ),
    ),
    steps=(
        Step(
            "Draw paper between the closed jaws, look against the light, and close them five times.",
            ("closed", "light"),
        ),
        Step(
            "Read one marked edge of wood or MDF five times, as you always press, rocking to the least reading: tilted "
            "by 2° it reads 0.0006 in an inch too much.",
            ("edge",),
        ),
        Step("Read the known piece five times in the middle of the jaws.", ("marked", "known")),
        Step("Read it at the tips, and near the beam.", ("tip", "root")),
        Step(
            "Measure one stick with the tape: hook pulled, hook pushed, and from a line.",
            ("hook_pull", "hook_push", "from_line"),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(no_size, slipped_unit, burned_inch, light, fraction_display, crushed, zero_wanders, not_zeroed),
    draw=draw,
    example=Example(
        (
            *("closed=0.000", "closed=0.0005", "closed=0.000", "closed=0.0005", "closed=0.000"),
            *("edge=0.7425", "edge=0.7430", "edge=0.7420", "edge=0.7425", "edge=0.7430"),
        ),
        ((ZERO, inches(0.0002)), (REPEAT, inches(0.00041833001326703777))),
        "worked by hand: mean of the closed jaws, standard deviation of the edge",
    ),
    sources=(
        "common practice: zero within 0.0005 in, repeat of 0.001 in on wood, jaws alike within 0.001, hook within 1/64",
        "standard deviation with its chi-square interval, from n - 1 degrees of freedom",
        "the scale is held against the caliper's limit of error, as its maker says it",
    ),
)
