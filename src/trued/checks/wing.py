"""A straightedge from the saw's table out over the wing: step at the joint, droop, twist, and sag under a load."""

from __future__ import annotations

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.procedure import (
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
    Need,
    ReadingSpec,
    RunInput,
    SetupFact,
    Severity,
    Step,
    per_quarter,
)
from trued.procedure.quantities import MIL, inches, size
from trued.procedure.safety import middle
from trued.procedure.shared.feeler import gap, gauged
from trued.procedure.shared.fence_turn import KEEPER_FACT
from trued.procedure.shared.straightedge import LIMIT_TEXT, PROVE, own_error
from trued.procedure.sketch.pieces import Shape, measured, turned

STEP, DROOP, TWIST, SAG = "wing-step", "wing-droop", "wing-twist", "wing-deflection"
STEP_TOLERANCE = ToleranceLimits(0.0, inches(1 / 64))  # never proud of the table, common practice
DROOP_TOLERANCE = ToleranceLimits.within(inches(1 / 32))  # at the outer edge, not loaded, common practice
TWIST_TOLERANCE = ToleranceLimits.within(inches(1 / 32))  # common practice
SAG_TOLERANCE = ToleranceLimits(None, inches(1 / 32))  # under 10 to 15 lb at the outer edge, common practice
SET_LOW = inches(1 / 128)  # the middle of the tolerance of the step
SIDES = ("keeper", "offcut", "operator", "far")
PLACES = ("operator", "middle", "far")
JOINT, OUTER, LOADED = "joint", "outer", "loaded"
THICK = inches(3 / 8)  # common practice: more than this is no trim of a wing
LEVER = 2.0  # half of it pressed on the table, the bow of a straightedge stands out twice at its free end
RISES = inches(0.010)  # common practice: a load never lifts a wing by so much


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """The worst step of the joint, the worst droop of the outer edge below it, twist, and sag under the load."""
    steps = {at: below(taken, JOINT, at) for at in taken_places(taken)}
    droops = {at: below(taken, OUTER, at) - steps[at] + LEVER * own_error(taken) + taken.between_runs() for at in steps}
    step = max(steps.values(), key=lambda x: abs(x.value - SET_LOW)) + taken.between_runs()
    founds = [
        FeatureResult(STEP, "mm", step, taken.tolerance(STEP)),
        FeatureResult(DROOP, "mm", max(droops.values(), key=lambda x: abs(x.value)), taken.tolerance(DROOP)),
    ]
    if {"operator", "far"} <= set(droops):
        twist = droops["far"] - droops["operator"]
        founds.append(FeatureResult(TWIST, "mm", twist, taken.tolerance(TWIST)))
    if read(taken, LOADED):
        sag = below(taken, LOADED, "middle") - below(taken, OUTER, "middle")
        founds.append(FeatureResult(SAG, "mm", sag, taken.tolerance(SAG)))
    return tuple(founds)


def taken_places(taken: RunInput) -> list[str]:
    """Places along the joint at which joint and outer edge were both read."""
    return [at for at in PLACES if read(taken, JOINT, at) and read(taken, OUTER, at)]


def read(taken: RunInput, name: str, at: str | None = None) -> bool:
    """Whether the wing was found lower or higher there."""
    return taken.has(f"{name}_low", at) or taken.has(f"{name}_high", at)


