"""Riving knife or splitter: thicker than the plate, thinner than the kerf, in line with the blade, near its teeth."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

from trued.drawing.shapes import Arrow, Drawing, Label, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import UncertainValue, linear
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
)
from trued.procedure.declaration import Reading
from trued.procedure.gross_errors import fraction_display, slipped
from trued.procedure.quantities import INCH, MIL, inches, size
from trued.procedure.safety import held, middle
from trued.procedure.sketch.pieces import Shape

LINE, OVER_PLATE, UNDER_KERF = "knife", "knife-over-plate", "knife-under-kerf"
GAP, HEIGHT = "knife-gap", "knife-height"
SIDES = ("keeper", "offcut")
ENDS = ("nearest", "farthest")
MARGIN = ToleranceLimits(
    inches(0.005), None
)  # common practice: strictly between plate and kerf, with 0.005 in to spare
IN_LINE = ToleranceLimits(0.0, None)  # the knife may nowhere stand out of the kerf
# The EN 1870 series on circular saw benches has both, from memory (no copy was seen): the maker's figures go first.
GAP_ALLOWED = ToleranceLimits(3.0, 8.0)  # mm, knife to teeth; from memory
HEIGHT_ALLOWED = ToleranceLimits(0.0, 2.0)  # mm below the top tooth, for cuts that do not go through; from memory
SUM_DIFFERS = inches(0.010)  # common practice: a kerf is up to this wider than the teeth, by the blade runout
ALIKE = 2.5  # times: knife, plate and kerf that belong together differ by less


def absent(taken: RunInput) -> bool:
    """Whether no knife is fitted: its thickness was typed as 0."""
    return taken.mean("knife").value == 0.0


def kerf(taken: RunInput) -> UncertainValue:
    """The kerf as the check `kerf` found it: whole less two pieces, so the limit of error is in it with its sign
    turned, and a caliper that reads too much makes the kerf too small.
    """
    read = taken.mean("kerf")
    return UncertainValue(read.value, {s: -c if s.key.startswith("limit:") else c for s, c in read.parts.items()})


def offset(taken: RunInput) -> UncertainValue:
    """How far the knife stands toward the offcut side: half of what the gap there is smaller by."""
    keeper, offcut = (taken.mean("gap_side", side) for side in SIDES)
    return (keeper - offcut) / 2.0


def room(taken: RunInput) -> UncertainValue:
    """What is left of the kerf at the knife's tighter side; below 0 it stands out of the kerf there."""
    half, aside = (kerf(taken) - taken.mean("knife")) / 2.0, offset(taken)
    out = -1.0 if aside.value > 0.0 else 1.0
    return linear(half.value + out * aside.value, (1.0, half), (out, aside))


def teeth(taken: RunInput) -> UncertainValue:
    """Distance to the teeth where it is worse: farther from the middle of what is allowed."""
    ends = [taken.mean("to_teeth", end) for end in ENDS]
    return max(ends, key=lambda x: abs(x.value - middle(GAP_ALLOWED)))


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Each must hold by itself; without a knife nothing but that is to be said."""
    over = taken.mean("knife") - taken.mean("plate")
    founds = [_must(taken, OVER_PLATE, over)]
    if absent(taken):
        return tuple(founds)
    founds += [
        _must(taken, UNDER_KERF, kerf(taken) - taken.mean("knife")),
        _must(taken, LINE, room(taken)),
        _must(taken, GAP, teeth(taken)),
    ]
    if taken.has("below_top"):
        founds.append(_must(taken, HEIGHT, taken.mean("below_top")))
    return tuple(founds)


def _must(taken: RunInput, feature: str, value: UncertainValue) -> FeatureResult:
    return FeatureResult(feature, "mm", value, held(taken, feature), safety=True)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Another knife, a shim under it, or another place of its holder; no cut before that."""
    if absent(taken):
        text = "No rip, and no through cut: no knife is fitted. Put it back on first."
        return (Move(OVER_PLATE, text, "knife", "fit", None),)
    jammed = kerf(taken).value <= taken.mean("knife").value  # no place of it mends that
    return tuple(_move(taken, found) for found in founds if not (jammed and found.feature == LINE))


