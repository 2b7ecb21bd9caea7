"""Repeat of the length stop: several parts at one setting; their scatter, and what they all are off by."""

from __future__ import annotations

import math
from itertools import pairwise

from trued.drawing.shapes import Arrow, Drawing, Label, Line, rectangle
from trued.measure.decision import Conformity, ToleranceLimits, judge
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.distribution.student import t_quantile
from trued.measure.distribution.tolerance_factor import tolerance_factor
from trued.measure.fitting.line import fit_line
from trued.measure.instrument import DEFAULTS, Instrument
from trued.measure.sd_interval import sd_uncertainty, spread_chances
from trued.procedure import (
    Check,
    Example,
    Feature,
    FeatureResult,
    Flag,
    Move,
    ReadingSpec,
    RunInput,
    Severity,
    Step,
)
from trued.procedure.gross_errors import burned, fraction_display, is_slip, slipped
from trued.procedure.quantities import inches, place, size
from trued.procedure.reading_rules import no_size
from trued.procedure.series import deviation
from trued.procedure.shared.cursor import CURSOR_FACT, KEEPER_FACT
from trued.procedure.shared.stop import STOP_OFFSET, cursor_move, cuts_of, mis_cut, scale_of, stop_now
from trued.procedure.sketch.pieces import Shape, measured
from trued.standing.stop_history import EACH as REPEAT
from trued.standing.stop_history import OFFSET, SETTING
from trued.standing.stop_model import Cuts

REPEAT_TOLERANCE = ToleranceLimits(None, inches(0.0015))  # common practice: a range of 0.0035 in over five parts
SETTING_TOLERANCE = ToleranceLimits(None, inches(0.005))  # common practice: the eye sets a line to about 0.010 in
RARE = 0.001  # a clean series is taken for a drift, or for a first part that differs, once in 500: two sides of this
LEAST_FOR_SERIES = 4
CONTENT = CONFIDENCE = 0.95
NEVER_0 = "{places}: neither the setting nor a part can be 0."


def scatter(taken: RunInput) -> EstimatedSd:
    """Scatter of the parts as measured: n - 1 degrees of freedom, and never finer than the instrument shows."""
    values = taken.all("part")
    return EstimatedSd(max(deviation(values), _floor(taken)), len(values) - 1)


def _instrument(taken: RunInput) -> Instrument:
    return taken.of("part")[0].instrument or DEFAULTS["caliper"]


def _floor(taken: RunInput) -> float:
    return _instrument(taken).resolution / math.sqrt(12.0)