def below(taken: RunInput, name: str, at: str) -> UncertainValue:
    """How far the wing lies below the straightedge there: lower counts plain, higher with a minus."""
    if any(taken.all(f"{name}_high", at)) or not taken.has(f"{name}_low", at):
        return -gap(taken, f"{name}_high", at)
    return gap(taken, f"{name}_low", at)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Bring the joint to a hair below the table, then its outer edge level, then stiffen what sags."""
    by = {found.feature: found.value.value for found in founds}
    made = [_step_move(taken, founds[0]), _droop_move(taken, by[DROOP])]
    if TWIST in by:
        end = "far" if by[TWIST] > 0.0 else "near"
        text = (
            f"Shim the wing at its {end} bolt or foot, half of {size(by[TWIST], taken.unit)} now: it is twisted. Its "
            f"outer edge lies lower at the {end} end. Measure again."
        )
        made.append(Move(TWIST, text, "wing", "up", 0.5 * abs(by[TWIST])))
    if SAG in by:
        text = (
            f"Put a leg or strut under the wing: it sags {size(by[SAG], taken.unit)} under the load. Or stiffen its "
            "rails. Until then put nothing heavy out there. The plan counts on it for no support."
        )
        made.append(Move(SAG, text, "wing", "up", None))
    return tuple(made)


def _step_move(taken: RunInput, found: FeatureResult) -> Move:
    aim = _aim(found)
    by = found.value.value - aim
    up = by > 0.0
    side = "above" if aim < 0.0 else "below"
    text = (
        f"{'Raise' if up else 'Lower'} the wing at its joint by {size(by, taken.unit)}, where it is worst. Loosen its "
        f"bolts, {'lift' if up else 'lower'}, tighten from the middle out. Aim {size(aim, taken.unit)} {side} the "
        "table: a feeler under a straightedge across the joint. Never above: work would catch."
    )
    return Move(STEP, text, "wing", "up" if up else "down", abs(by))


def _aim(found: FeatureResult) -> float:
    """The middle of what is allowed of the step."""
    limits = found.limits
    return SET_LOW if limits is None or limits.low is None or limits.high is None else middle(limits)


def _droop_move(taken: RunInput, droop: float) -> Move:
    low, flange = droop > 0.0, taken.number("flange_height")
    width = taken.number("size_out")
    shim = abs(droop) * flange / width if flange and width else None
    side = "bottom" if low else "top"
    text = (
        f"{'Raise' if low else 'Lower'} the outer edge of the wing by {size(droop, taken.unit)} against its joint. Use "
        f"its leg or strut, or a shim at the {side} of the joint"
    )
    if shim is not None:
        text += f" of {gauged(shim, taken.unit)}, along the whole flange"
    else:
        text += ". Its thickness is droop × flange height / width of the wing"
    return Move(DROOP, f"{text}. Then measure the joint again.", "wing", "up" if low else "down", abs(droop))


def unpaired(taken: RunInput) -> Flag | None:
    """A joint without its outer edge, or the other way."""
    lone = [f"{name}@{at}" for at in PLACES for name in (JOINT, OUTER) if read(taken, name, at)]
    odd = [word for word in lone if word.split("@")[1] not in taken_places(taken)]
    if odd:
        text = f"{', '.join(odd)} stands alone: joint and outer edge are read at the same place along the wing."
        return Flag("unpaired", Severity.REFUSE, text)
    if not taken_places(taken):
        return Flag("unpaired", Severity.REFUSE, "Read joint and outer edge, lower or higher, at one place or more.")
    return None


def low_and_high(taken: RunInput) -> Flag | None:
    """Lower and higher at once."""
    both = [
        f"{name}@{at}"
        for name in (JOINT, OUTER, LOADED)
        for at in PLACES
        if any(taken.all(f"{name}_low", at)) and any(taken.all(f"{name}_high", at))
    ]
    text = f"{', '.join(both)}: lower and higher at once. Is the wing there lower or higher than the table?"
    return Flag("low-and-high", Severity.REFUSE, text) if both else None


def card_says_otherwise(taken: RunInput) -> Flag | None:
    """The card that is slid over the joint catches on the other side than the words say."""
    card = taken.choice("card")
    if not card or card == "none" or unpaired(taken):
        return None
    steps = [below(taken, JOINT, at).value for at in taken_places(taken)]
    wrong = max(steps) <= 0.0 and min(steps) < 0.0 if card == "on-table" else min(steps) >= 0.0 and max(steps) > 0.0
    lower = card == "on-table"
    text = (
        f"The card catches {'on the table when it is pushed from the wing' if lower else 'on the wing'}: so the wing "
        f"is {'lower' if lower else 'higher'} than the table, but it was typed {'higher' if lower else 'lower'}. "
        "Which is it?"
    )
    return Flag("card-says-otherwise", Severity.REFUSE, text) if wrong else None


def load_not_at_middle(taken: RunInput) -> Flag | None:
    """The loaded reading has nothing to be compared with."""
    if not read(taken, LOADED) or read(taken, OUTER, "middle"):
        return None
    text = "The loaded outer edge is compared with the same place not loaded: read outer@middle too."
    return Flag("load-not-at-middle", Severity.REFUSE, text)


def rises(taken: RunInput) -> Flag | None:
    """Under a load the outer edge goes up: mixed up, or the stand tips."""
    if not read(taken, LOADED) or not read(taken, OUTER, "middle"):
        return None
    sag = below(taken, LOADED, "middle") - below(taken, OUTER, "middle")
    text = (
        f"Under the load the outer edge stands {size(sag.value, taken.unit)} higher than without. Were the two "
        "readings exchanged, or did the saw tip with the straightedge on it? Stop if a foot lifts."
    )
    return Flag("rises", Severity.DOUBT, text) if sag.value < -max(RISES, 4.0 * sag.u) else None


def too_much(taken: RunInput) -> Flag | None:
    """More than bolts trim."""
    worst = max((r.value for r in taken.readings if r.kind is Kind.LENGTH and r.name != "edge_limit"), default=0.0)
    text = (
        f"{size(worst, taken.unit, 2)} is more than a wing is out when it is bolted on. Is the right unit typed, is "
        "the wing's bracket seated, and does it stand on its own leg?"
    )
    return Flag("too-much", Severity.DOUBT, text) if worst > THICK else None


def not_proven_straightedge(taken: RunInput) -> Flag | None:
    """Out over the wing the straightedge's bow counts whole."""
    if taken.has("edge_limit"):
        return None
    text = f"The straightedge is not proven: its own bow is in the droop, not in the step. {PROVE}"
    return Flag("straightedge-not-proven", Severity.NOTE, text)


