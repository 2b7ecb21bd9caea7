"""Sight line: does the cut come where the line on the sled says? And how wide is the kerf in the facing?"""

from __future__ import annotations

import math

from trued.drawing.shapes import Arrow, Drawing, Label, Line, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.estimate import Shape as Spread
from trued.procedure import (
    TURN_FACTS,
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
)
from trued.procedure.declaration import Reading
from trued.procedure.gross_errors import burned, fraction_display, is_slip, slipped
from trued.procedure.quantities import MIL, inches, place, size
from trued.procedure.reading_rules import no_size
from trued.procedure.shared.cursor import KEEPER_FACT
from trued.procedure.sketch.in_tolerances import band_label, in_tolerances
from trued.procedure.sketch.pieces import Shape, measured

LINE, CLEARANCE = "sight-line", "zero-clearance"
LINE_TOLERANCE = ToleranceLimits.within(inches(0.010))  # common practice: no eye is better
CLEARANCE_TOLERANCE = ToleranceLimits(None, inches(1 / 64))  # common practice
BY_EYE = EstimatedSd(
    inches(0.005), 4
)  # one mark brought to the line by eye and cut: common practice, 0.010 in is two of it
EYE_OFF = 50.0 / 450.0  # how far aside, of its distance, an eye may be that thinks itself above: common practice
PENCIL = inches(0.006), inches(0.014)  # half of a pencil line and more: common practice, 0.010 in
KERFS = inches(0.06), inches(0.15)  # every common blade, common practice
BURNED = 2.5  # mm: no line is set worse than this, common practice
LINE_MOVED = inches(0.005)  # more than this beyond what a new blade explains is worth a sentence
NEVER_0 = "{places}: neither mark nor cut lies at the keeper's own end. Measure again."


def lefts(taken: RunInput) -> tuple[float, ...]:
    """What each cut left beyond its mark: above nought the keeper came out long."""
    return tuple(cut - mark for mark, cut in zip(taken.all("to_mark"), taken.all("to_cut"), strict=True))


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Mean of what is left; the instrument's limit of error cancels, because both lengths are read with it."""
    values = lefts(taken)
    known = BY_EYE.learn_repeats(values)
    own = ErrorSource(
        "sight:cuts", "bringing a mark to the line and cutting", known.s / math.sqrt(len(values)), known.dof
    )
    value = UncertainValue.of(math.fsum(values) / len(values), own)
    if (above := taken.number("above")) is not None:
        half = above * EYE_OFF / math.sqrt(3.0)
        parallax = ErrorSource(
            "limit:parallax", "the eye aside of a line above the work", half, math.inf, Spread.RECTANGULAR
        )
        value = value + UncertainValue.of(0.0, parallax)
    found = [FeatureResult(LINE, "mm", value, taken.tolerance(LINE))]
    kerf = taken.number("marked")
    if taken.has("facing_kerf") and kerf is not None:
        open_by = taken.mean("facing_kerf") - kerf
        found.append(FeatureResult(CLEARANCE, "mm", open_by, taken.tolerance(CLEARANCE)))
    return tuple(found)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """The line goes to where the cut came; a facing that is too open is renewed."""
    left, unit = founds[0].value.value, taken.unit
    long = left > 0.0
    side = "offcut" if long else "keeper"
    text = (
        f"Move the line {size(left, unit)} toward the {side} side{_compass(taken, side)}. Parts come out "
        f"{'long' if long else 'short'} by that much. Or cut a scrap, leave it on the sled, and set the line to the "
        "kerf. Write beside it which side is waste."
    )
    made = [Move(LINE, text, "line", f"toward-{side}", abs(left))]
    for found in founds[1:]:
        out = size(found.value.value, unit)
        renew = (
            f"Renew the facing or insert: its slot is {out} wider than this blade cuts. Edges splinter there. Cut it "
            "in one pass at full height. Then set line and scale again."
        )
        made.append(Move(CLEARANCE, renew, "facing", "in", None))
    return tuple(made)


