"""Height of the table insert at its four corners: work may nowhere catch as it slides away from the operator.

Positive = the insert lies low, below the table; negative = it stands proud.
"""

from __future__ import annotations

from trued.drawing.shapes import Arrow, Drawing, Label, Path, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.estimate import Shape as Spread
from trued.procedure import (
    AddedUncertainty,
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
    per_quarter,
)
from trued.procedure.gross_errors import is_slip, slipped
from trued.procedure.quantities import MIL, inches, place, size, turns
from trued.procedure.safety import held, middle, surely_above, surely_below
from trued.procedure.shared.feeler import closed, gap
from trued.procedure.sketch.pieces import Shape, measured

NEAR = ("operator-keeper", "operator-offcut")
FAR = ("far-keeper", "far-offcut")
CORNERS = (*NEAR, *FAR)
ROCK = "insert-rock"
STRIP = ("none", "operator", "far")
LOW_ALLOWED = ToleranceLimits(0.0, inches(0.005))  # common practice: the operator's edge is never proud
PROUD_ALLOWED = ToleranceLimits(inches(-0.002), 0.0)  # common practice: the far edge is never low
ROCK_ALLOWED = ToleranceLimits(None, inches(0.003))  # common practice
STRAIGHT = ErrorSource(
    "limit:straightedge", "straightedge over the insert", inches(0.0002) / 3**0.5, shape=Spread.RECTANGULAR
)  # common practice: what a good edge is out by over the few inches of an insert
FELT = inches(0.004)  # common practice: a step of this size is felt by every strip
BULGE = inches(0.003)  # common practice
SLIPPED = 1.0  # mm: heights below this differ 25 times in an honest insert too
TWICE = 0.05  # mm: two readings of one corner with feelers differ by less


def height(taken: RunInput, corner: str) -> UncertainValue:
    """How low one corner lies. Where no feeler goes in, it may lie low or proud by less than the thinnest."""
    readings = taken.of("low", corner)
    felt = readings[0].instrument is not None and readings[0].instrument.kind == "feelers"
    if felt and not any(r.value for r in readings):
        return closed(f"low@{corner}") + UncertainValue.of(0.0, STRAIGHT)
    return taken.mean("low", corner) + UncertainValue.of(0.0, STRAIGHT)


def allowed(corner: str) -> ToleranceLimits:
    """How low a corner may lie."""
    return LOW_ALLOWED if corner in NEAR else PROUD_ALLOWED


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Each corner by itself, because each must hold; and the rocking."""
    values = [(f"insert-{corner}", height(taken, corner)) for corner in CORNERS]
    values.append((ROCK, gap(taken, "rock")))
    return tuple(FeatureResult(name, "mm", value, held(taken, name), safety=True) for name, value in values)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Each corner by its own screw to the middle of what is allowed; a rocking insert by its one loose corner."""
    made = [_corner_move(taken, corner, found) for corner, found in zip(CORNERS, founds, strict=False)]
    text = (
        f"Raise the loose corner until it just carries: the insert rocks {size(founds[-1].value.value, taken.unit)}. "
        "Then measure all four corners again, each pressed down."
    )
    return (*made, Move(ROCK, text, "insert", "up", None))


def _corner_move(taken: RunInput, corner: str, found: FeatureResult) -> Move:
    by = found.value.value - middle(allowed(corner))
    pitch = taken.number("level_thread")
    screw = f", {turns(by, pitch)} at its screw" if pitch else ""
    lies = "low" if found.value.value > 0.0 else "proud"
    text = (
        f"{'Raise' if by > 0.0 else 'Lower'} the {said(corner)} corner of the insert {size(by, taken.unit)}{screw}. "
        f"It is {size(found.value.value, taken.unit)} {lies}. Press it down, measure again. A strip pushed across "
        "must not catch. Make no cut over this insert until then."
    )
    return Move(found.feature, text, corner, "up" if by > 0.0 else "down", abs(by))


def text_of(corner: str) -> str:
    """A corner as the name of its feature: `insert height, near keeper side`."""
    edge, _, side = corner.partition("-")
    return f"insert height, {'far' if edge == 'far' else 'near'} {side} side"


def said(corner: str) -> str:
    """A corner in words: `far, keeper side`."""
    edge, _, side = corner.partition("-")
    return f"{'near' if edge == 'operator' else 'far'}, {side} side"


# --- what can hurt someone