def load_not_read(taken: RunInput) -> Flag | None:
    """An area that was not load-tested cold is not counted as support."""
    text = (
        "The wing was not loaded. It counts as support only after it was load-tested cold, with twice the weight "
        "that is to lie on it."
    )
    return None if read(taken, LOADED) else Flag("load-not-read", Severity.NOTE, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """Table and wing in section with the straightedge on top; afterwards the step and the droop, much larger."""
    k = 1 if taken.word("keeper") == "right" else -1
    side = taken.word("side") or "keeper"
    if side in ("keeper", "offcut"):
        k = -k if side == "offcut" else k
        from_where = f"seen from where you stand, the wing {'right' if k > 0 else 'left'} (the {side} side)"
    else:
        k = 1 if side == "far" else -1
        from_where = f"seen along its joint, your side left, the wing at the {side_words(side)}"
    seen = f"Table and wing in section, {from_where}."
    shapes: list[Shape] = [rectangle(min(0, -k * 12), -1.5, 12, 1.5, "table"), Label((-k * 6, -2.8), "saw's table")]
    straight = rectangle(min(-k * 10, k * 13), 0.0, 23, 1.2, "fixture")
    if not founds:
        shapes += [straight, Label((-k * 2, 2.0), "straightedge, pressed on the table")]
        shapes += [rectangle(min(k * 0.6, k * 13), -2.7, 12.4, 1.5, "wing"), Label((k * 7, -4.0), "wing")]
        shapes += measured((k * 1.2, -1.2), (k * 1.2, 0.0), "joint", (k * 2.6, -0.9), "start" if k > 0 else "end")
        shapes += measured((k * 12.4, -1.2), (k * 12.4, 0.0), "outer", (k * 11.8, -0.9), "end" if k > 0 else "start")
        told = (
            f"{seen} A straightedge is pressed on the saw's table and reaches out over the wing. Read the gap at the "
            "joint and at the outer edge, at the operator's end, in the middle and at the far end, and say whether "
            "the wing is lower or higher there."
        )
        return Drawing("Wing: where to read", told, tuple(shapes))
    by = {found.feature: found.value.value for found in founds}
    low, droop = (_shown(by[name]) for name in (STEP, DROOP))
    wing = rectangle(min(k * 0.6, k * 13), -1.5 - low, 12.4, 1.5, "wing")
    lean = -k * droop / 12.4
    shapes += [
        Path(turned(wing.points, (k * 0.6, -low), lean), "wing"),
        Line((k * 0.6, 0.0), (k * 13, 0.0), "wanted", dashed=True),
    ]
    step, outer = moves(taken, founds)[:2]
    shapes += [_arrow(k * 2.0, -low - 1.5, step.direction), _arrow(k * 12.0, -low - droop - 1.5, outer.direction)]
    shapes += [
        Label((k * 2.0, -low - 5.6), f"joint {step.direction}", "move"),
        Label((k * 11.4, -low - droop - 5.6), f"edge {outer.direction}", "move"),
    ]
    mend = (
        f"The joint goes {step.direction} until it lies {size(SET_LOW, taken.unit)} below the table, the outer edge "
        f"{outer.direction}."
    )
    told = (
        f"{seen} At the joint the wing lies {size(by[STEP], taken.unit)} {'lower' if by[STEP] >= 0 else 'higher'} "
        f"than the table, its outer edge {size(by[DROOP], taken.unit)} {'lower' if by[DROOP] >= 0 else 'higher'} "
        f"than the joint, drawn much larger. {mend}"
    )
    return Drawing("Wing: what was found", told, tuple(shapes), mend)


def side_words(side: str) -> str:
    """The side of the table in words."""
    return "far side" if side == "far" else "near side"


def _shown(mm: float) -> float:
    return 0.0 if mm == 0.0 else (1.0 if mm > 0.0 else -1.0)


def _arrow(x: float, y: float, direction: str) -> Arrow:
    low, high = (x, y - 3.2), (x, y - 0.4)
    return Arrow(low, high, "move") if direction == "up" else Arrow(high, low, "move")


def _pair(name: str, text: str, stations: tuple[str, ...], most: float) -> tuple[ReadingSpec, ...]:
    """Two asks for one gap: the wing lower than the straightedge, or higher."""
    return tuple(
        ReadingSpec(
            f"{name}_{word}",
            f"{text}, where the wing is {words}",
            instrument="feelers",
            stations=stations,
            least=1,
            optional=True,
            expect=(0.0, most),
        )
        for word, words in (("low", "lower than the table"), ("high", "higher than the table"))
    )


CHECK = Check(
    id="wing",
    version=1,
    title="Wing: level with the table?",
    purpose="Finds the step at the wing's joint, the droop of its outer edge, its twist, and how far a load bends it.",
    minutes=8.0,
    features=(
        Feature(
            STEP,
            "mm",
            "wing step",
            limits=STEP_TOLERANCE,
            directions=("up", "down"),
            orders=("raise the wing at its joint", "lower the wing at its joint"),
            sides=("low", "proud"),
            actuator=Actuator(2 * MIL, 4 * MIL),
            owner="wing",
            drift=per_quarter(4.0 * MIL),
            doubts=(AddedUncertainty("saw-carried", 15 * MIL), AddedUncertainty("wing-touched", 15 * MIL)),
            turn=350,
        ),
        Feature(
            DROOP,
            "mm",
            "wing droop",
            limits=DROOP_TOLERANCE,
            directions=("up", "down"),
            orders=("raise the outer edge of the wing", "lower the outer edge of the wing"),
            sides=("outer edge low", "outer edge high"),
            actuator=Actuator(4 * MIL, 4 * MIL),
            owner="wing",
            turn=360,
        ),
        Feature(
            TWIST,
            "mm",
            "wing twist",
            limits=TWIST_TOLERANCE,
            sides=("far end low", "near end low"),
            owner="wing",
            turn=370,
        ),
        Feature(SAG, "mm", "wing sag under load", limits=SAG_TOLERANCE, owner="wing", turn=380),
    ),
    ground=("table-flat",),
    at_hand=(
        "a straightedge that reaches from the blade to the outer edge of the wing",
        "feelers",
        "a playing card",
        "a weight of 10 to 15 lb, twice what is to lie there at the most",
    ),
    cautions=(
        "Saw unplugged, battery out, other hand off: a weight on a wing can tip a light saw. Stop if a foot lifts.",
        "The saw's manual goes first: it may forbid drilling a table or clamping to its rails.",
        "Weigh down or clamp the stand before anything is put on the wing.",
    ),
    asks=(
        ReadingSpec(
            "card",
            "where a card that is slid over the joint both ways catches: on-table (pushed from the wing), on-wing "
            "(pushed from the table), none",
            Kind.CHOICE,
            choices=("on-table", "on-wing", "none"),
            optional=True,
        ),
        ReadingSpec("edge_limit", LIMIT_TEXT, instrument="gauge", need=(1, 1), optional=True, expect=(0.0, 0.5)),
        *_pair(JOINT, "gap close to the joint", PLACES, 8.0),
        *_pair(OUTER, "gap at the outer edge", PLACES, 12.0),
        *_pair(LOADED, "gap at the outer edge in the middle, under the load", ("middle",), 12.0),
    ),
    facts=(
        KEEPER_FACT,
        SetupFact("side", "the side of the table it stands at", choices=SIDES, needed_for=Need.WORDS),
        SetupFact("size_out", "how far the wing reaches out from the table", kind=Kind.LENGTH, needed_for=Need.MOVE),
        SetupFact("flange_height", "the height of the joint's flange", kind=Kind.LENGTH, needed_for=Need.MOVE),
    ),
    steps=(
        Step("Wipe table and wing. Slide a card over the joint from either side: where does it catch?", asks=("card",)),
        Step(
            f"{PROVE} Or type its maker's limit of error.",
            asks=("edge_limit",),
        ),
        Step(
            "Press the straightedge on the saw's table so that it reaches out over the wing. Read the gap close to "
            "the joint and at the outer edge; at the operator's end, in the middle and at the far end (of a wing at "
            "the operator's or the far side: at its keeper's end, in the middle, at its offcut end). Say in words "
            "whether the wing is lower or higher: joint_low@middle, joint_high@middle. Where the wing is higher, lay "
            "two equal strips between table and straightedge, and type by how much the gap is smaller than a strip.",
            asks=("joint_low", "joint_high", "outer_low", "outer_high"),
        ),
        Step(
            "With the straightedge still pressed on the table lay the weight on the outer edge, in the middle, and "
            "read there again.",
            asks=("loaded_low", "loaded_high"),
            caution="Saw off and unplugged, other hand off, nobody leaning on it; stop if a foot of the stand lifts.",
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        unpaired,
        low_and_high,
        load_not_at_middle,
        card_says_otherwise,
        rises,
        too_much,
        not_proven_straightedge,
        load_not_read,
    ),
    draw=draw,
    example=Example(
        (
            "joint_low@operator=0.020",
            "outer_low@operator=0.030",
            "joint_low@far=0.016",
            "outer_low@far=0.056",
            "loaded_low@middle=0.060",
            "joint_low@middle=0.018",
            "outer_low@middle=0.043",
            "edge_limit=0.001",
        ),
        ((STEP, inches(0.020)), (DROOP, inches(0.040)), (TWIST, inches(0.030)), (SAG, inches(0.017))),
        "worked by hand: step 0.020, droop 0.056 - 0.016, twist 0.040 - 0.010, sag 0.060 - 0.043",
    ),
    sources=(
        "common practice: step 0 to 1/64 in below the table, never proud; droop and sag up to 1/32 at the outer edge",
        "support counts only after a cold load test with twice the planned weight: common practice",
        "scatter of 0.03 mm from run to run to start with: common practice",
    ),
    between_runs=IntermediatePrecision(
        "pressing the straightedge on the table", EstimatedSd(0.03, 4), "common practice"
    ),
)
