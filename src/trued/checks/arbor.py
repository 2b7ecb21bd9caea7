"""Arbor flange runout and blade runout: a turn by hand against an indicator, and who has the high spot."""

from __future__ import annotations

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import UncertainValue
from trued.procedure import (
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
from trued.procedure.quantities import inches, size
from trued.procedure.sketch.pieces import Shape, measured, turned

FLANGE, WOBBLE = "flange", "wobble"
FLANGE_TOLERANCE = ToleranceLimits(None, inches(0.001))  # common practice
WOBBLE_TOLERANCE = ToleranceLimits(None, inches(0.004))  # common practice: 0.003 to 0.005 in below the gullets
RETURNS = inches(0.001)  # common practice: after one turn the same spot reads the same
ON_TEETH = inches(0.010)  # common practice: set and relief of teeth scatter by more
SPOTS = ("with-blade", "with-arbor")
NEXT = {
    "with-blade": "it is the blade",
    "with-arbor": "clean flange and arbor",
    "": "turn the blade half round on the arbor",
}


def swing(taken: RunInput, what: str) -> UncertainValue:
    """Highest less lowest over one turn."""
    return taken.mean(f"{what}_high") - taken.mean(f"{what}_low")


def mounted(taken: RunInput) -> str:
    """Which readings tell of the blade as it is mounted now."""
    return "turned" if taken.has("turned_high") else "plate"


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """The flange, and the blade as it is mounted now: after it was turned on the arbor where that was read."""
    return (
        FeatureResult(FLANGE, "mm", swing(taken, "flange"), taken.tolerance(FLANGE)),
        FeatureResult(WOBBLE, "mm", swing(taken, mounted(taken)), taken.tolerance(WOBBLE)),
    )


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """Clean first; then the part that carries the high spot."""
    unit = taken.unit
    flange = (
        f"Clean the flange and arbor: the flange runs out by {size(founds[0].value.value, unit)}. Wipe with a rag and "
        "a soft brush. Slice off any burr with a flat stone. Measure again. If it stays, flange or arbor is bent: ask "
        "the maker's service."
    )
    return Move(FLANGE, flange, "flange", "clean", None), Move(
        WOBBLE, _wobble(taken, founds[1]), *_carrier(taken), None
    )


def _carrier(taken: RunInput) -> tuple[str, str]:
    return {"with-blade": ("blade", "change"), "with-arbor": ("flange", "clean")}.get(
        taken.choice("high_spot"), ("blade", "turn")
    )


def _wobble(taken: RunInput, found: FeatureResult) -> str:
    out = f"The blade runs out by {size(found.value.value, taken.unit)}."
    if taken.has("turned_high") and (gain := swing(taken, "turned") - swing(taken, "plate")).value > 0.0:
        out += (
            f" Before you turned it on the arbor it was {size(gain.value, taken.unit)} less. Turn it back and mark "
            "both. Always mount it like that."
        )
    carrier = taken.choice("high_spot")
    if carrier == "with-blade":
        return f"{out} The high spot went with the blade. Clean pitch off its plate. If it stays, use another blade."
    if carrier == "with-arbor":
        return f"{out} The high spot stayed with the arbor. Clean flanges, arbor and nut. Look for a chip or burr."
    return (
        f"{out} Loosen the nut, turn the blade half round on the arbor, measure again. Does the high spot go with the "
        "blade or stay?"
    )


# --- blunders


def below_nought(x: UncertainValue) -> bool:
    """Below 0 by more than a needle that hardly moves scatters."""
    return x.value < -max(RETURNS, 4.0 * x.u)


def high_below_low(taken: RunInput) -> Flag | None:
    """The highest reading below the lowest."""
    wrong = [
        what
        for what in ("flange", "plate", "turned")
        if taken.has(f"{what}_high") and taken.has(f"{what}_low") and below_nought(swing(taken, what))
    ]
    text = f"{', '.join(wrong)}: the highest reading lies below the lowest. Type the larger number as high."
    return Flag("high-below-low", Severity.REFUSE, text) if wrong else None


def half_turned(taken: RunInput) -> Flag | None:
    """One of the readings after turning the blade without the other."""
    one, other = taken.has("turned_high"), taken.has("turned_low")
    text = "turned_high and turned_low belong together: read both, or leave both out."
    return None if one == other else Flag("unpaired", Severity.REFUSE, text)


def not_returning(taken: RunInput) -> Flag | None:
    """After one whole turn the same spot reads otherwise: the dial, the bearing or the hand moved it."""
    for what in ("flange", "plate"):
        differ = taken.mean(f"{what}_again") - taken.mean(f"{what}_start")
        if abs(differ.value) > max(RETURNS, 4.0 * differ.u):
            text = (
                f"{what}: after one turn the start reads {size(differ.value, taken.unit)} otherwise. Is the dial's "
                "stand firm? Turn by the blade's rim with a stick, not by the belt: drag on it lifts a worn bearing. "
                "Read again."
            )
            return Flag("not-returning", Severity.DOUBT, text)
    return None


def on_teeth(taken: RunInput) -> Flag | None:
    """So much that the tip ran over the teeth, or repeats that only teeth scatter by."""
    scatters = max(taken.worst_repeat(name) for name in ("plate_high", "plate_low")) > ON_TEETH
    if not scatters and swing(taken, "plate").value <= ON_TEETH:
        return None
    act = Severity.DOUBT if scatters else Severity.NOTE
    told = "The readings scatter" if scatters else "The blade seems to wobble"
    text = (
        f"{told} by more than {size(ON_TEETH, taken.unit)}: did the tip ride on the plate, just below the gullets? The "
        "sides of teeth are set and relieved and say nothing. If it was the plate: a chip under the flange, or a bent "
        "blade that is not to be run."
    )
    return Flag("on-teeth", act, text)


def flange_explains(taken: RunInput) -> Flag | None:
    """What the flange alone makes of it at the rim, by the ratio of the two radii."""
    if not (taken.has("flange_radius") and taken.has("plate_radius")):
        return None
    radius, rim = taken.mean("flange_radius").value, taken.mean("plate_radius").value
    if radius <= 0.0:
        return Flag(
            "no-size", Severity.REFUSE, "flange_radius cannot be 0: measure from the arbor's middle to the tip."
        )
    flange, wobble = swing(taken, "flange").value * rim / radius, swing(taken, mounted(taken)).value
    share = (
        f"{100.0 * flange / wobble:.0f} % of the blade's {size(wobble, taken.unit)}" if wobble > 0.0 else "no wobble"
    )
    text = (
        f"The flange alone makes {size(flange, taken.unit)} where the blade was read ({rim / radius:.1f} times as far "
        f"out): {share}."
    )
    return Flag("flange-at-rim", Severity.NOTE, text)


# --- drawing


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """Arbor, flange and blade from the operator's side; afterwards the blade leaning as it wobbles, much enlarged."""
    k = 1 if taken.word("flange") == "right" else -1
    shapes: list[Shape] = [
        rectangle(min(0, k * 8), -0.6, 8, 1.2, "part"),
        Label((k * 6, 1.3), "arbor"),
        rectangle(min(k * 0.3, k * 1.3), -2, 1.0, 4, "part"),
        Label((k * 2.6, -3.4), "flange"),
    ]
    seen = f"The arbor seen from where you stand, the fixed flange {taken.word('flange') or 'left'} of the blade."
    if not founds:
        shapes += [
            Line((0, -9), (0, 9), "blade"),
            *measured(
                (-k * 3, 6.5), (0, 6.5), "plate, below the gullets", (-k * 3.2, 7.3), "start" if k < 0 else "end"
            ),
            *measured(
                (k * 4.5, 1.6), (k * 1.3, 1.6), "flange, near its rim", (k * 4.8, 2.6), "end" if k < 0 else "start"
            ),
        ]
        told = (
            f"{seen} With the blade off, turn the arbor once by hand with the indicator on the flange near its rim; "
            "type the highest and the lowest reading. With the blade on, the same on the plate just below the gullets, "
            "and mark where it is highest."
        )
        return Drawing("Arbor: what to read", told, tuple(shapes))
    lean = 0.14 if founds[1].value.value > 0.0 else 0.0
    one, other = (turned([(0, -9), (0, 9)], (0, 0), way * lean) for way in (1, -1))
    shapes += [
        Path(one, "blade", closed=False),
        Line(other[0], other[1], "wanted", dashed=True),
        Arrow((other[1][0], 9.8), (one[1][0], 9.8), "measure", both_ends=True),
        Label((0, 10.7), f"wobble {size(founds[1].value.value, taken.unit)}", "measure"),
        Label((0, -10.6), NEXT[taken.choice("high_spot")], "move"),
    ]
    told = (
        f"{seen} The flange runs out by {size(founds[0].value.value, taken.unit)}. The blade is drawn at its two "
        f"extremes of one turn, much enlarged. {_wobble(taken, founds[1])}"
    )
    return Drawing("Arbor: what was found", told, tuple(shapes))


def _dial(name: str, text: str, *, optional: bool = False) -> ReadingSpec:
    """`high` and `low` are read over two turns, so that a jump shows."""
    return ReadingSpec(
        name,
        text,
        kind=Kind.GAP,
        instrument="indicator",
        optional=optional,
        need=(1, 10),
        advise=2 if name.endswith(("high", "low")) else 1,
        expect=(-15.0, 15.0),
    )


CHECK = Check(
    id="arbor",
    version=1,
    title="Arbor and blade runout: does anything wobble?",
    purpose="Finds the arbor flange runout and the blade runout, which widen the kerf and blur every reading.",
    minutes=10.0,
    features=(
        Feature(WOBBLE, "mm", "blade runout", limits=WOBBLE_TOLERANCE, owner="saw", turn=140),
        Feature(FLANGE, "mm", "arbor flange runout", limits=FLANGE_TOLERANCE, owner="saw", turn=130),
    ),
    at_hand=("a dial indicator on a stand or on a bar in the slot", "a felt pen", "rag, brush", "the tool for the nut"),
    cautions=(
        "Saw unplugged, battery out, key in your pocket. Gloves for carrying the blade, a stick for turning it.",
        "Blade on again: right bore, diameter and speed for this saw, teeth the right way round, nut by the manual.",
        "A cracked blade or one with a missing tooth is not run again.",
    ),
    asks=(
        _dial("flange_start", "flange near its rim, the arbor at a mark: where the turn starts"),
        _dial("flange_high", "the highest reading over one turn of the flange"),
        _dial("flange_low", "the lowest reading over that turn"),
        _dial("flange_again", "the mark again, after one whole turn"),
        _dial("plate_start", "the plate just below the gullets, where the turn starts"),
        _dial("plate_high", "the highest reading over one turn of the blade"),
        _dial("plate_low", "the lowest reading over that turn"),
        _dial("plate_again", "the start again, after one whole turn"),
        _dial("turned_high", "the highest, after the blade was turned half round on the arbor", optional=True),
        _dial("turned_low", "the lowest, after that", optional=True),
        ReadingSpec(
            "high_spot",
            "where the high spot went when the blade was turned on the arbor: with the blade, or it stayed",
            kind=Kind.CHOICE,
            choices=SPOTS,
            optional=True,
        ),
        ReadingSpec(
            "flange_radius",
            "from the arbor's middle to the tip on the flange",
            instrument="rule",
            optional=True,
            expect=(8.0, 60.0),
        ),
        ReadingSpec(
            "plate_radius",
            "from the arbor's middle to the tip on the plate",
            instrument="rule",
            optional=True,
            expect=(40.0, 250.0),
        ),
    ),
    facts=(
        SetupFact(
            "flange",
            "the side of the blade on which the fixed flange lies",
            choices=("left", "right"),
            needed_for=Need.WORDS,
        ),
    ),
    steps=(
        Step(
            "Take the blade off. Clean flange, arbor and washer; look at the blade for pitch, cracks, missing teeth.",
            caution="Unplug first. Hold the blade with a board, not with a hand, when the nut is loosened.",
        ),
        Step(
            "Put the tip on the flange near its rim, mark the arbor, and turn it once by hand, slowly. Type the start, "
            "the highest, the lowest, and the start again.",
            asks=("flange_start", "flange_high", "flange_low", "flange_again", "flange_radius"),
        ),
        Step(
            "Put the blade on and tighten as you use it. Put the tip on the plate just below the gullets, turn once, "
            "and mark the blade where it is highest.",
            asks=("plate_start", "plate_high", "plate_low", "plate_again", "plate_radius"),
            caution="Turn by the rim with a stick, not by the belt.",
        ),
        Step(
            "If it wobbles: loosen the nut, turn the blade half round on the arbor, tighten, turn once more. Is the "
            "mark still where it is highest?",
            asks=("turned_high", "turned_low", "high_spot"),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(half_turned, high_below_low, not_returning, on_teeth, flange_explains),
    draw=draw,
    example=Example(
        (
            "flange_start=0.0102",
            "flange_high=0.0105",
            "flange_low=0.0100",
            "flange_again=0.0102",
            "plate_start=0.0170",
            "plate_high=0.0200",
            "plate_low=0.0130",
            "plate_again=0.0171",
            "high_spot=with-blade",
        ),
        ((FLANGE, inches(0.0005)), (WOBBLE, inches(0.007))),
        "worked by hand: 0.0200 - 0.0130, and the mark on the blade stayed the highest",
    ),
    sources=(
        "common practice: flange within 0.001 in, plate within 0.003 to 0.005 in below the gullets",
        "geometry: run-out grows as the radius, so 0.001 in at 1 in is 0.0045 in at 4.5 in",
    ),
)
