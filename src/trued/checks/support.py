"""Support: a cold trial that the work does not tip at either end of the travel, and by how much it does not.

The trial stands by itself: it knows nothing of the sum that a plan does, and so can contradict it. Let go and press
lightly, and it tips or not; how far the balance lies inside the line about which it would tip is weighed: on two
battens, one under that line and one on a scale nearer the blade, the scale carries weight * margin / span.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.estimate import Shape as Spread
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
from trued.procedure.quantities import inches, place, size
from trued.procedure.sketch.pieces import Shape, measured

FEATURE = "support-margin"
RESERVE = inches(2.0)  # common practice, for what is not known of density, balance and edges
TOLERANCE = ToleranceLimits(RESERVE, None)
BEYOND = inches(0.5)  # a support is asked for with this much to spare, so that setting it by hand suffices
ENDS = ("start", "end")
WHEN = {"start": "at the start of the travel", "end": "at its end, the offcut gone"}
SIDES = ("keeper", "offcut", "operator", "far")


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale's step and limit of error in kg; both common practice."""

    step: float
    limit: float


SCALES = {"kitchen": Scale(0.001, 0.005), "luggage": Scale(0.01, 0.05), "bathroom": Scale(0.1, 0.5)}
REPEAT_DOF = 10  # how well it is known that a scale repeats to one step, common practice


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """The smaller of the margins that were weighed; none where no scale was used."""
    found = margins(taken)
    if not found:
        return ()
    worst = min(found.values(), key=lambda margin: margin.value)
    return (FeatureResult(FEATURE, "mm", worst, taken.tolerance(FEATURE), safety=True),)


def margins(taken: RunInput) -> dict[str, UncertainValue]:
    """By end of the travel, how far the balance lies inside the line about which it would tip, mm."""
    weighed = [end for end in ENDS if all(taken.has(name, end) for name in ("weight", "held", "span"))]
    weighed = [end for end in weighed if min(taken.all("weight", end)) > 0.0]
    scale = SCALES[taken.word("scale") or "bathroom"]
    return {
        end: taken.mean("span", end) * _mass(taken, "held", end, scale) / _mass(taken, "weight", end, scale)
        for end in weighed
    }


def _mass(taken: RunInput, name: str, end: str, scale: Scale) -> UncertainValue:
    """Mean of the weighings of one thing; the scale's limit of error is the same for all."""
    values = taken.all(name, end)
    limit = ErrorSource(
        "limit:scale", "scale: limit of error", scale.limit / math.sqrt(3.0), math.inf, Spread.RECTANGULAR
    )
    own = ErrorSource(
        f"reading:{name}@{end}", "scale: repeat of a weighing", scale.step / math.sqrt(len(values)), REPEAT_DOF
    )
    return UncertainValue.of(math.fsum(values) / len(values), own, limit)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """A support that reaches further out, by what lacks and a little more."""
    margin = founds[0].value.value
    found = margins(taken)
    end = min(found, key=lambda name: found[name].value)
    limits = founds[0].limits or TOLERANCE
    by = (limits.low if limits.low is not None else RESERVE) + BEYOND - margin
    side = taken.of("side", end)
    where = f"on the {side[0].choice} side" if side else "on the side to which it would tip"
    text = (
        f"Don't cut it like this: {WHEN[end]} it needs a support {where}. Its edge must reach at least "
        f"{size(by, taken.unit, 3)} further out than the tip line now. Level with the table: a wing or a stand, where "
        "the manual allows one. Try it cold with twice the weight. Or rough-cut it off the saw first. A hand is no "
        "support."
    )
    return (Move(FEATURE, text, "support", "out", max(by, 0.0)),)


def no_size(taken: RunInput) -> Flag | None:
    """A weight or a span of nought; only what the scale carries may be 0."""
    zero = [place(r) for name in ("weight", "span") for r in taken.of(name) if r.value <= 0.0]
    return Flag("no-size", Severity.REFUSE, f"{', '.join(zero)}: that cannot be 0. Weigh again.") if zero else None


def unpaired(taken: RunInput) -> Flag | None:
    """At one end of the travel a weighing without its mates."""
    for end in ENDS:
        given = [name for name in ("weight", "held", "span") if taken.has(name, end)]
        if 0 < len(given) < 3:
            lacking = sorted({"weight", "held", "span"} - set(given))
            text = f"{', '.join(f'{name}@{end}' for name in lacking)} is missing: the three belong together."
            return Flag("unpaired", Severity.REFUSE, text)
    return None


