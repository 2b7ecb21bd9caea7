"""Bar play in the slot at several places of the travel, and how far it lets the sled swing."""

from __future__ import annotations

from trued.drawing.shapes import Arrow, Drawing, Label, Path, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
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
    Need,
    ReadingSpec,
    RunInput,
    SetupFact,
    Severity,
    Step,
    per_quarter,
)
from trued.procedure.gross_errors import is_slip, slipped, unit_slip
from trued.procedure.quantities import MIL, MRAD, inches, place, size, slope, station_mm
from trued.procedure.shared.cursor import KEEPER_FACT
from trued.procedure.sketch.pieces import Shape, measured

PLAY, SWING, SLOT = "bar-play", "bar-swing", "slot-width"
PLACES = ("start", "middle", "end")
PLAY_TOLERANCE = ToleranceLimits(None, inches(0.004))  # common practice: 0.002 to 0.004 in with free sliding
SWING_TOLERANCE = ToleranceLimits(None, 0.004 / 12)  # rad; common practice
LEFT_FOR_SLIDING = inches(0.002)  # common practice: less binds where the slot is narrow
UNEVEN_SLOT = inches(0.004)  # common practice: no bar fits both its wide and its narrow spot
BEYOND_BAR = 6.0  # mm: how far a rule's reading of the engaged length may pass the bar's own
LEAST_SLIPPED = 1.0  # mm: plays below this differ 25 times in an honest slot too


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Largest play, largest play over engaged length, and the narrowest slot where its width was read."""
    plays = {at: taken.mean("play", at) + taken.between_runs() for at in taken.stations("play")}
    swings = {at: play / taken.mean("engaged", at) for at, play in plays.items()}
    founds = [
        FeatureResult(PLAY, "mm", _largest(plays), taken.tolerance(PLAY)),
        FeatureResult(SWING, "rad", _largest(swings), taken.tolerance(SWING)),
    ]
    if taken.has("slot"):
        narrowest = min((taken.mean("slot", at) for at in taken.stations("slot")), key=lambda w: w.value)
        founds.append(FeatureResult(SLOT, "mm", narrowest))
    return tuple(founds)


def _largest(values: dict[str, UncertainValue]) -> UncertainValue:
    return max(values.values(), key=lambda x: x.value)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Widen the bar by what it has to spare at the narrowest spot; where the slot is worn, press to one side."""
    least = min(taken.mean("play", at).value for at in taken.stations("play"))
    spare = least - LEFT_FOR_SLIDING
    press = "Until then press the sled to one side of the slot, always the same side."
    if spare <= 0.0:
        text = (
            "Press the sled to one side of the slot, always the same side. "
            f"At its narrowest the bar has only {size(least, taken.unit)} to spare: a wider bar would bind there. "
            "The slot is worn where the play is."
        )
        made = Move(PLAY, text, "bar", "out", None)
    else:
        text = (
            f"Widen the bar by {size(spare, taken.unit)} at the narrowest spot of the slot. Turn its adjusters out, or "
            f"put tape or shim on one edge. Leave {size(LEFT_FOR_SLIDING, taken.unit)} so that it slides freely all "
            f"the way. {press}"
        )
        made = Move(PLAY, text, "bar", "out", spare)
    swing = (
        f"Take up the play: the sled can swing by {slope(founds[1].value.value, taken.unit)} at its worst. Or keep "
        "more of the bar in the slot: a longer bar, a shorter start. Or press to one side."
    )
    return made, Move(SWING, swing, "bar", "out", None)


def unpaired(taken: RunInput) -> Flag | None:
    """A place with a play but no engaged length, or the other way."""
    play, engaged = set(taken.stations("play")), set(taken.stations("engaged"))
    lone = [f"play@{at}" for at in PLACES if at in play - engaged]
    lone += [f"engaged@{at}" for at in PLACES if at in engaged - play]
    text = f"{', '.join(lone)} stands alone: play and engaged length belong together, at the same places."
    return Flag("unpaired", Severity.REFUSE, text) if lone else None