def catches(taken: RunInput) -> Flag | None:
    """A corner that work runs against: the operator's edge proud, the far edge low. What a strip feels counts as well,
    whatever the corners read. Where all corners were read each is decided by itself, and mended by its own screw."""
    if slipped_unit(taken) is not None:
        return None
    whole = all(taken.has("low", corner) for corner in CORNERS) and taken.has("rock") and taken.has("strip")
    near = [c for c in NEAR if taken.has("low", c) and surely_below(height(taken, c), LOW_ALLOWED.low or 0.0)]
    far = [c for c in FAR if taken.has("low", c) and surely_above(height(taken, c), PROUD_ALLOWED.high or 0.0)]
    told = [f"the {said(c)} corner stands proud" for c in near] + [f"the {said(c)} corner lies low" for c in far]
    felt = taken.choice("strip")
    if whole and told:
        return None
    if not told and felt in ("operator", "far"):
        edge = "the far edge" if felt == "far" else "the operator's edge"
        text = f"A strip catches at {edge}. Nothing is cut over this insert before it is level."
        corners = FAR if felt == "far" else NEAR
        return Flag("insert-catches", Severity.DANGER, text, tuple(f"insert-{corner}" for corner in corners))
    if not told:
        return None
    text = f"Work catches there: {', '.join(told)}. Nothing is cut over this insert before it is level."
    return Flag("insert-catches", Severity.DANGER, text, tuple(f"insert-{corner}" for corner in (*near, *far)))


# --- blunders


def slipped_unit(taken: RunInput) -> Flag | None:
    """One corner typed in the other unit: only a height that no insert has can show it."""
    readings = [r for r in taken.of("low") if r.value != 0.0]
    if not readings:
        return None
    odd = max(readings, key=lambda r: abs(r.value))
    others = [r for r in readings if r is not odd]
    meant = odd.value / 25.4
    again = any(r.station == odd.station and abs(r.value - meant) <= TWICE for r in others)
    if abs(odd.value) < SLIPPED or not (again or any(is_slip(abs(odd.value), abs(r.value)) for r in others)):
        return None
    return slipped(taken, odd, meant, "beside the other corners")


def strip_contradicts(taken: RunInput) -> Flag | None:
    """What a strip feels does not go with the sign of the readings: low typed as proud, or the other way."""
    felt = taken.choice("strip")
    near, far = ([height(taken, c).value for c in edge] for edge in (NEAR, FAR))
    if felt == "far" and max(far) <= 0.0:
        told = "A strip catches at the far edge, so the insert is low there, but no far corner was typed as low."
    elif felt == "operator" and min(near) >= 0.0:
        told = "A strip catches at the operator's edge, so the insert is proud there, but no corner was typed as proud."
    elif felt == "none" and (min(near) <= -FELT or max(far) >= FELT):
        told = "No strip catches, yet a corner was typed that every strip would catch at."
    else:
        return None
    text = f"{told} Low is typed above 0, proud below 0 (low@far-keeper=-0.001). Look at it once more."
    return Flag("strip-contradicts", Severity.DOUBT, text)


def rock_below(taken: RunInput) -> Flag | None:
    """Rocking has no sign."""
    below = [r for r in taken.of("rock") if r.value < 0.0]
    text = f"{', '.join(place(r) for r in below)}: rocking is how far a corner goes down, 0 or more."
    return Flag("negative-rock", Severity.REFUSE, text) if below else None


def bulged(taken: RunInput) -> Flag | None:
    """Beside the blade the insert stands up from the line of its corners, or sags."""
    if not taken.has("beside_blade"):
        return None
    corners = sum((height(taken, corner) for corner in CORNERS), UncertainValue(0.0)) / 4.0
    off = taken.mean("beside_blade") - corners
    if abs(off.value) <= max(BULGE, 3.0 * off.u):
        return None
    text = (
        f"Beside the blade the insert {'sags' if off.value > 0.0 else 'stands up'} by {size(off.value, taken.unit)} "
        "against its corners: it is bent, or held by its middle. Flatten or change it; screws do not mend that."
    )
    return Flag("insert-bulged", Severity.NOTE, text)


# --- drawing


