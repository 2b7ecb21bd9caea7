"""Rip fence: its toe to the slot, whether it pinches the work against the blade, how it locks again, and its scale.

Toe is what the fence opens at its far end, read from the slot. Kickback depends on fence to BLADE: pinch = toe / length
less the lean of the blade toward the fence; the rip verdict uses this, one-sided, at the next time the fence is locked.
"""

from __future__ import annotations

import math
from dataclasses import replace

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.equipment.sides import feeler_words
from trued.measure.decision import ToleranceLimits
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
    per_quarter,
)
from trued.procedure.gross_errors import is_slip, slipped, unit_slip
from trued.procedure.quantities import MIL, inches, place, size, station_mm
from trued.procedure.safety import held, middle, surely_below
from trued.procedure.shared.dial import DIAL_ASK, dial_sign
from trued.procedure.shared.rip_readings import BLADE, ENDS, bow, lean, pinch, relock, toe, toes
from trued.procedure.shared.rip_scale import SCALE_FEATURES, scale_founds, scale_moves
from trued.procedure.sketch.pieces import Shape, measured, saw_from_above

TOE, PINCH, RELOCK, BOW = "rip-toe", "rip-fence-angle", "rip-relock", "rip-straight"
SLOT = ("beyond-blade", "fence-side")
TOE_ALLOWED = ToleranceLimits(0.0, inches(0.003))  # common practice: 0 to 0.003 in over the fence, never toe-in
PINCH_ALLOWED = ToleranceLimits(0.0, None)  # the work may never be pinched between fence and blade
RELOCK_TOLERANCE = ToleranceLimits(None, inches(0.003))  # common practice: a range of 0.005 in over three, as one sd
BOW_TOLERANCE = ToleranceLimits.within(inches(0.003))  # common practice
MOST_TOE, DEFLECTS = inches(0.125), inches(0.005)  # common practice: a larger toe is a fence not locked, or a sign
BLADE_FIRST = "Set the blade to the slot first (check blade-parallel), then the fence, then read both again."
BEFORE = "No rip before this is mended. "
BY_FEELER = 5.0  # mm: below this a dial may stand near nought, and a ratio says nothing
INSERT = tuple(f"insert-{edge}-{side}" for edge in ("operator", "far") for side in ("keeper", "offcut"))
LOCKS = 3  # the fewest that are read


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Toe, pinch where the blade was read, repeat of the lock, bow, and the scale where widths were ripped."""
    founds = [FeatureResult(TOE, "mm", toe(taken), held(taken, TOE), safety=True)]
    opening = pinch(taken)
    if opening is not None:
        founds.append(FeatureResult(PINCH, "rad", opening, held(taken, PINCH), safety=True))
    again = relock(taken)
    known = sd_uncertainty("lock:place", "few locks", again)
    founds.append(FeatureResult(RELOCK, "mm", known, taken.tolerance(RELOCK), spread=again))
    founds.append(FeatureResult(BOW, "mm", bow(taken), taken.tolerance(BOW)))
    return (*founds, *scale_founds(taken))


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """One fence, one order: by its angle to the blade, to the middle of what is allowed.

    Toe and angle are both read from the slot and cured by the same bolts. The blade goes before the fence where it
    leans toward it; while it was not read the fence is opened only, for what is brought in may pinch.
    """
    found = {each.feature: each for each in founds}
    found_toe = found[TOE].value.value
    closes = PINCH in found and found[PINCH].value.value < 0.0
    made = [_pinch_move(taken, found_toe) if closes else _toe_move(taken, found_toe, PINCH if PINCH in found else TOE)]
    made.append(Move(RELOCK, LOCK, "fence", "in", None))
    hollow = "hollow" if found[BOW].value.value > 0.0 else "bulged"
    text = (
        f"Shim or plane the facing straight first: it is {hollow} by {size(found[BOW].value.value, taken.unit)}. A "
        "bent face has another toe at every place."
    )
    made.append(Move(BOW, text, "fence", "in", None))
    return (*made, *scale_moves(taken, found))


LOCK = (
    "Clean the rail and take up the lock as the manual says: the fence does not repeat. Push its head against the rail "
    "before you lock, always the same way. No toe can be set before it repeats."
)


def turn(taken: RunInput, found_toe: float) -> float:
    """How far the far end must come in (below 0: go out) to open by the middle of what is allowed, mm."""
    return found_toe - middle(held(taken, TOE))


def blade_first(taken: RunInput) -> bool:
    """Whether a fence set to the middle of what is allowed would close against the blade, which leans toward it."""
    toward = lean(taken)
    return toward is not None and middle(held(taken, TOE)) / taken.mean("length").value < toward.value


def _toe_move(taken: RunInput, found_toe: float, feature: str) -> Move:
    by, unit = turn(taken, found_toe), taken.unit
    stands = f"The back of the fence is {size(found_toe, unit)} away from the blade"
    if feature == TOE and by > 0.0:
        decides = "Read the blade from the same slot first: the angle between fence and blade decides."
        return Move(TOE, f"{stands}. {decides}", "blade", "in", None)
    if by > 0.0 and blade_first(taken):
        closing = "don't move it in: the blade leans toward the fence, so they would pinch at the back"
        return Move(feature, f"{stands}, but {closing}. {BLADE_FIRST}", "blade", "out", None)
    inward, length = by > 0.0, taken.mean("length").value
    feelers = feeler_words(abs(by), unit)
    text = (
        f"Move the back of the rip fence {'toward' if inward else 'away from'} the blade by "
        f"{size(feelers.made_mm, unit)} over {size(length, unit, 2)}. Clamp a block at the back, on the side it moves "
        f"to. Put {feelers.feelers} between them. {feelers.bring or 'Less cannot be set by hand.'} Tighten the bolts "
        "of its head, lock, measure again."
    )
    if not inward:
        text = f"{BEFORE}{text}"
    return Move(feature, text, "fence", "in" if inward else "out", abs(by))


def _pinch_move(taken: RunInput, found_toe: float) -> Move:
    toward, together = lean(taken), "No rip: fence and blade pinch at the back"
    if toward is not None and toward.value > 0.0:
        return Move(PINCH, f"{together}, and the blade leans toward the fence. {BLADE_FIRST}", "blade", "out", None)
    opened = _toe_move(taken, found_toe, PINCH)
    return replace(opened, text=f"{together}. {opened.text.removeprefix(BEFORE)}")


# --- what can hurt someone


def toe_in(taken: RunInput) -> Flag | None:
    """The fence closes toward its far end, as surely as anything is called out: told by the locks alone."""
    if not _locks(taken) or not surely_below(toe(taken), 0.0):
        return None
    text = (
        f"No rip: the fence closes toward the far end by {size(toe(taken).value, taken.unit)}. Work between them "
        "is pinched where the teeth rise, and thrown back."
    )
    return Flag("fence-toe-in", Severity.DANGER, text, (TOE,))


def _locks(taken: RunInput) -> bool:
    """Whether both ends were read lock by lock, which way the dial runs is told, none is a slip of the unit, and
    something is missing: of a whole form toe and pinch are decided each by itself, and how they are mended is told."""
    if len(taken.of("middle")) >= LOCKS and taken.has("length") and taken.has("slot"):
        return False
    near, far = (taken.all(name) if taken.has(name) else () for name in ENDS)
    whole = len(near) == len(far) >= 2 and taken.has("dial") and max(map(abs, toes(taken))) <= MOST_TOE
    return whole and slipped_unit(taken) is None


# --- blunders


def no_length(taken: RunInput) -> Flag | None:
    """A length or span of nought."""
    zero = [name for name in ("length", "blade_span") if taken.has(name) and taken.mean(name).value <= 0.0]
    text = f"{' and '.join(zero)} cannot be 0: measure the distance between the two places that were read."
    return Flag("no-size", Severity.REFUSE, text) if zero else None


def negative_distance(taken: RunInput) -> Flag | None:
    """A dial's number may be below nought, a distance may not."""
    names = (*ENDS, "middle", "far_pushed", *BLADE[:2])
    below = [r for name in names for r in taken.of(name) if r.value < 0.0]
    if taken.choice("dial") != "distance" or not below:
        return None
    text = f"{', '.join(place(r) for r in below)}: a distance cannot be below 0. If a dial was read, say dial=grows."
    return Flag("negative-distance", Severity.REFUSE, text)