def _move(taken: RunInput, found: FeatureResult) -> Move:
    x, unit = found.value.value, taken.unit
    if found.feature == OVER_PLATE:
        text = (
            "Don't cut with this pair: fit the knife that the maker names for this blade. "
            f"The knife is {_than(x, 'thicker', 'thinner', unit)} than the plate: the kerf can close on the plate."
        )
        return Move(OVER_PLATE, text, "knife", "thicker", None)
    if found.feature == UNDER_KERF:
        text = (
            "Don't cut with this pair: fit a thinner knife or a blade of wider kerf, as the maker pairs them. "
            f"The knife is {_than(x, 'thinner', 'thicker', unit)} than the kerf: the work jams on it."
        )
        return Move(UNDER_KERF, text, "knife", "thinner", None)
    if found.feature == LINE:
        return _shim(taken)
    return _place(found.feature, x, middle(GAP_ALLOWED if found.feature == GAP else HEIGHT_ALLOWED), unit)


def _than(mm: float, more: str, less: str, unit: str) -> str:
    return f"only {size(mm, unit)} {more}" if mm >= 0.0 else f"{size(mm, unit)} {less}"


def _shim(taken: RunInput) -> Move:
    aside = offset(taken).value
    to, frm = ("keeper's", "offcut") if aside > 0.0 else ("offcut", "keeper's")
    by = size(aside, taken.unit)
    text = (
        f"Move the knife toward the {to} side by {by}. Take {by} of shim out of its holder there, or put {by} in on "
        f"the {frm} side. Tighten. Lay the straightedge on both sides again. Bent, or no room for a shim? Replace it."
    )
    return Move(LINE, text, "knife", f"{'keeper' if aside > 0.0 else 'offcut'}-side", abs(aside))


def _place(feature: str, x: float, aim: float, unit: str) -> Move:
    by = size(x - aim, unit)
    if feature == GAP:
        way = "nearer to" if x > aim else "away from"
        text = f"Move the knife {way} the teeth by {by} in its holder, and tighten."
        return Move(GAP, text, "holder", "nearer" if x > aim else "away", abs(x - aim))
    way = "higher" if x > aim else "lower"
    text = (
        f"Set the knife {way} by {by}. A splitter that carries the guard stands above the blade: through cuts only. "
        "The manual says where it stands."
    )
    return Move(HEIGHT, text, "holder", way, abs(x - aim))


# --- what can hurt someone


def no_knife(taken: RunInput) -> Flag | None:
    """Said whatever else was read."""
    text = "No knife is fitted: no rip. Fit it, or the splitter of the guard, before any through cut."
    return Flag("knife-absent", Severity.DANGER, text, (OVER_PLATE,)) if taken.has("knife") and absent(taken) else None


def jams(taken: RunInput) -> Flag | None:
    """A knife as thick as the kerf or thicker: told by two thicknesses alone."""
    if not _thicknesses(taken, "kerf") or kerf(taken).value > taken.mean("knife").value:
        return None
    text = (
        f"The work jams: the knife is {size(taken.mean('knife').value, taken.unit)} thick, and the kerf is "
        f"{size(kerf(taken).value, taken.unit)} wide. No rip and no through cut with this pair."
    )
    return Flag("knife-jams", Severity.DANGER, text, (UNDER_KERF,))


def lets_close(taken: RunInput) -> Flag | None:
    """A knife no thicker than the plate: the kerf can close on the blade."""
    if not _thicknesses(taken, "plate") or taken.mean("knife").value > taken.mean("plate").value:
        return None
    text = (
        f"The kerf can close on the blade: the knife is {size(taken.mean('knife').value, taken.unit)} thick, the plate "
        f"{size(taken.mean('plate').value, taken.unit)}. No rip and no through cut with this pair."
    )
    return Flag("knife-lets-close", Severity.DANGER, text, (OVER_PLATE,))