def worse(founds: tuple[FeatureResult, ...], edge: tuple[str, ...]) -> tuple[str, float]:
    """The corner of an edge that is farther from the middle of what is allowed, and how low it lies."""
    values = {corner: found.value.value for corner, found in zip(CORNERS, founds, strict=False)}
    corner = max(edge, key=lambda c: abs(values[c] - middle(allowed(c))))
    return corner, values[corner]


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The insert from the side, the operator at the left; afterwards as low and proud as it lies, much enlarged."""
    shapes: list[Shape] = [
        rectangle(-14, -2, 6, 2, "table"),
        rectangle(8, -2, 6, 2, "table"),
        Arrow((-11, 5.2), (-3, 5.2), "feed"),
        Label((-7, 5.9), "work slides this way", "feed"),
        Label((-11, -3.4), "your side"),
        Label((11, -3.4), "far side"),
    ]
    seen = "The insert seen from the side, the operator at the left."
    if not founds:
        shapes += [
            rectangle(-7.7, -1.2, 15.4, 0.9, "part"),
            rectangle(-12, 0.1, 24, 0.8, "fixture"),
            *measured((-6.5, -0.3), (-6.5, 0.1), "low: above 0", (-6.5, 2.4)),
            *measured((6.5, -0.3), (6.5, 0.1), "proud: below 0", (6.5, 2.4)),
        ]
        told = (
            f"{seen} Lay a straightedge on the table across each corner, press the corner down, and read the gap "
            "below it: low is typed above 0. Where the insert lifts the straightedge, read the gap over the table and "
            "type it below 0."
        )
        return Drawing("Insert: where to read", told, tuple(shapes))
    ends = [worse(founds, edge) for edge in (NEAR, FAR)]
    near, far = (max(-2.5, min(2.5, -value / inches(0.002))) for _, value in ends)
    shapes.append(Path(((-7.7, near), (7.7, far), (7.7, far - 0.9), (-7.7, near - 0.9)), "part"))
    told, goes = seen, []
    for (corner, value), x, top in zip(ends, (-6.0, 6.0), (near, far), strict=True):
        by = value - middle(allowed(corner))
        up = by > 0.0
        shapes += [
            Arrow((x, top + (-1.4 if up else 1.4)), (x, top + (0.6 if up else -0.6)), "move"),
            Label((x, 3.6), f"{'raise' if up else 'lower'} {size(by, taken.unit)}", "move"),
        ]
        told += (
            f" The {said(corner)} corner {'lies' if value > 0.0 else 'stands'} {size(value, taken.unit)} "
            f"{'below' if value > 0.0 else 'above'} the table."
        )
        goes.append(f"{said(corner)} {'up' if up else 'down'} by {size(by, taken.unit)}")
    mend = f"To mend it, to the middle of what is allowed: the {'; the '.join(goes)}."
    return Drawing("Insert: what was found", f"{told} Drawn much larger. {mend}", tuple(shapes), mend)


CHECK = Check(
    id="insert",
    version=1,
    title="Insert: will work catch on it?",
    purpose="Finds how the insert lies in the table: never proud toward the operator, never low at its far edge.",
    minutes=6.0,
    features=(
        *(
            Feature(
                f"insert-{corner}",
                "mm",
                text_of(corner),
                limits=allowed(corner),
                directions=("up", "down"),
                sides=("low", "proud"),
                owner="saw",
                drift=per_quarter(1.0 * MIL),
                doubts=(AddedUncertainty("blade-realigned", 5 * MIL),),
                safety=True,
                turn=turn,
            )
            for turn, corner in enumerate(CORNERS, 200)
        ),
        Feature(ROCK, "mm", "insert rock", limits=ROCK_ALLOWED, owner="saw", safety=True, turn=240),
    ),
    ground=("knife",),
    at_hand=("a straightedge", "feelers, or a dial indicator on a block for less than 0.0015 in", "a planed strip"),
    cautions=(
        "Saw unplugged, battery out, the blade below the table.",
        "The insert must be held down as the manual says: one that lifts can touch the blade.",
    ),
    asks=(
        ReadingSpec(
            "low",
            "gap below a straightedge at each corner of the insert, the corner pressed down: above 0 where the insert "
            "lies low, below 0 where it stands proud",
            kind=Kind.GAP,
            instrument="feelers",
            stations=CORNERS,
            advise=2,
            expect=(-3.0, 3.0),
        ),
        ReadingSpec(
            "rock",
            "how far a corner goes down when the one across is let go; 0 where nothing rocks",
            kind=Kind.GAP,
            instrument="feelers",
            advise=2,
            expect=(-3.0, 3.0),
        ),
        ReadingSpec(
            "strip",
            "where a strip catches that is slid over the insert away from you: nowhere, at its operator's edge, or at "
            "its far edge",
            kind=Kind.CHOICE,
            choices=STRIP,
        ),
        ReadingSpec(
            "beside_blade",
            "the same gap beside the slot for the blade",
            kind=Kind.GAP,
            instrument="feelers",
            optional=True,
            expect=(-3.0, 3.0),
        ),
    ),
    facts=(SetupFact("level_thread", "the thread of the levelling screws", kind=Kind.THREAD, needed_for=Need.MOVE),),
    steps=(
        Step(
            "Clean the ledge and the insert, put it in as you use it, held down.",
            caution="Unplug first; blade below the table.",
        ),
        Step(
            "Lay the straightedge on the table across a corner, press the corner down onto its screw, and read the "
            "gap. Do it at all four corners, twice, and beside the slot for the blade.",
            asks=("low", "beside_blade"),
        ),
        Step("Press one corner, let the one across go, and read how far it rocks. The other two too.", asks=("rock",)),
        Step("Slide a planed strip over it, away from you. Where does it catch?", asks=("strip",)),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(rock_below, slipped_unit, strip_contradicts, bulged),
    dangers=(catches,),
    draw=draw,
    example=Example(
        (
            "low@operator-keeper=0.002",
            "low@operator-offcut=0.003",
            "low@far-keeper=0.004",
            "low@far-offcut=-0.001",
            "rock=0",
            "strip=far",
        ),
        (("insert-operator-offcut", inches(0.003)), ("insert-far-keeper", inches(0.004)), (ROCK, 0.0)),
        "worked by hand: the far edge lies 0.004 in low at one corner, where work catches as it leaves the insert",
    ),
    sources=(
        "common practice: operator's edge 0 to 0.005 in below the table, far edge 0 to 0.002 in above it",
        "common practice: no rocking of more than 0.003 in",
    ),
)
