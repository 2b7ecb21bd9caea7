"""Kerf: the width of wood that a cut takes away, from the whole and the two pieces it was cut into."""

from __future__ import annotations

from trued.drawing.shapes import Drawing, Label, rectangle
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
from trued.procedure.gross_errors import BURNED_STARTS, fraction_display, slipped, start_said
from trued.procedure.quantities import MIL, inches, place, size
from trued.procedure.reading_rules import burr
from trued.procedure.sketch.pieces import measured

FEATURE = "kerf"
NAMES = ("whole", "keeper_piece", "offcut_piece")
LEAST, MOST = 0.8, inches(0.3)  # mm: between these lies every circular saw blade's kerf, common practice
OVER_MARKED, WOBBLE = inches(0.020), inches(0.010)  # common practice


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Whole less the two pieces; the instrument's limit of error stays in it once, with its sign turned."""
    whole, keeper, offcut = (taken.mean(name) for name in NAMES)
    return (FeatureResult(FEATURE, "mm", whole - keeper - offcut),)


def moves(_taken: RunInput, _founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """There is nothing to turn: a kerf is a measured input."""
    return ()


def kerf_mm(taken: RunInput) -> float:
    """The kerf as read."""
    return taken.mean("whole").value - taken.mean("keeper_piece").value - taken.mean("offcut_piece").value


def plausible(kerf: float) -> bool:
    """Whether a circular saw blade can have cut it."""
    return LEAST <= kerf <= MOST


def slipped_unit(taken: RunInput) -> Flag | None:
    """One of the three typed in the other unit: the sum is right only when it is changed over."""
    kerf = kerf_mm(taken)
    if plausible(kerf):
        return None
    for name in NAMES:
        mean = taken.mean(name).value
        sign = 1.0 if name == "whole" else -1.0
        for factor in (25.4, 1.0 / 25.4):
            if plausible(kerf + sign * mean * (factor - 1.0)):
                return slipped(taken, taken.of(name)[0], mean * factor, "beside the other two")
    return None


def burned_inch(taken: RunInput) -> Flag | None:
    """One of the three off by a whole inch, or by 10 or 100 mm."""
    kerf = kerf_mm(taken)
    if plausible(kerf) or slipped_unit(taken) is not None:
        return None
    for start in BURNED_STARTS:
        if plausible(kerf - start) or plausible(kerf + start):
            off = start_said(start, taken.unit)
            text = f"The three do not fit together, but would if one were {off} off: was a rule read from that line?"
            return Flag("burned-inch", Severity.REFUSE, f"{text} Measure all three again.")
    return None


def no_kerf(taken: RunInput) -> Flag | None:
    """The two pieces together are as long as the whole, or longer."""
    if kerf_mm(taken) > 0.0 or slipped_unit(taken) or burned_inch(taken):
        return None
    read = ", ".join(place(r) for name in NAMES for r in taken.of(name))
    text = f"The two pieces are together no shorter than the whole ({read}): one is misread, or from another board."
    return Flag("no-kerf", Severity.REFUSE, text)


def under_plate(taken: RunInput) -> Flag | None:
    """Less than the blade's plate is thick: the plate would not go through."""
    plate, kerf = taken.number("plate"), kerf_mm(taken)
    if plate is None or not 0.0 < kerf < plate:
        return None
    text = (
        f"The kerf is less than the plate ({size(plate, taken.unit)}), which cannot be: the plate must go through it. "
        "Measure plate and pieces again, each square across and free of fuzz."
    )
    return Flag("under-plate", Severity.DOUBT, text)


def over_marked(taken: RunInput) -> Flag | None:
    """More than the kerf that is marked on the blade: wobble, up to where it cannot be."""
    marked, kerf = taken.number("marked"), kerf_mm(taken)
    if marked is None or kerf <= marked + WOBBLE:
        return None
    over = size(kerf - marked, taken.unit)
    if kerf > marked + OVER_MARKED:
        text = f"{over} over the marked kerf: look for a wobbling blade or a board that moved, and measure again."
        return Flag("over-marked", Severity.DOUBT, text)
    return Flag("wobble", Severity.NOTE, f"{over} over the marked kerf: the blade wobbles. Clean arbor and flanges.")


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The whole above, the two pieces with the kerf between them below."""
    shapes = [
        rectangle(-10, 4, 20, 2.5, "board"),
        *measured((-10, 7.5), (10, 7.5), "whole", (0, 8.3)),
        rectangle(-10, -2, 9, 2.5, "board"),
        rectangle(1, -2, 9, 2.5, "waste"),
        rectangle(-1, -2, 2, 2.5, "kerf"),
        Label((0, 1.3), f"kerf {size(founds[0].value.value, taken.unit)}" if founds else "kerf"),
        *measured((-10, -3.5), (-1, -3.5), "keeper piece", (-5.5, -5.2)),
        *measured((1, -3.5), (10, -3.5), "offcut piece", (5.5, -5.2)),
    ]
    told = (
        "A short board measured whole, then cut once in two. The kerf is the whole less the piece on the keeper's side "
        "and the piece on the offcut side."
    )
    if founds:
        told += f" Here {size(founds[0].value.value, taken.unit)}, drawn much larger."
    return Drawing("Kerf: what is measured", told, tuple(shapes))


CHECK = Check(
    id="kerf",
    version=1,
    title="Kerf: how wide is the cut?",
    purpose="Finds the width that this blade in this saw takes away, which every layout pays once a cut.",
    minutes=5.0,
    apart=(
        "Look at the method. Is it the same blade? Were whole and pieces of one board, read at one line, free of fuzz?"
    ),
    features=(
        Feature(
            FEATURE,
            "mm",
            "kerf",
            owner="blade",
            doubts=(
                AddedUncertainty("blade-same-kerf", 4 * MIL),
                AddedUncertainty("blade-thinner", 20 * MIL),
                AddedUncertainty("blade-thicker", 20 * MIL),
            ),
            turn=60,
        ),
    ),
    at_hand=("a straight piece under 6 in long, with square, clean ends", "a caliper", "a pencil"),
    cautions=(
        "A short piece: clamp it to the sled, hands at least 6 in from the kerf.",
        "Wait until the blade stands before you reach for either piece.",
        "Blade change or any touch of the blade: saw unplugged, battery out.",
    ),
    made_on="saw",
    asks=(
        ReadingSpec("whole", "length of the piece before the cut", advise=3, edge=True),
        ReadingSpec("keeper_piece", "length of the piece on the keeper's side", advise=3, edge=True),
        ReadingSpec("offcut_piece", "length of the piece on the offcut side", advise=3, edge=True),
    ),
    facts=(
        SetupFact("plate", "the thickness of the blade's plate", kind=Kind.LENGTH, needed_for=Need.WORDS),
        SetupFact("marked", "the kerf that is marked on the blade", kind=Kind.LENGTH, needed_for=Need.WORDS),
    ),
    steps=(
        Step("Draw a line along the piece, and measure its length on that line, three times.", asks=("whole",)),
        Step(
            "Clamp it and cut it in two across that line, once, at the feed that you always use.",
            caution="Let both pieces lie until the blade stands; the offcut must not be trapped.",
        ),
        Step(
            "Slice off the fuzz, and measure both pieces on the line, three times.",
            asks=("keeper_piece", "offcut_piece"),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(slipped_unit, burned_inch, no_kerf, under_plate, over_marked, burr, fraction_display),
    draw=draw,
    example=Example(
        ("whole=24.000", "keeper_piece=11.874", "offcut_piece=12.001"),
        ((FEATURE, inches(0.125)),),
        "worked by hand: 24.000 - (11.874 + 12.001)",
    ),
    sources=("common practice; no standard fixes the width of a kerf, so it is measured and has no tolerance",),
)