def _thicknesses(taken: RunInput, other: str) -> bool:
    """Whether a knife was read and what it is held against, and neither is a slip of the unit."""
    return taken.has("knife") and taken.has(other) and not absent(taken) and slipped_unit(taken) is None


# --- blunders


def incomplete(taken: RunInput) -> Flag | None:
    """A knife is fitted, but where it stands was not read."""
    if absent(taken):
        return None
    lone = [f"gap_side@{side}" for side in SIDES if not taken.has("gap_side", side)]
    lone += [f"to_teeth@{end}" for end in ENDS if not taken.has("to_teeth", end)]
    text = f"{', '.join(lone)} is missing: where the knife stands cannot be told. (Type knife=0 where none is fitted.)"
    return Flag("knife-incomplete", Severity.REFUSE, text) if lone else None


def slipped_unit(taken: RunInput) -> Flag | None:
    """Knife, plate and kerf are all about alike, and so are its gaps to the teeth: one that is not, but would be in the
    other unit."""
    groups = ("to_teeth",), ("knife", "plate", "kerf")
    found = (_unlike(taken, [r for name in names for r in taken.of(name) if r.value > 0.0]) for names in groups)
    return next((seen for seen in found if seen is not None), None)


def _unlike(taken: RunInput, readings: Sequence[Reading]) -> Flag | None:
    if len(readings) < 2:
        return None
    sizes = sorted(r.value for r in readings)
    usual = median(sizes) if len(sizes) > 2 else sizes[-1 if taken.unit == "mm" else 0]
    odd = max(readings, key=lambda r: max(r.value / usual, usual / r.value))
    for meant in (odd.value * INCH, odd.value / INCH):
        if 1 / ALIKE <= meant / usual <= ALIKE < max(odd.value / usual, usual / odd.value):
            return slipped(taken, odd, meant, "beside the others")
    return None


def plate_over_kerf(taken: RunInput) -> Flag | None:
    """A plate as thick as its kerf: one of the two is misread."""
    if kerf(taken).value > taken.mean("plate").value:
        return None
    text = "The plate cannot be as thick as the kerf that it cuts: read plate and kerf again, the plate off the set."
    return Flag("plate-over-kerf", Severity.REFUSE, text)


def sides_disagree(taken: RunInput) -> Flag | None:
    """The gaps of both sides together are kerf less knife, when the straightedge lies on the teeth."""
    if absent(taken) or not all(taken.has("gap_side", side) for side in SIDES):
        return None
    keeper, offcut = (taken.mean("gap_side", side) for side in SIDES)
    differ = keeper + offcut - (kerf(taken) - taken.mean("knife"))
    if abs(differ.value) <= max(SUM_DIFFERS, 3.0 * differ.u):
        return None
    text = (
        f"The gaps of both sides together differ by {size(differ.value, taken.unit)} from kerf less knife. Did the "
        "straightedge lie on two teeth on either side, and is this the blade whose kerf was measured? Read again."
    )
    return Flag("sides-disagree", Severity.DOUBT, text)