def more_than_all(taken: RunInput) -> Flag | None:
    """A part that weighs more than the whole."""
    for end in ENDS:
        if not (taken.has("held", end) and taken.has("weight", end)):
            continue
        held, weight = max(taken.all("held", end)), min(taken.all("weight", end))
        if held > weight:
            text = (
                f"held@{end} is more than weight@{end}: were the two changed over, or one given in the other unit? The "
                "batten on the scale can carry no more than everything."
            )
            return Flag("more-than-all", Severity.REFUSE, text)
    return None


def _said(taken: RunInput, name: str) -> list[str]:
    return [r.station for r in taken.of(name) if r.choice == "yes"]


def _agrees(taken: RunInput, end: str, most: float) -> bool:
    """Whether the weighing leaves room for a margin of at most so much."""
    margin = margins(taken).get(end)
    return margin is not None and margin.value - 2.0 * margin.u <= most


def tips(taken: RunInput) -> Flag | None:
    """It tipped when it was let go."""
    ends = _said(taken, "tipped")
    if not ends:
        return None
    where = " and ".join(WHEN[end] for end in ends)
    if all(_agrees(taken, end, 0.0) for end in ends):
        return Flag("tips", Severity.DANGER, f"It tips {where}, as the weighing says: no cut without a support there.")
    text = (
        f"It tips {where}: no cut without a support there, whatever any sum says. If a scale said otherwise, the "
        "batten was not under the line about which it really tips: the end of the sled's base may come before the "
        "table's."
    )
    return Flag("tips", Severity.DANGER, text)


def gives(taken: RunInput) -> Flag | None:
    """It stood by itself and gave way under a light press."""
    ends = [end for end in _said(taken, "gave") if end not in _said(taken, "tipped")]
    if not ends or all(_agrees(taken, end, RESERVE) for end in ends):
        return None
    where = " and ".join(WHEN[end] for end in ends)
    text = (
        f"It gave way to a light press {where}: the reserve is not there, for a hand at work presses more than "
        "that. Weigh again with the batten just under the line about which it gave, or give it a support."
    )
    return Flag("gives", Severity.DANGER, text)


def foot_lifted(taken: RunInput) -> Flag | None:
    """The saw itself began to go over."""
    ends = _said(taken, "foot_lifted")
    text = (
        f"A foot of the saw lifted {' and '.join(WHEN[end] for end in ends)}: the whole saw can go over with this "
        "on it. Clamp or weigh down the stand, or support the work from the floor, before anything is switched on."
    )
    return Flag("foot-lifted", Severity.DANGER, text) if ends else None