def _compass(taken: RunInput, side: str) -> str:
    keeper = taken.word("keeper")
    if not keeper:
        return ""
    other = "right" if keeper == "left" else "left"
    return f" (to the {keeper if side == 'keeper' else other} as you stand at the saw)"


def _pairs(taken: RunInput) -> list[tuple[Reading, Reading]]:
    return list(zip(taken.of("to_mark"), taken.of("to_cut"), strict=True))


def slipped_unit(taken: RunInput) -> Flag | None:
    """Mark and cut of one piece typed in two units."""
    for mark, cut in _pairs(taken):
        if is_slip(max(mark.value, cut.value), min(mark.value, cut.value)):
            odd, meant = (cut, mark.value) if taken.unit == "in" or cut.value < mark.value else (mark, cut.value)
            return slipped(taken, odd, meant, f"beside {place(mark if odd is cut else cut)}")
    return None


def burned_inch(taken: RunInput) -> Flag | None:
    """Off by a whole inch, or by 10 or 100 mm: one of the two was read from a line of the rule."""
    off = [(cut, words) for mark, cut in _pairs(taken) if (words := burned(cut.value - mark.value, taken.unit, BURNED))]
    text = f"{', '.join(place(r) for r, _ in off)}: off by {off[0][1]} from its mark. Read both again." if off else ""
    return Flag("burned-inch", Severity.DOUBT, text) if off else None


def wrong_side(taken: RunInput) -> Flag | None:
    """Short by just a kerf: the line stands at the other edge of the kerf, or the offcut was measured."""
    left, kerf = math.fsum(lefts(taken)) / len(lefts(taken)), taken.number("marked")
    room = KERFS if kerf is None else (kerf - inches(0.012), kerf + inches(0.012))
    if not room[0] <= -left <= room[1]:
        return None
    text = (
        f"The keeper is short by {size(left, taken.unit)}, which is about a kerf: the line stands at the offcut side's "
        "edge of the kerf, or the waste was put on the wrong side of it. Set the line to the keeper side's edge."
    )
    return Flag("wrong-side", Severity.DOUBT, text)


def pencil_width(taken: RunInput) -> Flag | None:
    """As much as lies between leaving a pencil line and splitting it."""
    left = evaluate(taken)[0].value.value
    if taken.choice("mark_with") != "pencil" or not PENCIL[0] <= abs(left) <= PENCIL[1]:
        return None
    what = "leaving" if left > 0 else "taking"
    text = (
        f"{size(left, taken.unit)} is about what lies between {what} a pencil line and splitting it. Mark with a "
        "knife, or say once and for all that the line is split, before the sight line is moved."
    )
    return Flag("pencil-width", Severity.NOTE, text)


def narrow_facing(taken: RunInput) -> Flag | None:
    """A kerf in the facing that the blade does not fit through."""
    kerf = taken.number("marked")
    if kerf is None or not taken.has("facing_kerf") or taken.mean("facing_kerf").value > kerf - inches(0.010):
        return None
    text = (
        "The kerf in the facing is narrower than the blade's, which cannot be: measure it at full depth with the "
        "inside jaws, and look up the kerf (check kerf)."
    )
    return Flag("narrow-facing", Severity.DOUBT, text)


def new_blade_shift_mm(old_kerf: float, old_plate: float, kerf: float, plate: float, *, flange_side: bool) -> float:
    """How much longer parts come out at an unchanged line after a change of blade, mm.

    The plate lies against the fixed flange; the teeth stand out half of (kerf - plate) on either side. On the flange's
    side the keeper's tooth moves by half the change of (kerf - plate), on the nut's side by half that of
    (kerf + plate): never by the change of kerf itself, nor by half of it.
    """
    sign = -1.0 if flange_side else 1.0
    return ((old_kerf + sign * old_plate) - (kerf + sign * plate)) / 2.0