def slipped_unit(taken: RunInput) -> Flag | None:
    """A distance typed in the other unit than its neighbours, or a width in another unit than its setting."""
    readings = [r for name in (*ENDS, "middle") for r in taken.of(name)]
    if min(abs(r.value) for r in readings) > BY_FEELER / 25.4 and (seen := unit_slip(taken, readings)):
        return seen
    for r in taken.of("width"):
        at = station_mm(r.station, taken.unit)
        if is_slip(r.value, at) or is_slip(at, r.value):
            meant = r.value / 25.4 if r.value > at else r.value * 25.4
            return slipped(taken, r, meant, "against its setting")
    return None


def half_a_blade(taken: RunInput) -> Flag | None:
    """Some of the blade's readings without the others."""
    given = [name for name in BLADE if taken.has(name)]
    if len(given) in (0, len(BLADE)):
        return None
    text = f"{', '.join(given)} alone cannot tell the blade's lean: give {', '.join(BLADE)} together, or none of them."
    return Flag("half-a-blade", Severity.REFUSE, text)


def blade_not_read(taken: RunInput) -> Flag | None:
    """Toe to the slot says nothing of fence to blade."""
    if any(taken.has(name) for name in BLADE):
        return None
    text = (
        "The blade was not read, so whether fence and blade pinch the work is not judged: not ready to rip on this "
        f"alone. Read one spot of the blade from the same slot at both ends ({', '.join(BLADE)})."
    )
    return Flag("blade-not-read", Severity.NOTE, text)