def by_hand_only(taken: RunInput) -> Flag | None:
    """Without a scale nothing is known of the reserve."""
    weighed = margins(taken)
    if len(weighed) == len(ENDS):
        return None
    what = "Nothing was weighed" if not weighed else f"Only one end was weighed ({next(iter(weighed))})"
    text = (
        f"{what}: that it did not tip says nothing of how near it was. Weigh it on two battens (held, weight, "
        "span) at both ends of the travel."
    )
    return Flag("by-hand-only", Severity.NOTE, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """Sled and work on two battens from the side; afterwards where the balance lies."""
    base = rectangle(-10, 2, 20, 1, "sled")
    shapes: list[Shape] = [
        base,
        rectangle(-12, 3, 22, 1.2, "board"),
        Path(((-8, 2), (-8.8, 0), (-7.2, 0)), "stop"),
        Label((-8, -1.2), "line about which it tips"),
        Path(((6, 2), (5.2, 0.6), (6.8, 0.6)), "stop"),
        rectangle(4, -0.6, 4, 1.2, "fixture"),
        Label((6, -2.6), "scale"),
    ]
    if not founds:
        shapes += measured((-8, -4.4), (6, -4.4), "span", (-1, -6))
        told = (
            "Sled and work from the side, off the saw, on two battens: one under the line about which it would tip "
            "(the table's edge or the end of the base, whichever comes first), one on a scale nearer the blade."
        )
        return Drawing("Support: how to weigh it", told, tuple(shapes))
    margin = founds[0].value.value
    ok = TOLERANCE.hold(margin)
    x = -8 + max(-2.0, min(8.0, margin / RESERVE * 3.0))
    shapes += [
        Line((x, 5.4), (x, 1), "found"),
        Label((x, 6.2), "balance"),
        Line((-5, 5.2), (-5, 1), "limit", dashed=True),
        Label((-5, 8), "reserve of 2 in"),
    ]
    if not ok:
        shapes += [Arrow((-8, -3.4), (-11.5, -3.4), "move"), Label((-9.6, -5), "support further out", "move")]
    told = (
        f"Sled and work from the side: the balance lies {size(margin, taken.unit, 3)} "
        f"{'inside' if margin > 0 else 'OUTSIDE'} the line about which it would tip. "
        + ("Nothing was found here; it was not looked at between the two ends." if ok else "It needs a support there.")
    )
    return Drawing("Support: what was found", told, tuple(shapes))


def _yes_no(name: str, text: str) -> ReadingSpec:
    return ReadingSpec(name, text, kind=Kind.CHOICE, choices=("yes", "no"), stations=ENDS)


def _weighed(name: str, text: str) -> ReadingSpec:
    return ReadingSpec(name, text, kind=Kind.MASS, stations=ENDS, least=1, optional=True, expect=(0.0, 60.0))


CHECK = Check(
    id="support",
    version=1,
    title="Tip test: does the sled stay put? (saw off)",
    purpose="Tries, with the saw off, whether sled and work stand by themselves at both ends of the travel, and "
    "weighs by how much.",
    minutes=12.0,
    features=(
        Feature(
            FEATURE,
            "mm",
            "tip margin",
            limits=TOLERANCE,
            sides=("inside the tip line", "past the tip line"),
            owner="work",
            safety=True,
            turn=630,
        ),
    ),
    at_hand=(
        "the sled, the work as it will be cut, and the keeper alone or a piece like it",
        "two thin battens and a bench",
        "a kitchen, luggage or bathroom scale",
        "a tape",
    ),
    cautions=(
        "Saw off and UNPLUGGED, battery out, blade lowered, for all of it.",
        "Other hand off; press with one finger; stop at once if a foot of the saw lifts. Stand clear of its fall.",
        "The saw's manual decides whether a sled, its load, a wing or a stand is allowed at all, before any trial.",
        "This looks at both ends of the travel only. It says what was found, and nothing beyond that.",
    ),
    made_on="sled",
    asks=(
        _yes_no("tipped", "whether it tipped when it was let go there"),
        _yes_no("gave", "whether it gave way to a light press on its far corner there"),
        _yes_no("foot_lifted", "whether a foot of the saw lifted"),
        ReadingSpec(
            "side",
            "the side to which it would tip first there",
            kind=Kind.CHOICE,
            choices=SIDES,
            stations=ENDS,
            least=1,
            optional=True,
        ),
        _weighed("weight", "sled and work together, as they are there"),
        _weighed("held", "what the scale shows under the inner batten"),
        ReadingSpec(
            "span",
            "from the batten under the line about which it tips to the batten on the scale",
            instrument="tape",
            stations=ENDS,
            least=1,
            optional=True,
            expect=(75.0, 2000.0),
        ),
    ),
    facts=(SetupFact("scale", "what it was weighed with", choices=tuple(SCALES), needed_for=Need.WORDS),),
    steps=(
        Step(
            "Wing, stand and clamps as you will have them. Put sled and work where the cut begins.",
            caution="Unplug first.",
        ),
        Step(
            "Let go slowly, a hand's breadth above it. If it stands, press lightly with one finger on the corner "
            "that lies furthest out. Watch the feet of the saw.",
            ("tipped", "gave", "foot_lifted", "side"),
            "Keep feet and the other hand out of where it would fall; stop if a foot of the saw lifts.",
        ),
        Step(
            "Take the offcut away (or lay on a keeper of the same size), go to the end of the travel, and do the same."
        ),
        Step(
            "Off the saw, on a bench: lay one batten under sled and work at the line about which it would tip "
            "there, the other on the scale, as far toward the blade as the base allows. Read the scale, and "
            "measure between the battens. Weigh all of it together. Do this for either end of the travel.",
            ("weight", "held", "span"),
            "It can tip off the battens: two people for anything long.",
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    dangers=(tips, gives, foot_lifted),
    blunders=(no_size, unpaired, more_than_all, by_hand_only),
    draw=draw,
    example=Example(
        (
            *("tipped@start=no", "tipped@end=no", "gave@start=no", "gave@end=no"),
            *("foot_lifted@start=no", "foot_lifted@end=no"),
            *("weight@start=14.04lb", "held@start=7.45lb", "span@start=16"),
            *("weight@end=13.2lb", "held@end=6.1875lb", "span@end=16"),
        ),
        ((FEATURE, inches(7.5)),),
        "worked by hand: a base ending 20 in out, the balance at (9 × 9 + 4.2 × 20) / 13.2 = 12.5 after separation",
    ),
    sources=(
        "moments about one of two supports (HyperPhysics, Supporting an Extended Load): held × span = weight × margin",
        "a reserve of 2 in, steps and limits of scales: common practice",
    ),
)