def nothing_engaged(taken: RunInput) -> Flag | None:
    """No bar in the slot: there is no swing to work out."""
    zero = [place(r) for r in taken.of("engaged") if r.value <= 0.0]
    text = f"{', '.join(zero)}: some of the bar must be in the slot; measure how much."
    return Flag("nothing-engaged", Severity.REFUSE, text) if zero else None


def slipped_unit(taken: RunInput) -> Flag | None:
    """One play, engaged length or slot width typed in the other unit."""
    for name in ("engaged", "slot"):
        if seen := unit_slip(taken, taken.of(name)):
            return seen
    plays = taken.of("play")
    large, small = max(plays, key=lambda r: r.value), min(plays, key=lambda r: r.value)
    if large.value >= LEAST_SLIPPED and is_slip(large.value, small.value):
        return slipped(taken, large, large.value / 25.4, f"beside {place(small)}")
    return None


def beyond_bar(taken: RunInput) -> Flag | None:
    """More engaged than the bar is long."""
    bar = taken.number("bar")
    over = [r for r in taken.of("engaged") if bar is not None and r.value > bar + BEYOND_BAR]
    if bar is None or not over:
        return None
    names = ", ".join(place(r) for r in over)
    text = f"{names} is more than the whole bar ({size(bar, taken.unit, 2)}). Measure only what lies in the slot."
    return Flag("beyond-bar", Severity.DOUBT, text)


def binds(taken: RunInput) -> Flag | None:
    """No play at all at one place: it may bind there."""
    tight = [at for at in taken.stations("play") if taken.mean("play", at).value <= 0.0]
    if not tight:
        return None
    text = (
        f"No play at {', '.join(tight)}: does the sled still slide freely there? A bar that binds was adjusted at a "
        "wider spot."
    )
    return Flag("binds", Severity.NOTE, text)