def toe_implausible(taken: RunInput) -> Flag | None:
    """More than a locked fence is ever out."""
    worst = max(toes(taken), key=abs)
    if abs(worst) <= MOST_TOE:
        return None
    text = (
        f"A toe of {size(worst, taken.unit)} is more than a locked fence is ever out. Was it locked, and was each end "
        "read with the same zero of the dial?"
    )
    return Flag("toe-implausible", Severity.DOUBT, text)


def bent_face(taken: RunInput) -> Flag | None:
    """A face that is not straight: the toe of its ends is not that of the part beside the blade."""
    x = bow(taken)
    if abs(x.value) <= max(BOW_TOLERANCE.high or 0.0, 3.0 * x.u):
        return None
    text = (
        f"The face is {'hollow' if x.value > 0 else 'bulged'} by {size(x.value, taken.unit)} in the middle: the toe "
        "beside the blade is another than that of the ends. Straighten the facing first."
    )
    return Flag("bent-face", Severity.NOTE, text)


def deflects(taken: RunInput) -> Flag | None:
    """The far end gives way under a push of the hand: it needs holding there."""
    if not taken.has("far_pushed"):
        return None
    away = dial_sign(taken) * (taken.mean("far_pushed").value - taken.all("far_end")[-1])
    if abs(away) <= DEFLECTS:
        return None
    text = (
        f"Pushed by hand the far end of the fence gives way by {size(away, taken.unit)}: it needs support there (an "
        "outboard lock or a clamp that the manual allows), or the work will push it too."
    )
    return Flag("fence-deflects", Severity.NOTE, text)