def parts(taken: RunInput) -> tuple[Cuts, ...]:
    """The parts of the first setting, and the one of each setting made anew."""
    at = taken.mean("set").value
    return (cuts_of(at, taken.of("part")), *(cuts_of(at, (one,)) for one in taken.of("relocked")))


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Scatter of the parts at one setting; how the stop is set anew, where it was; what parts are off by.

    What the scale was read as is taken as it stands. Parts of one reading cannot tell its offset from its slope: the
    offset carries what a scale's slope usually is.
    """
    known, settings = scatter(taken), parts(taken)
    found = sd_uncertainty("parts:scatter", "few parts", known)
    founds = [FeatureResult(REPEAT, "mm", found, taken.tolerance(REPEAT), spread=known)]
    now = stop_now(taken, settings)
    if now.seen:
        anew = now.setting
        limits = taken.tolerance(SETTING)
        founds.append(
            FeatureResult(SETTING, "mm", sd_uncertainty("stop:setting", "few settings", anew), limits, spread=anew)
        )
    offset, _ = scale_of(taken, settings)
    return (*founds, FeatureResult(OFFSET, "mm", offset, taken.tolerance(OFFSET)))


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """A stop that scatters is mended before its cursor is touched; a constant shift goes into the cursor."""
    found = {one.feature: one for one in founds}
    repeat, offset = found[REPEAT], found[OFFSET]
    mend = (
        f"Clean the stop and fence: it does not repeat ({size(repeat.value.value, taken.unit)}, one standard "
        "deviation). Leave the cursor alone. Check lock and flex. Bump lightly, the same way each time. Cut five more."
    )
    made = [Move(REPEAT, mend, "stop", "in", None)]
    if SETTING in found:
        lock = (
            "Clean the stop and rail: it does not come back to a setting "
            f"({size(found[SETTING].value.value, taken.unit)}, one standard deviation). Leave the cursor alone. Hold "
            "the stop while you lock, always from the same side. Until then measure the first part of every setting."
        )
        made.append(Move(SETTING, lock, "stop", "in", None))
    if _scatters(taken, repeat) or (SETTING in found and _out(found[SETTING])):
        return tuple(made)
    cursor = cursor_move(taken, offset.value, taken.mean("set").value, parts(taken), offset.limits)
    return tuple(made) if cursor is None else (*made, cursor)


def _scatters(taken: RunInput, repeat: FeatureResult) -> bool:
    return judge(spread_chances(scatter(taken), repeat.limits or REPEAT_TOLERANCE)) is Conformity.PROVEN_OUT


def _out(found: FeatureResult) -> bool:
    known, limits = found.spread, found.limits
    return known is not None and limits is not None and judge(spread_chances(known, limits)) is Conformity.PROVEN_OUT


def slipped_unit(taken: RunInput) -> Flag | None:
    """A part typed in another unit than the setting."""
    setting = taken.mean("set").value
    for r in (*taken.of("part"), *taken.of("relocked")):
        if is_slip(r.value, setting):
            return slipped(taken, r, r.value / 25.4, "against the setting")
        if is_slip(setting, r.value):
            return slipped(taken, r, r.value * 25.4, "against the setting")
    return None


def burned_inch(taken: RunInput) -> Flag | None:
    """A part off by a whole inch, or by 10 or 100 mm."""
    setting = taken.mean("set").value
    off = [(r, words) for r in taken.of("part") if (words := burned(r.value - setting, taken.unit))]
    if not off:
        return None
    names = ", ".join(place(r) for r, _ in off)
    text = f"{names}: off by {off[0][1]}. Was the rule read from that line instead of its end? Read again."
    return Flag("burned-inch", Severity.DOUBT, text)


def drifting(taken: RunInput) -> Flag | None:
    """The stop creeps: a line through the parts in their order rises or falls by more than their scatter about it.

    Decided by the t test of its slope at 1 in 500, the scatter never taken finer than the instrument shows.
    """
    parts = taken.all("part")
    if len(parts) < LEAST_FOR_SERIES:
        return None
    line = fit_line(range(len(parts)), parts)
    s = max(line.s, _floor(taken))
    if abs(line.slope) * math.sqrt(line.sxx) <= t_quantile(1.0 - RARE, line.dof) * s:
        return None
    steady = all(b > a for a, b in pairwise(parts)) or all(b < a for a, b in pairwise(parts))
    text = (
        f"The parts get {'longer' if line.slope > 0 else 'shorter'} one after the other, by "
        f"{size(line.slope, taken.unit)} a part{', without exception' if steady else ''}: the stop creeps. Lock it "
        "better, bump less, and cut again; this mean is worth nothing."
    )
    return Flag("drifting", Severity.DOUBT, text)


def first_part(taken: RunInput) -> Flag | None:
    """The first part lies apart from all the others: the stop seated itself with it."""
    first, *rest = taken.all("part")
    if len(rest) < LEAST_FOR_SERIES - 1 or drifting(taken) is not None:
        return None
    mean = math.fsum(rest) / len(rest)
    s = math.sqrt(math.fsum((v - mean) ** 2 for v in rest) / (len(rest) - 1))
    u = max(s, _floor(taken)) * math.sqrt(1.0 + 1.0 / len(rest))
    if abs(first - mean) <= t_quantile(1.0 - RARE, len(rest) - 1) * u:
        return None
    text = (
        f"The first part differs from the others by {size(first - mean, taken.unit)}: the stop seats itself with it. "
        "Bump it once before the first cut, leave that part out, and cut again."
    )
    return Flag("first-part", Severity.DOUBT, text)


def one_is_mis_cut(taken: RunInput) -> Flag | None:
    """A part that fits neither its mates nor any likely scale; a creep or a first part has its own words."""
    if any(r.value <= 0.0 for r in taken.readings) or drifting(taken) or first_part(taken):
        return None
    names = [[place(r) for r in taken.of("part")], *([place(r)] for r in taken.of("relocked"))]
    return mis_cut(taken, parts(taken), names)


def reading_rules(taken: RunInput) -> Flag | None:
    """The scatter is no larger than one reading's own: it is the measuring that is seen, not the stop."""
    known, instrument = scatter(taken), _instrument(taken)
    if known.s > instrument.repeat.s:
        return None
    text = (
        f"The parts scatter no more than a reading with this {instrument.kind} does, so the stop itself repeats at "
        "least as well."
    )
    return Flag("reading-rules", Severity.NOTE, text)


