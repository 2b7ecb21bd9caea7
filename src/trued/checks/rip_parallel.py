"""Rip parallel: are strips ripped at one setting alike wide from end to end, and one like the other?"""

from __future__ import annotations

import math

from trued.drawing.shapes import Arrow, Drawing, Label, Path, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.instrument import DEFAULTS, Instrument
from trued.measure.sd_interval import sd_uncertainty
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
from trued.procedure.gross_errors import fraction_display
from trued.procedure.quantities import inches, size
from trued.procedure.reading_rules import no_size, slipped_unit
from trued.procedure.series import creep, floor_of, scatter_of
from trued.procedure.sketch.pieces import Shape, measured

TAPER, REPEAT = "rip-taper", "rip-repeat"
TAPER_TOLERANCE = ToleranceLimits.within(inches(0.005))  # common practice
FEED = EstimatedSd(0.05, 4)  # mm: how one strip's taper scatters with the feed, common practice, 0.002 in
LABEL = "feeding and reading a strip"
BULGE = inches(0.005)  # common practice
UNLIKE = inches(0.010)  # common practice: tapers that differ by more come from the feed
WIDTHS = ("lead", "middle", "trail")
NEVER_0 = "{places}: a strip has a width. Measure again."


def tapers(taken: RunInput) -> tuple[float, ...]:
    """Leading less trailing width of each strip: above nought it narrows toward its trailing end."""
    return tuple(lead - trail for lead, trail in zip(taken.all("lead"), taken.all("trail"), strict=True))


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Mean taper of the strips, the caliper's limit of error cancelling; from three strips on how they repeat."""
    values, instrument = tapers(taken), _instrument(taken)
    own = max(instrument.repeat.s, floor_of(instrument))
    known = EstimatedSd(math.hypot(FEED.s, math.sqrt(2.0) * own), FEED.dof).learn_repeats(values)
    source = ErrorSource("strips:taper", LABEL, known.s / math.sqrt(len(values)), known.dof)
    mean = UncertainValue.of(math.fsum(values) / len(values), source)
    found = [FeatureResult(TAPER, "mm", mean, taken.tolerance(TAPER))]
    if len(values) > 2:
        seen = scatter_of(taken.all("middle"), instrument)
        found.append(FeatureResult(REPEAT, "mm", sd_uncertainty("strips:scatter", "few strips", seen), spread=seen))
    return tuple(found)


def _instrument(taken: RunInput) -> Instrument:
    return taken.of("lead")[0].instrument or DEFAULTS["caliper"]


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Nothing is turned: a fence out of parallel does not taper a strip, an edge that leaves the fence does."""
    taper = founds[0].value.value
    when = "toward the end of the feed" if taper > 0.0 else "at the start of the feed"
    narrow = "trailing" if taper > 0.0 else "leading"
    text = (
        "Hold the edge to the fence all the way: turn no screw. "
        f"The {narrow} end is {size(taper, taken.unit)} narrower: there the edge was off the fence, {when}. The width "
        "is teeth to fence, whatever its toe. Straighten the edge. Press toward the fence just before the blade."
    )
    return (Move(TAPER, text, "edge", "in", None),)


def bulges(taken: RunInput) -> tuple[float, ...]:
    """How far each strip's middle stands out from the line between its ends."""
    rows = zip(*(taken.all(name) for name in WIDTHS), strict=True)
    return tuple(middle - (lead + trail) / 2.0 for lead, middle, trail in rows)


def other_setting(taken: RunInput) -> Flag | None:
    """Strips too unlike to be of one setting."""
    values = [r.value for name in WIDTHS for r in taken.of(name)]
    text = (
        "These widths differ by more than a sixteenth of an inch: they are not of one setting, or one was misread. Rip "
        "all strips without touching the fence."
    )
    wide = max(values) - min(values) > inches(1 / 16)
    return Flag("other-setting", Severity.DOUBT, text) if wide and slipped_unit(taken) is None else None


def stock_moved(taken: RunInput) -> Flag | None:
    """A middle that stands out: no line through the ends says anything."""
    values, instrument = bulges(taken), _instrument(taken)
    mean = math.fsum(values) / len(values)
    own = math.sqrt(1.5) * max(instrument.repeat.s, floor_of(instrument))
    u = math.hypot(FEED.s, own) / math.sqrt(len(values))
    if abs(mean) <= max(BULGE, 3.0 * u) or slipped_unit(taken) is not None:
        return None
    why = (
        "the piece came off the fence on its way, its edge is hollow, or stress let it close"
        if mean < 0.0
        else "its edge is crowned and rocked, or stress let it open"
    )
    text = (
        f"The strips are {'thin' if mean < 0 else 'fat'} in the middle by {size(mean, taken.unit)}: {why}. Straighten "
        "the edge, rip once more, and look at the strip against a straightedge before any taper is believed."
    )
    return Flag("stock-moved", Severity.DOUBT, text)


def unlike_tapers(taken: RunInput) -> Flag | None:
    """Strips that taper each another way: it is the hand."""
    values = tapers(taken)
    apart = max(values) - min(values)
    text = (
        f"The strips taper each in its own way, {size(apart, taken.unit)} apart: that is the feed, not the fence. Feed "
        "alike, without a stop on the way."
    )
    return Flag("unlike-tapers", Severity.NOTE, text) if UNLIKE < apart <= inches(1 / 16) else None