# --- drawings


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """Fence, blade and slot from above; afterwards the toe exaggerated and the way of the far end."""
    near = taken.choice("slot") == "fence-side"
    slot_x = 3.5 if near else -5.0
    shapes: list[Shape] = [
        *saw_from_above(),
        rectangle(slot_x - 0.4, -10, 0.8, 20, "slot"),
        Label((slot_x - 0.7, -4.5), "slot", "note", "end"),
        Line((0, -4), (0, 4), "blade"),
        Label((-0.4, 3.0), "blade", "note", "end"),
    ]
    seen = f"The saw from above, the slot {'between blade and fence' if near else 'beyond the blade'}."
    if not founds:
        shapes += [rectangle(8, -9.5, 1.2, 19, "fence"), Label((9.5, 5.0), "rip fence", "note", "start")]
        edge = slot_x + 0.4
        for y, words in ((-8.5, "operator's end"), (0.0, "middle"), (8.5, "far end")):
            shapes += measured((edge, y), (8, y), words, (7.6, y + 0.8), "end")
        told = (
            f"{seen} Lock the fence and read it from the slot at the operator's end, in the middle and at the far end "
            "of its face; unlock, lock again, three times in all. Read one spot of the blade from the same slot too."
        )
        return Drawing("Rip fence: where to read", told, tuple(shapes))
    found = founds[0].value.value
    by, lean_x = turn(taken, found), 1.4 if found > 0.0 else -1.4
    face = Path(((8, -9.5), (8 + lean_x, 9.5), (9.2 + lean_x, 9.5), (9.2, -9.5)), "fence")
    tip = (8.6 + lean_x, 10.6)
    shapes += [Line((8, -9.5), (8, 9.5), "wanted", dashed=True), face]
    if by > 0.0 and blade_first(taken):
        mend = "Not toward the blade: set the blade to the slot first, then the fence."
    else:
        shapes += [
            Arrow(tip, (tip[0] - math.copysign(2.5, by), tip[1]), "move"),
            Label((7.0, 12.6), f"far end {'toward' if by > 0 else 'away from'} the blade", "move"),
        ]
        mend = f"To the middle of what is allowed it goes {'toward' if by > 0 else 'away from'} the blade."
    told = (
        f"{seen} The far end of the fence stands {'away from' if found > 0 else 'toward'} the blade by "
        f"{size(found, taken.unit)}, drawn much larger. {mend} {_told_pinch(taken, founds)}"
    )
    return Drawing("Rip fence: what was found", told, tuple(shapes), mend)


def _told_pinch(taken: RunInput, founds: tuple[FeatureResult, ...]) -> str:
    opening = next((f.value.value for f in founds if f.feature == PINCH), None)
    if opening is None:
        return "Whether fence and blade pinch is not judged: the blade was not read."
    over = taken.mean("blade_span").value
    way = "open" if opening >= 0.0 else "close"
    return f"Fence and blade {way} toward the far end by {size(opening * over, taken.unit)} over the blade."