def parts_to_come(taken: RunInput) -> Flag | None:
    """How far from their mean nearly all parts of this setting will lie."""
    n = len(taken.all("part"))
    if n <= LEAST_FOR_SERIES or drifting(taken) or first_part(taken):
        return None
    within = tolerance_factor(n, CONTENT, CONFIDENCE) * scatter(taken).s
    text = f"95% of parts cut like these lie within {size(within, taken.unit)} of their mean (95% sure, by {n} parts)."
    return Flag("parts-to-come", Severity.NOTE, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The stop with the part against it, and afterwards the parts one beside the other, differences exaggerated."""
    keeper = taken.word("keeper") or "left"
    k = -1 if keeper == "left" else 1
    seen = f"The fence with its stop, seen from above, the keeper {keeper} of the blade."
    if not founds:
        shapes: list[Shape] = [
            rectangle(min(0, k * 14), 0, 14, 1, "fence"),
            Line((0, -6), (0, 3), "blade"),
            rectangle(min(k * 12, k * 13), -2, 1, 3, "stop"),
            rectangle(min(0, k * 12), -1.6, 12, 1.5, "board"),
            *measured((0, -2.6), (k * 12, -2.6), "part", (k * 6, -4.2)),
            Arrow((k * 12, 3.5), (k * 12, 1.2), "read"),
            Label((k * 11, 4.2), "set"),
        ]
        told = f"{seen} The stop stays locked; five parts or more are cut against it and measured in their order."
        return Drawing("Stop repeat: what to read", told, tuple(shapes))
    setting, parts = taken.mean("set").value, taken.all("part")
    most = max(abs(v - setting) for v in parts) or 1.0
    ends = [10.0 + 2.0 * (v - setting) / most for v in parts]
    shapes = [rectangle(min(0, k * end), -2.0 * n, end, 1.4, "board") for n, end in enumerate(ends)]
    shapes += [
        Line((k * 10, 2.4), (k * 10, -2.0 * len(parts) + 1.0), "wanted", dashed=True),
        Label((k * 10, 3), "set"),
        Label((k * 5, 3), "the parts in their order"),
    ]
    found, mean = {one.feature: one.value.value for one in founds}, math.fsum(parts) / len(parts) - setting
    told = (
        f"{seen} The parts one below the other, in the order cut, their differences drawn much larger: on average "
        f"{size(mean, taken.unit)} {'long' if mean > 0 else 'short'}, with a standard "
        f"deviation of {size(found[REPEAT], taken.unit)}."
    )
    return Drawing("Stop repeat: what was found", told, tuple(shapes))


CHECK = Check(
    id="stop-repeat",
    version=2,
    title="Stop repeatability: same length every time?",
    purpose="Tells how parts of one setting scatter, how the stop comes back when set anew, and what it is off by.",
    minutes=8.0,
    features=(
        Feature(REPEAT, "mm", "stop repeatability", limits=REPEAT_TOLERANCE, spread=True, turn=40),
        Feature(SETTING, "mm", "stop setting", limits=SETTING_TOLERANCE, spread=True, turn=50),
    ),
    also=(STOP_OFFSET,),
    at_hand=("five or six blanks, one end square", "a caliper, or a mate to compare with", "a pencil for the order"),
    cautions=(
        "The stop stands on the keeper's side only; the offcut must be free to move away.",
        "Hands at least 6 in from the kerf; wait until the blade stands before each part is lifted off.",
    ),
    made_on="sled",
    asks=(
        ReadingSpec("set", "what the scale reads at this setting", instrument="rule", need=(1, 1), positive=NEVER_0),
        ReadingSpec(
            "part",
            "length of one part, in the order cut, named again for each",
            need=(2, 50),
            advise=5,
            one_thing=False,
            positive=NEVER_0,
        ),
        ReadingSpec(
            "relocked",
            "length of one part cut after the stop was unlocked, set anew to the same reading and locked",
            need=(1, 50),
            advise=4,
            optional=True,
            one_thing=False,
            positive=NEVER_0,
        ),
    ),
    facts=(
        KEEPER_FACT,
        CURSOR_FACT,
    ),
    steps=(
        Step(
            "Set the fence square, at no other angle: this teaches the scale of the square cut. Clean fence and stop. "
            "Set the stop, lock it as always, and do not touch it again.",
            asks=("set",),
        ),
        Step(
            "Cut five or six parts against it, each bumped alike with its square end; number them in order.",
            caution="Short parts are clamped or held with a second piece; the offcut lies until the blade stands.",
        ),
        Step("Slice off the fuzz and measure each part at the same place, in the order cut.", asks=("part",)),
        Step(
            "Unlock the stop, push it away, set it anew to the same reading, lock, cut one part. Four times; measure.",
            asks=("relocked",),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        slipped_unit,
        burned_inch,
        fraction_display,
        drifting,
        first_part,
        one_is_mis_cut,
        reading_rules,
        parts_to_come,
    ),
    draw=draw,
    parts=parts,
    example=Example(
        ("set=12.000", "part=12.003", "part=12.004", "part=12.003", "part=12.004", "part=12.003", "part=12.004"),
        ((REPEAT, inches(0.000547722557505)), (OFFSET, inches(0.0035))),
        "worked by hand: mean 0.0035, standard deviation 0.0005",
    ),
    sources=(
        "common practice: a constant shift goes into the setting or the cursor, a scatter is mended at the stop",
        "standard deviation with its chi-square interval; tolerances are common practice",
    ),
)