def fence_creeps(taken: RunInput) -> Flag | None:
    """Strips that get wider or narrower one after the other: the fence does not stay."""
    line = creep(taken.all("middle"), _instrument(taken))
    if line is None:
        return None
    text = (
        f"The strips get {'wider' if line.slope > 0 else 'narrower'} one after the other, by "
        f"{size(line.slope, taken.unit)} each: the fence creeps. Stop, lock it anew, and measure its toe again (check "
        "rip-fence) before anything more is ripped."
    )
    return Flag("fence-creeps", Severity.DOUBT, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The strip along the fence from above, fed away from the operator; afterwards its taper much enlarged."""
    fence = rectangle(5, -9, 1.4, 18, "fence")
    feed: list[Shape] = [Arrow((-6, -6), (-6, 4), "feed"), Label((-6, -7.4), "feed")]
    if not founds:
        shapes: list[Shape] = [fence, rectangle(1, -8, 4, 16, "strip"), *feed, Label((5.7, 10), "fence")]
        for y, words in ((6.5, "lead"), (0.0, "middle"), (-6.5, "trail")):
            shapes += measured((1, y), (5, y), words, (0, y - 0.4), "end")
        told = (
            "The strip beside the fence, seen from above, fed away from the operator. Measure its width near the "
            "end that went in first (lead), in the middle, and near the end that came last (trail)."
        )
        return Drawing("Rip parallel: where to measure", told, tuple(shapes))
    taper = founds[0].value.value
    off = 0.0 if abs(taper) < 1e-9 else math.copysign(1.6, taper)
    lead, trail = 1.0 + max(0.0, -off), 1.0 + max(0.0, off)
    shapes = [
        fence,
        Path(((5, -8), (5, 8), (lead, 8), (trail, -8)), "strip"),
        *feed,
        Label((0, -6.8), "trail", anchor="end"),
        Label((0, 6.2), "lead", anchor="end"),
    ]
    if off:
        y = -6.0 if off > 0 else 6.0
        shapes += [Arrow((0.4, y), (2.8, y), "move"), Label((-1, y + 2.2), "press here", "move", "end")]
    narrow = "trailing" if taper > 0 else "leading"
    mend = "Press to the fence there."
    told = (
        f"The strip beside the fence, seen from above. Its {narrow} end is narrower by {size(taper, taken.unit)}, "
        f"drawn much larger. {mend}"
    )
    return Drawing("Rip parallel: what was found", told, tuple(shapes), mend)


CHECK = Check(
    id="rip-parallel",
    version=1,
    title="Rip taper: same width end to end?",
    purpose="Tells a strip that left the fence from a saw that is out, and finds how well a width repeats.",
    minutes=8.0,
    features=(
        Feature(
            TAPER,
            "mm",
            "rip taper",
            limits=TAPER_TOLERANCE,
            sides=("trailing end narrow", "trailing end wide"),
            owner="saw",
            turn=530,
        ),
        Feature(REPEAT, "mm", "rip width repeatability", owner="saw", spread=True, turn=320),
    ),
    ground=(
        "knife",
        *(f"insert-{edge}-{side}" for edge in ("operator", "far") for side in ("keeper", "offcut")),
        "rip-toe",
        "rip-fence-angle",
    ),
    at_hand=(
        "a straight-edged board, longer than it is wide and at least 12 in long",
        "push stick or push block",
        "a caliper",
    ),
    cautions=(
        "Not before knife, insert and fence toe are proven: a fence that toes in or a kerf that closes throws work.",
        "Riving knife and guard on; push stick for strips under 6 in; stand out of the line of the strip.",
        "Nothing shorter than from blade to knife, nothing wider than long against the rip fence, never freehand.",
        "The saw's manual goes before this page.",
    ),
    made_on="fence",
    asks=(
        ReadingSpec(
            "lead",
            "width of a strip near the end that went in first; named again for each strip, in the order ripped",
            advise=3,
            row="strip",
            expect=(3.0, 320.0),
            one_thing=False,
            positive=NEVER_0,
            alike="strips",
        ),
        ReadingSpec(
            "middle",
            "width of the same strip in its middle",
            advise=3,
            row="strip",
            one_thing=False,
            positive=NEVER_0,
            alike="strips",
        ),
        ReadingSpec(
            "trail",
            "width of the same strip near the end that came last",
            advise=3,
            row="strip",
            one_thing=False,
            positive=NEVER_0,
            alike="strips",
        ),
    ),
    steps=(
        Step("Set the fence, lock it, and do not touch it again. Mark the end of the board that goes in first."),
        Step(
            "Rip three strips or more, the fresh edge planed or the straight edge to the fence each time; number them.",
            caution="Let a strip lie until the blade stands; never reach over or behind the blade for it.",
        ),
        Step(
            "Slice off the fuzz. Measure each strip two inches from either end and in the middle.",
            asks=("lead", "middle", "trail"),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        slipped_unit,
        other_setting,
        stock_moved,
        fraction_display,
        fence_creeps,
        unlike_tapers,
    ),
    draw=draw,
    example=Example(
        (
            *("lead=2.012", "middle=2.008", "trail=2.004", "lead=2.014", "middle=2.009", "trail=2.004"),
            *("lead=2.013", "middle=2.008", "trail=2.004"),
        ),
        ((TAPER, inches(0.009)), (REPEAT, inches(0.00057735026918962575))),
        "worked by hand: mean of 0.008, 0.010 and 0.009",
    ),
    sources=(
        "common practice: a taper of 0.005 in; 0.002 in for the feed of one strip",
        "the width of a rip is the distance of the teeth from the fence where the edge touches it: geometry",
        "standard deviation with its chi-square interval",
    ),
)