CHECK = Check(
    id="rip-fence",
    version=1,
    title="Rip fence: does it pinch? Is the scale right?",
    purpose="Finds whether fence and blade pinch the work, how the fence locks again, and what its scale is off by.",
    minutes=10.0,
    features=(
        Feature(
            TOE,
            "mm",
            "rip fence toe",
            limits=TOE_ALLOWED,
            directions=("in", "out"),
            orders=(
                "move the back of the rip fence toward the blade",
                "move the back of the rip fence away from the blade",
            ),
            sides=("toed out: open at the back", "toed in: closed at the back"),
            owner="saw",
            drift=per_quarter(0.5 * MIL),
            doubts=(AddedUncertainty("saw-carried", 3 * MIL), AddedUncertainty("blade-realigned", 4 * MIL)),
            safety=True,
            led_by=PINCH,
            turn=250,
        ),
        Feature(
            PINCH,
            "rad",
            "rip-fence-to-blade angle",
            limits=PINCH_ALLOWED,
            directions=("in", "out"),
            sides=("opens to the back", "pinches at the back"),
            owner="saw",
            safety=True,
            turn=260,
        ),
        Feature(
            RELOCK, "mm", "rip fence lock repeatability", limits=RELOCK_TOLERANCE, owner="saw", spread=True, turn=270
        ),
        Feature(
            BOW,
            "mm",
            "rip fence straightness",
            limits=BOW_TOLERANCE,
            sides=("hollow", "crowned"),
            owner="saw",
            turn=280,
        ),
        *SCALE_FEATURES,
    ),
    ground=("blade-parallel", "knife", *INSERT),
    at_hand=(
        "a dial indicator on a bar that fits the slot",
        "a rule",
        "feelers",
        "for the scale: three straight strips and a caliper",
    ),
    cautions=(
        "Saw unplugged, battery out, for all that is read at fence and blade.",
        "Never rip with a fence that closes toward its far end, nor without knife: the work is pinched and thrown.",
        "For the ripped strips: knife on, push stick, straight edge to the fence, longer than wide.",
        "The saw's manual goes before this page.",
    ),
    asks=(
        ReadingSpec(
            "slot",
            "the slot that is read from: beyond the blade as seen from the fence, or between blade and fence",
            kind=Kind.CHOICE,
            choices=SLOT,
        ),
        DIAL_ASK,
        *(
            ReadingSpec(
                name,
                text,
                kind=Kind.GAP,
                instrument="indicator",
                need=(LOCKS, 10),
                advise=LOCKS,
                row="lock",
                one_thing=False,
                expect=(-700.0, 700.0),
            )
            for name, text in (
                ("operator_end", "the fence's face from the slot at its operator's end, once for each lock"),
                ("middle", "the same in the middle of the fence"),
                ("far_end", "the same at its far end"),
            )
        ),
        ReadingSpec("length", "distance between the two end places", instrument="rule", expect=(150.0, 1500.0)),
        ReadingSpec(
            "far_pushed",
            "the far end once more, pushed sideways away from the blade by hand",
            kind=Kind.GAP,
            instrument="indicator",
            optional=True,
        ),
        ReadingSpec(
            "blade_operator",
            "a marked spot of the blade from the same slot, at the operator's end",
            kind=Kind.GAP,
            instrument="indicator",
            optional=True,
            advise=2,
        ),
        ReadingSpec(
            "blade_far",
            "the same spot turned to the far end",
            kind=Kind.GAP,
            instrument="indicator",
            optional=True,
            advise=2,
        ),
        ReadingSpec(
            "blade_span",
            "distance between these two places",
            instrument="rule",
            optional=True,
            expect=(75.0, 300.0),
        ),
        ReadingSpec(
            "width",
            "width of a ripped strip, and the setting of the scale that it was ripped at",
            stations=3,
            optional=True,
            expect=(3.0, 1300.0),
        ),
    ),
    steps=(
        Step(
            "Put the indicator's bar into a slot. Push its tip in by hand and watch the number.",
            asks=("slot", "dial"),
            caution="Unplug first.",
        ),
        Step(
            "From its rest, set the fence to the same mark and lock it. Read its face at the operator's end, in the "
            "middle and at the far end. Unlock, draw it away, set and lock again: three times.",
            asks=("operator_end", "middle", "far_end"),
        ),
        Step("Measure how far apart the two end places are.", asks=("length",)),
        Step("Push the far end away from the blade by hand, as the work would, and read it.", asks=("far_pushed",)),
        Step(
            "Mark a spot of the blade and read it from the same slot at both ends, the spot turned by hand.",
            asks=BLADE,
            caution="Still unplugged; turn the blade with a stick.",
        ),
        Step(
            "Set the scale to three widths, rip a strip at each and measure it in its middle.",
            asks=("width",),
            caution="Only when toe and pinch are proven, knife on, push stick; stand out of the line of the strip.",
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_length,
        negative_distance,
        slipped_unit,
        half_a_blade,
        blade_not_read,
        toe_implausible,
        bent_face,
        deflects,
    ),
    dangers=(toe_in,),
    draw=draw,
    example=Example(
        (
            "slot=beyond-blade",
            "dial=shrinks",
            "operator_end=0.010",
            "middle=0.0115",
            "far_end=0.013",
            "operator_end=0.011",
            "middle=0.0125",
            "far_end=0.014",
            "operator_end=0.010",
            "middle=0.0115",
            "far_end=0.013",
            "length=20",
            "blade_operator=0.050",
            "blade_far=0.054",
            "blade_span=7",
        ),
        ((TOE, inches(0.003)), (PINCH, 0.003 / 20 - 0.004 / 7)),
        "worked by hand: both within 0.004 in of the slot, yet the work is pinched by 0.003 in over the blade",
    ),
    sources=(
        "common practice: toe 0 to 0.003 in over the fence, locking again within 0.005 in",
        "the pinch is geometry: toe of the fence less lean of the blade toward it, both to one slot",
    ),
)