def blade_change(taken: RunInput) -> Flag | None:
    """What the change of blade alone should have done, beside what was found."""
    sizes = [taken.number(name) for name in ("old_kerf", "old_plate", "marked", "plate")]
    known = [s for s in sizes if s is not None]
    flange, keeper = taken.word("flange"), taken.word("keeper")
    if len(known) < 4 or not (flange and keeper):
        return None
    foretold = new_blade_shift_mm(known[0], known[1], known[2], known[3], flange_side=flange == keeper)
    left = evaluate(taken)[0].value
    said = f"The other blade alone makes parts {size(foretold, taken.unit)} {'longer' if foretold > 0 else 'shorter'}"
    rest = left.value - foretold
    if abs(rest) <= max(LINE_MOVED, 2.0 * left.u):
        return Flag("blade-change", Severity.NOTE, f"{said}; that is what was found. Move the line, nothing is wrong.")
    text = (
        f"{said}; a further {size(rest, taken.unit)} {'longer' if rest > 0 else 'shorter'} comes from something "
        "else: a chip under the flange, or the line itself. Unplug, clean the flanges, then cut again."
    )
    return Flag("blade-change", Severity.NOTE, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The board on the sled from above: keeper's end, mark, kerf; afterwards the line beside the cut."""
    keeper = taken.word("keeper") or "left"
    k = -1 if keeper == "left" else 1
    seen = f"The board on the sled seen from above, the keeper {keeper} of the blade."
    shapes: list[Shape] = [
        rectangle(min(-k * 1, k * 14), 3, 15, 1, "fence"),
        rectangle(min(0, k * 11), -1, 11, 4, "board"),
        rectangle(min(-k * 1, -k * 7), -1, 6, 4, "waste"),
        rectangle(min(0, -k), -1, 1, 4, "kerf"),
        Label((-k * 4, 0.6), "waste"),
        Label((-k * 0.5, -2.2), "kerf"),
    ]
    if not founds:
        shapes += [Line((0, 3), (0, 5.2), "limit"), Label((0, 5.8), "line")]
        shapes += measured((k * 11, -3.6), (0, -3.6), "to mark, to cut", (k * 6, -5.2))
        told = (
            f"{seen} The line stands at the edge of the kerf on the keeper's side. From the keeper's own end "
            "measure to the mark before the cut, and the keeper's length after it."
        )
        return Drawing("Sight line: what to read", told, tuple(shapes))
    left = founds[0].value.value
    long = left > 0.0
    drawn = in_tolerances(founds[0])
    at = k * drawn.far  # a line inside the keeper leaves wood beyond its mark
    shapes += [
        rectangle(min(k * drawn.band[0], k * drawn.band[1]), 3, drawn.band[1] - drawn.band[0], 2.2, "band"),
        band_label((k * 7.0, 7.4)),
        Line((at, 3), (at, 5.2), "found"),
        Label((at, 5.8), "line"),
        Arrow((at, 6.8), (0, 6.8), "move"),
        Label((-k * 4, 8.0), f"to the {'offcut' if long else 'keeper'} side", "move"),
    ]
    mend = f"To mend it the line goes toward the {'offcut' if long else 'keeper'} side."
    told = (
        f"{seen} Cuts come {size(left, taken.unit)} {'beyond' if long else 'inside'} the line, drawn much larger: "
        f"parts come out {'long' if long else 'short'}. {mend}"
    )
    return Drawing("Sight line: what was found", told, tuple(shapes), mend)


def _fact(name: str, text: str) -> SetupFact:
    return SetupFact(name, text, kind=Kind.LENGTH, needed_for=Need.WORDS)


CHECK = Check(
    id="sight-line",
    version=1,
    title="Cut line: does the blade hit your mark?",
    purpose="Finds how far the cut lies from the line that marks are brought to, and whether the facing still "
    "backs it.",
    minutes=4.0,
    features=(
        Feature(
            LINE,
            "mm",
            "sight line",
            limits=LINE_TOLERANCE,
            directions=("toward-offcut", "toward-keeper"),
            sides=("parts long", "parts short"),
            doubts=(
                AddedUncertainty("blade-same-kerf", 10 * MIL, grows="secant"),
                AddedUncertainty("blade-thinner", 10 * MIL, grows="secant"),
                AddedUncertainty("blade-thicker", 10 * MIL, grows="secant"),
                AddedUncertainty("blade-realigned", 15 * MIL, grows="secant"),
                AddedUncertainty("facing-renewed", 1 / 16 * 25.4, "turned", "tangent"),
                AddedUncertainty("bar-adjusted", 8 * MIL),
            ),
            angles="swing",
            turn=450,
        ),
        Feature(
            CLEARANCE,
            "mm",
            "zero-clearance slot width",
            limits=CLEARANCE_TOLERANCE,
            doubts=(
                AddedUncertainty("blade-same-kerf", 10 * MIL),
                AddedUncertainty("blade-thinner", 10 * MIL),
                AddedUncertainty("blade-thicker", 10 * MIL),
                AddedUncertainty("blade-realigned", 15 * MIL),
                AddedUncertainty("facing-renewed", 20 * MIL),
                AddedUncertainty("bar-adjusted", 8 * MIL),
            ),
            turn=460,
        ),
    ),
    ground=("fence-angle",),
    at_hand=("two or three scraps with one square end", "a knife or a sharp pencil", "a caliper"),
    cautions=(
        "Stop the saw and wait until the blade stands before anything is lifted off or looked at closely.",
        "Hands at least 6 in from the kerf; short scraps are clamped.",
        "Facing, insert or blade change: saw unplugged, battery out.",
    ),
    made_on="sled",
    asks=(
        ReadingSpec(
            "to_mark",
            "from the keeper's end to the mark, before the cut; named again for each scrap",
            advise=3,
            row="scrap",
            one_thing=False,
            positive=NEVER_0,
        ),
        ReadingSpec(
            "to_cut",
            "length of the keeper after the cut, of the same scrap",
            advise=3,
            row="scrap",
            one_thing=False,
            positive=NEVER_0,
        ),
        ReadingSpec(
            "mark_with",
            "what it was marked with",
            kind=Kind.CHOICE,
            choices=("knife", "pencil"),
            optional=True,
        ),
        ReadingSpec(
            "facing_kerf", "width of the kerf in the facing, at full depth", advise=2, optional=True, positive=NEVER_0
        ),
    ),
    facts=(
        *TURN_FACTS,
        KEEPER_FACT,
        _fact("above", "how high the line stands above the work"),
        _fact("marked", "the kerf of the blade"),
        _fact("plate", "the thickness of the blade's plate"),
        _fact("old_kerf", "the kerf of the blade that was on before"),
        _fact("old_plate", "the plate of the blade that was on before"),
        SetupFact(
            "flange",
            "the side of the blade on which the fixed flange of the arbor lies",
            choices=("left", "right"),
            needed_for=Need.WORDS,
        ),
    ),
    steps=(
        Step("Cut a scrap, leave it on the sled, and set the line to the edge of the kerf on the keeper's side."),
        Step(
            "Mark a fresh scrap with a knife, measure from its square end to the mark, bring the mark to the line with "
            "one eye straight above it, and cut.",
            ("to_mark", "mark_with"),
            "The scrap is short: clamp it, and let the offcut lie until the blade stands.",
        ),
        Step("Measure the keeper. Do two more, each brought to the line anew.", ("to_cut",)),
        Step(
            "Measure the kerf in the facing where the blade passes it.", ("facing_kerf",), "Unplug before you reach in."
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(
        no_size,
        slipped_unit,
        burned_inch,
        wrong_side,
        fraction_display,
        narrow_facing,
        pencil_width,
        blade_change,
    ),
    draw=draw,
    example=Example(
        ("to_mark=4.000", "to_cut=4.012", "to_mark=5.000", "to_cut=5.016", "to_mark=6.000", "to_cut=6.014"),
        ((LINE, inches(0.014)),),
        "worked by hand: mean of 0.012, 0.016 and 0.014",
        (("angle", "0"),),
    ),
    sources=(
        "common practice: 0.010 in is what an eye can do; 0.005 in for one standard deviation of a cut by eye",
        "parallax: height of the line times how far the eye is aside, over its distance; 50 in 450 mm, common practice",
        "change of blade: geometry of a plate against the fixed flange",
    ),
)