# --- drawings


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """Plate, teeth and knife from above, with the gaps to a straightedge on the teeth; afterwards the knife as it
    stands in the kerf and the way to shim it.
    """
    k = 1 if taken.word("keeper") == "right" else -1
    shapes: list[Shape] = [
        rectangle(-2, -10, 4, 9, "blade"),
        rectangle(-3, -3, 6, 2.5, "blade"),
        Label((0, -11.6), "blade, your side"),
        rectangle(-3, 0, 0.15, 11, "kerf"),
        rectangle(2.85, 0, 0.15, 11, "kerf"),
        Label((0, 12.0), "far side"),
    ]
    seen = f"Seen from above, much enlarged, the keeper {taken.word('keeper') or 'left'} of the blade."
    if not founds:
        shapes += [rectangle(-2.4, 2, 4.8, 8, "part"), Label((0, 6), "knife")]
        for at, words in ((k, "gap, keeper's side"), (-k, "gap, offcut side")):
            shapes.append(rectangle(at * 3.25 - 0.25, -3, 0.5, 14, "fixture"))
            shapes.append(Arrow((at * 2.4, 8), (at * 3.0, 8), "measure", both_ends=True))
            shapes.append(Label((at * 4.2, 8), words, "measure", "start" if at > 0 else "end"))
        shapes += [Arrow((0, -0.5), (0, 2), "measure", both_ends=True), Label((0.6, 0.8), "to teeth", "measure")]
        told = (
            f"{seen} Measure the thickness of knife and plate. Lay a straightedge along two teeth on either side of "
            "the blade and read the gap to the knife; measure how far the knife is from the teeth, and how far its top "
            "lies below the top tooth."
        )
        return Drawing("Riving knife: what to read", told, tuple(shapes))
    if absent(taken):
        shapes.append(Label((0, 6), "no knife: no rip", "move"))
        return Drawing("Riving knife: none", f"{seen} No knife is fitted: no rip before it is.", tuple(shapes))
    aside = offset(taken).value
    x = -k * 1.4 if aside > 0.0 else k * 1.4
    side, to = ("offcut", "keeper's") if aside > 0.0 else ("keeper's", "offcut")
    shapes += [
        rectangle(x - 2.4, 2, 4.8, 8, "part"),
        Arrow((x, 10.8), (0, 10.8), "move"),
        Label((x, 13.2), f"knife toward the {to} side", "move"),
    ]
    left = room(taken).value
    mend = f"To bring it in line it goes toward the {to} side."
    told = (
        f"{seen} The knife stands {size(aside, taken.unit)} toward the {side} side, drawn much larger; "
        f"{size(left, taken.unit)} {'of the kerf is left there' if left >= 0.0 else 'of it stands out of the kerf'}. "
        f"{mend}"
    )
    return Drawing("Riving knife: what was found", told, tuple(shapes), mend)