def uneven_slot(taken: RunInput) -> Flag | None:
    """The slot's width changes by more than a bar can follow."""
    widths = {at: taken.mean("slot", at) for at in taken.stations("slot")}
    if len(widths) < 2:
        return None
    wide, narrow = (pick(widths, key=lambda at: widths[at].value) for pick in (max, min))
    differ = widths[wide] - widths[narrow]
    if differ.value <= UNEVEN_SLOT:
        return None
    where = size(station_mm(narrow, taken.unit), taken.unit, 2)
    text = (
        f"The slot is {size(differ.value, taken.unit)} wider at one place than at another. Fit the bar at the "
        f"narrowest, {where} along it; a bar fitted at the wide spot binds there."
    )
    return Flag("uneven-slot", Severity.NOTE, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The bar in the slot from above, at the start of the travel; afterwards swung as far as it can."""
    k = 1 if taken.word("keeper") == "right" else -1
    slot: list[Shape] = [
        rectangle(k * 5 - 1.2, -10, 0.3, 20, "table"),
        rectangle(k * 5 + 0.9, -10, 0.3, 20, "table"),
        Label((k * 5, 10.7), "far side"),
        Label((k * 5, -16.5), "your side"),
    ]
    bar = rectangle(k * 5 - 0.6, -15, 1.2, 14, "bar")
    keeper = taken.word("keeper") or "left"
    seen = f"The bar in the slot, seen from above, the keeper {keeper} of the blade, at the start of the travel."
    if not founds:
        shapes: list[Shape] = [
            *slot,
            bar,
            *measured((k * 5 - 0.9, -4), (k * 5 + 0.9, -4), "play", (k * 5 + 1.6, -4.4), "start"),
            *measured((k * 5 + 6, -10), (k * 5 + 6, -1), "engaged", (k * 5 + 6.6, -7), "start"),
        ]
        told = (
            f"{seen} Rock the sled sideways and read the play at the bar; measure how much of the bar lies in the "
            "slot. The same in the middle and at the end of the travel."
        )
        return Drawing("Bar play: what to read", told, tuple(shapes))
    c, y = 0.03, -5.5
    swung = tuple((x + c * (yy - y), yy) for x, yy in bar.points)
    shapes = [
        *slot,
        Path(swung, "bar"),
        Arrow((k * 5 + 1.5, -14), (k * 5 + 0.2, -14), "move"),
        Label((k * 5 + 1.8, -14.4), "press to one side", "move", "start"),
    ]
    told = (
        f"{seen} The bar is drawn swung as far as its play lets it, much enlarged: "
        f"{size(founds[0].value.value, taken.unit)} of play at the most, a swing of "
        f"{slope(founds[1].value.value, taken.unit)}. Pressed to one side it cannot swing."
    )
    return Drawing("Bar play: what was found", told, tuple(shapes))


CHECK = Check(
    id="bar-play",
    version=1,
    title="Bar play: how loose is the sled in the slot?",
    purpose="Finds the sideways bar play along the travel and the swing that it allows at every cut.",
    minutes=6.0,
    features=(
        Feature(
            PLAY,
            "mm",
            "bar play",
            limits=PLAY_TOLERANCE,
            drift=per_quarter(0.5 * MIL),
            doubts=(
                AddedUncertainty("bar-adjusted", 4 * MIL),
                AddedUncertainty("sled-stored", 4 * MIL),
                AddedUncertainty("humidity-swing", 5 * MIL),
            ),
            turn=70,
        ),
        Feature(
            SWING,
            "rad",
            "bar swing",
            limits=SWING_TOLERANCE,
            doubts=(
                AddedUncertainty("bar-adjusted", 0.3 * MRAD),
                AddedUncertainty("sled-stored", 0.3 * MRAD),
                AddedUncertainty("humidity-swing", 0.4 * MRAD),
            ),
            turn=80,
        ),
        Feature(SLOT, "mm", "slot width", owner="saw", turn=90),
    ),
    at_hand=(
        "a dial indicator on a stand, or feelers",
        "a rule for the engaged length",
        "a caliper for the slot's width, if you map it",
    ),
    cautions=(
        "Saw unplugged, battery out; the blade lowered below the table.",
        "Brush the slot out first; a chip reads as a tight spot.",
    ),
    asks=(
        ReadingSpec(
            "play",
            "sideways play at the bar when the sled is rocked, at start, middle and end of the travel",
            instrument="indicator",
            stations=PLACES,
            least=2,
            expect=(0.0, 1.5),
        ),
        ReadingSpec(
            "engaged",
            "length of the bar that lies in the slot at that place",
            instrument="rule",
            stations=PLACES,
            least=2,
            expect=(25.0, 1500.0),
        ),
        ReadingSpec(
            "slot",
            "slot width, and how far from the operator's end it was read",
            stations=2,
            optional=True,
            expect=(4.0, 40.0),
        ),
    ),
    facts=(
        KEEPER_FACT,
        SetupFact("bar", "the length of the bar", kind=Kind.LENGTH, needed_for=Need.WORDS),
    ),
    steps=(
        Step("Put the sled where the blade would just meet the work: the start of the travel."),
        Step(
            "Stand the indicator on the table against the bar, or against the sled right above it. Rock the sled "
            "sideways with light hands, alike each time, and read the whole play; measure how much of the bar is in "
            "the slot.",
            asks=("play", "engaged"),
            caution="Hold the sled when part of it hangs over the edge of the table.",
        ),
        Step("Do the same in the middle and at the end of the travel."),
        Step(
            "To find where to fit the bar, read the slot's width at five places along it, at half its depth.",
            asks=("slot",),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(unpaired, nothing_engaged, slipped_unit, beyond_bar, binds, uneven_slot),
    draw=draw,
    example=Example(
        ("play@start=0.006", "engaged@start=10.7", "play@end=0.006", "engaged@end=20"),
        ((PLAY, inches(0.006)), (SWING, 0.006 / 10.7)),
        "worked by hand: 0.006 over 10.7 is 0.0067 in per foot, over 20 it is 0.0036",
    ),
    sources=("common practice; the swing is geometry: the most that a bar can turn from one wall is play / length",),
    between_runs=IntermediatePrecision("rocking the sled", EstimatedSd(0.01, 4), "common practice"),
)