CHECK = Check(
    id="knife",
    version=1,
    title="Riving knife: right thickness, and in line?",
    purpose="Finds whether the knife is thicker than the plate, thinner than the kerf, and in line behind the blade.",
    minutes=6.0,
    features=(
        Feature(
            LINE,
            "mm",
            "riving knife alignment",
            limits=IN_LINE,
            sides=("inside the kerf", "outside the kerf"),
            owner="saw",
            doubts=(
                AddedUncertainty("saw-carried", 5 * MIL),
                AddedUncertainty("blade-same-kerf", 5 * MIL),
                AddedUncertainty("blade-thinner", 5 * MIL),
                AddedUncertainty("blade-thicker", 5 * MIL),
                AddedUncertainty("blade-realigned", 10 * MIL),
            ),
            safety=True,
            turn=150,
        ),
        Feature(
            OVER_PLATE,
            "mm",
            "knife over plate",
            sides=("thicker than the plate", "thinner than the plate"),
            limits=MARGIN,
            owner="saw",
            doubts=(
                AddedUncertainty("blade-same-kerf", 4 * MIL),
                AddedUncertainty("blade-thinner", 20 * MIL),
                AddedUncertainty("blade-thicker", 20 * MIL),
            ),
            safety=True,
            turn=160,
        ),
        Feature(
            UNDER_KERF,
            "mm",
            "knife under kerf",
            sides=("thinner than the kerf", "thicker than the kerf"),
            limits=MARGIN,
            owner="saw",
            doubts=(
                AddedUncertainty("blade-same-kerf", 4 * MIL),
                AddedUncertainty("blade-thinner", 20 * MIL),
                AddedUncertainty("blade-thicker", 20 * MIL),
            ),
            safety=True,
            turn=170,
        ),
        Feature(
            GAP,
            "mm",
            "knife-to-teeth gap",
            limits=GAP_ALLOWED,
            owner="saw",
            doubts=(
                AddedUncertainty("blade-same-kerf", 40 * MIL),
                AddedUncertainty("blade-thinner", 40 * MIL),
                AddedUncertainty("blade-thicker", 40 * MIL),
            ),
            safety=True,
            turn=180,
        ),
        Feature(
            HEIGHT,
            "mm",
            "knife height",
            sides=("below the top tooth", "above the top tooth"),
            limits=HEIGHT_ALLOWED,
            owner="saw",
            doubts=(
                AddedUncertainty("blade-same-kerf", 40 * MIL),
                AddedUncertainty("blade-thinner", 40 * MIL),
                AddedUncertainty("blade-thicker", 40 * MIL),
            ),
            safety=True,
            turn=190,
        ),
    ),
    ground=("blade-parallel", "bevel@0"),
    at_hand=(
        "a caliper with a depth rod",
        "a straightedge",
        "feelers or thin paper",
        "the kerf of this blade (check kerf)",
    ),
    cautions=(
        "Saw unplugged, battery out; the blade bites when it is only touched.",
        "The maker says which knife goes with which blade, and how near and how high it stands: that goes first.",
        "No rip and no through cut without a knife, or with one as thick as the kerf. There is no way past this.",
    ),
    asks=(
        ReadingSpec("knife", "thickness of the knife; 0 where none is fitted", advise=2, expect=(0.0, 5.0)),
        ReadingSpec("plate", "thickness of the blade's plate, off the set of the teeth", advise=2, expect=(0.8, 5.0)),
        ReadingSpec("kerf", "the kerf of this blade as found by the check kerf", expect=(0.8, 8.0)),
        ReadingSpec(
            "gap_side",
            "gap between knife and a straightedge that lies on two teeth, on the keeper's and on the offcut side; "
            "below 0 where the knife holds the straightedge off the teeth",
            kind=Kind.GAP,
            instrument="feelers",
            stations=SIDES,
            optional=True,
            advise=2,
            expect=(-3.0, 3.0),
        ),
        ReadingSpec(
            "to_teeth",
            "distance from the knife to the teeth along the radius, where it is nearest and where it is farthest",
            stations=ENDS,
            optional=True,
            expect=(0.0, 60.0),
        ),
        ReadingSpec(
            "below_top",
            "how far the top of the knife lies below the top tooth; left out for a splitter that carries the guard",
            kind=Kind.GAP,
            optional=True,
            expect=(-150.0, 60.0),
        ),
    ),
    facts=(
        SetupFact(
            "keeper", "the side of the blade on which the keeper lies", choices=("left", "right"), needed_for=Need.WORDS
        ),
    ),
    steps=(
        Step(
            "Measure the thickness of the knife, and of the blade's plate between the teeth and the hub. Take the kerf "
            "from the check kerf, found with this blade.",
            asks=("knife", "plate", "kerf"),
            caution="Unplug first. Lock the blade with a stick, not with a hand.",
        ),
        Step(
            "Raise the blade. Lay the straightedge along two teeth on the keeper's side, so that it passes the knife, "
            "and read the gap to the knife; the same on the offcut side.",
            asks=("gap_side",),
        ),
        Step(
            "Measure from the knife to the teeth along the radius, where it is nearest and where it is farthest.",
            asks=("to_teeth",),
        ),
        Step("Measure how far the knife's top lies below the top tooth.", asks=("below_top",)),
        Step("Turn the blade by hand once round: it touches nothing."),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(incomplete, slipped_unit, plate_over_kerf, sides_disagree, fraction_display),
    dangers=(no_knife, jams, lets_close),
    draw=draw,
    example=Example(
        (
            "knife=0.100",
            "plate=0.087",
            "kerf=0.125",
            "gap_side@keeper=0.015",
            "gap_side@offcut=0.010",
            "to_teeth@nearest=3/16",
            "to_teeth@farthest=1/4",
        ),
        (
            (OVER_PLATE, inches(0.013)),
            (UNDER_KERF, inches(0.025)),
            (LINE, inches(0.010)),
        ),
        "worked by hand: offset (0.015 - 0.010) / 2, and (0.125 - 0.100) / 2 less that is left",
    ),
    sources=(
        "common practice: strictly between plate and kerf with 0.005 in to spare",
        "3 to 8 mm to the teeth and 0 to 2 mm below the top tooth: from memory, so the maker's figures go first",
    ),
)
