"""Measured parts, for every surface: the verdict, one thing to do, what is out and by how much, whether it will fit.

What is in tolerance shares one line; each part's number, what the lengths say about the stop, and how earlier chances
came out lie in folds.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from trued.job.expression.tree import Side
from trued.job.fits.fit import FitResult
from trued.job.job import Job
from trued.job.proof.part_inspection import Inspection, PartResult
from trued.measure.decision import LEVEL, Conformity
from trued.measure.estimate import interval
from trued.standing.feature_status import FeatureStatus
from trued.units import Unit
from trued.units.number_format import percent, percent_range, quantity
from trued.words.decisions import Badge, badge_of, likely_in
from trued.words.figures import first_up, limit_text, short_name, value_text
from trued.words.message import Figure, Fold, Message, Order, Section
from trued.words.orders import before_cutting
from trued.words.part_names import PartNames

_TOLD_SHARE = 0.05
_WIDE_CHANCE = 0.1


@dataclass(frozen=True, slots=True)
class PartsFacts:
    """What the answer is told from.

    slips:    names of sizes so far off that they are no matter of the stop. misfits: fits that what was measured has
              settled, and that do not hold. to_measure: cut sizes of unsettled fits that nobody measured.
    reached:  what was read with another instrument than a caliper, because none reaches so far.
    hints:    what the parts of one setting look like, a sentence each. taught: the stop as it stands with them.
    stop:     what is to be done about the stop. corrected: planning again would set the stop otherwise.
    record:   how many chances were told and judged, their mean, and how many fit; None while none was measured.
    run:      its id where it was kept.
    """

    job: Job
    unit: Unit
    proof: Inspection
    slips: Collection[str] = ()
    misfits: Collection[str] = ()
    to_measure: Sequence[str] = ()
    reached: Mapping[str, Sequence[str]] = field(default_factory=dict)
    hints: Sequence[str] = ()
    taught: Sequence[FeatureStatus] = ()
    stop: Sequence[Order] = ()
    corrected: bool = False
    record: tuple[int, float, int] | None = None
    asks: bool = False
    run: str | None = None


def parts_message(facts: PartsFacts) -> Message:
    """The answer."""
    names = PartNames(facts.job)
    badge = _badge(facts)
    orders = tuple(_orders(facts, names))
    fits = tuple(_fit(fit, facts.unit) for fit in facts.proof.fits)
    return Message(
        facts.job.name or "Measured parts",
        badge,
        _lead(facts) if badge is Badge.OUT else "",
        orders=(*orders, *facts.stop),
        figures=tuple(_figures(facts, names)),
        sections=(Section("Will it fit?", fits),) if fits else (),
        asides=tuple(_asides(facts, names)),
        folds=tuple(_folds(facts, names)),
    )


def _verdicts(proof: Inspection) -> tuple[PartResult, ...]:
    return (*proof.sizes, *proof.alike, *proof.gaps)


def _out(results: Iterable[PartResult]) -> list[PartResult]:
    return [one for one in results if one.decision is Conformity.PROVEN_OUT]


def _badge(facts: PartsFacts) -> Badge:
    judged = [one.decision for one in _verdicts(facts.proof) if one.decision is not None]
    if Conformity.PROVEN_OUT in judged or facts.misfits:
        return Badge.OUT
    fits = [fit.chance for fit in facts.proof.fits]
    if Conformity.NOT_PROVEN in judged or any(chance < LEVEL for chance in fits):
        return Badge.NOT_KNOWN
    return badge_of(Conformity.PROVEN_IN) if judged or fits else Badge.MEASURED


def _lead(facts: PartsFacts) -> str:
    """What it is that is out: `1 of 7 sizes.`"""
    proof = facts.proof
    if wrong := _out(proof.sizes):
        return f"{len(wrong)} of {len(proof.sizes)} sizes."
    if _out(proof.alike):
        return "Not equal."
    return "It won't fit."


def _orders(facts: PartsFacts, names: PartNames) -> Iterator[Order]:
    """The one thing to do; what of the stop is to be done comes behind it."""
    proof = facts.proof
    if wrong := sorted(_out(proof.sizes), key=_how_far, reverse=True):
        yield _of_size(wrong[0], facts, names)
    elif _out(proof.alike):
        yield _of_pair(_out(proof.alike)[0], facts, names)
    elif failing := [*(one.name for one in _out(proof.gaps)), *facts.misfits]:
        yield Order(f"Don't glue up. {first_up(failing[0])}: dry-fit it, then trim a part or cut a new one.")
    elif facts.asks:
        return
    elif any(fit.chance < LEVEL for fit in proof.fits):
        left = names.listed(facts.to_measure)
        yield Order(f"Measure {left} too." if left else "Dry-fit it before you glue up.")
    elif unsure := [one for one in _verdicts(proof) if one.decision is Conformity.NOT_PROVEN]:
        yield Order(f"Measure {names.of(unsure[0])} again, with a finer tool.")


def _how_far(one: PartResult) -> float:
    """How many times its tolerance it is off."""
    allowed = max((abs(x) for x in (one.limits.low, one.limits.high) if x), default=1.0) if one.limits else 1.0
    return abs(one.off.value) / allowed


def _of_size(one: PartResult, facts: PartsFacts, names: PartNames) -> Order:
    name, side = names.of(one), names.side(one.name)
    if one.name in facts.slips:
        return Order(f"Measure {name} again. Right part, right unit?")
    warnings = before_cutting(side, facts.unit)
    if one.off.value > 0.0 and side is Side.LENGTH:
        return Order(f"Trim {names.piece(one.name)} to its length.", warnings)
    new = f"cut a new {names.piece(one.name)}"
    return Order(f"Plan again, then {new}." if facts.corrected else f"{first_up(new)}.", warnings)


def _of_pair(one: PartResult, facts: PartsFacts, names: PartNames) -> Order:
    """Two copies that differ: the longer is trimmed to its mate, at one setting of the stop."""
    long, short = names.pair(one.name, one.off.value)
    side = names.side(one.name)
    text = f"Trim {names.piece(long)} to match {names.piece(short)}."
    if side is not Side.LENGTH:
        text = f"Cut {names.piece(long)} and {names.piece(short)} again at one setting."
    return Order(text, before_cutting(side, facts.unit))


def _figures(facts: PartsFacts, names: PartNames) -> Iterator[Figure]:
    proof, unit = facts.proof, facts.unit
    for one in _out(proof.sizes):
        yield Figure(first_up(names.of(one)), _value(one, names, unit), _limit(one, unit))
    for one in _out(proof.alike):
        yield Figure("Not equal", _apart(one, names, unit), _limit(one, unit))
    for one in _out(proof.gaps):
        yield Figure(first_up(one.name), _value(one, names, unit), _limit(one, unit))
    unsure = [one for one in _verdicts(proof) if one.decision is Conformity.NOT_PROVEN]
    if unsure:
        told = (f"{names.of(one)} ({likely_in(one.chance or 0.0).removesuffix(' likely in.')} in)" for one in unsure)
        yield Figure("Not known yet", ", ".join(told))
    inside = [one.name for one in (*proof.sizes, *proof.gaps) if one.decision is Conformity.PROVEN_IN]
    if inside:
        yield Figure("In tolerance", names.listed(inside))
    free = [one for one in _verdicts(proof) if one.decision is None]
    if free:
        yield Figure("No limit", ", ".join(f"{names.of(one)} {_value(one, names, unit)}" for one in free))


def _value(one: PartResult, names: PartNames, unit: Unit) -> str:
    """`0.021 in short, ±0.004`; of a gap `0.012 in, ±0.001`."""
    beside = () if one.limits is None else (one.limits.low, one.limits.high)
    low, high = interval(one.off)
    half = f", ±{quantity(0.5 * (high - low), 'mm', unit, limits=beside, bare=True)}" if high > low else ""
    if one.kind != "size":
        return f"{quantity(one.off.value, 'mm', unit, limits=beside)}{half}"
    size = quantity(abs(one.off.value), "mm", unit, limits=beside)
    return f"{size} {names.way(one.name, one.off.value)}{half}".replace(" ,", ",")


def _apart(one: PartResult, names: PartNames, unit: Unit) -> str:
    """`shelf 3 is 0.022 in under shelf 1`."""
    long, short = names.pair(one.name, one.off.value)
    beside = () if one.limits is None else (one.limits.low, one.limits.high)
    apart = quantity(abs(one.off.value), "mm", unit, limits=beside)
    return f"{names.listed([short])} is {apart} under {names.listed([long])}"


def _limit(one: PartResult, unit: Unit) -> str:
    return f"limit {limit_text(one.limits, 'mm', unit)}" if one.limits is not None else ""


def _fit(fit: FitResult, unit: Unit) -> Figure:
    """`shelf in its dados  58%  0.043 in, allowed 0.002 to 0.044`; what should fit has its chance alone."""
    if fit.chance >= LEVEL:
        return Figure(fit.name, percent(fit.chance))
    return Figure(fit.name, percent(fit.chance), f"{_mean(fit, unit)}, allowed {_allowed(fit, unit)}")


def _mean(fit: FitResult, unit: Unit) -> str:
    return quantity(fit.mean_mm, "mm", unit, limits=fit.limits_mm)


def _allowed(fit: FitResult, unit: Unit) -> str:
    low, high = (None if x is None else quantity(x, "mm", unit, limits=fit.limits_mm, bare=True) for x in fit.limits_mm)
    if low is None:
        return f"{high} or less"
    return f"{low} or more" if high is None else f"{low} to {high}"


def _asides(facts: PartsFacts, names: PartNames) -> Iterator[str]:
    if facts.slips:
        far = "1/4 in" if facts.unit == "in" else "6 mm"
        yield f"{first_up(names.listed(facts.slips))}: over {far} off. Not used for the scale."
    yield from facts.hints


def _folds(facts: PartsFacts, names: PartNames) -> Iterator[Fold]:
    unit = facts.unit
    yield Fold(
        "Each part", (*(_part_line(one, names, unit) for one in _verdicts(facts.proof)), *_read_with(facts, names))
    )
    if facts.proof.fits:
        yield Fold("Each fit", tuple(_fit_line(fit, unit) for fit in facts.proof.fits))
    if facts.taught:
        yield Fold("What it says about the stop", tuple(_taught_line(s, unit) for s in facts.taught))
    if facts.record is not None:
        judged, stated, fitted = facts.record
        yield Fold("Track record", (f"{percent(stated)} predicted, {fitted} of {judged} fit.",))
    if facts.run:
        yield Fold("Run", (facts.run,))


def _part_line(one: PartResult, names: PartNames, unit: Unit) -> str:
    beside = () if one.limits is None else (one.limits.low, one.limits.high)
    found = quantity(one.found.value, "mm", unit, limits=beside)
    text = f"{first_up(names.of(one))}: {found}, {_value(one, names, unit)}."
    if one.kind != "size":
        text = f"{first_up(names.of(one))}: {_value(one, names, unit)}."
    if one.chance is None or one.decision is None:
        return f"{text} No limit."
    return f"{text} {first_up(_limit(one, unit))}. {badge_of(one.decision).value}: {percent(one.chance)} in."


def _read_with(facts: PartsFacts, names: PartNames) -> Iterator[str]:
    for instrument, typed in facts.reached.items():
        yield f"Read with {instrument} (caliper too short): {names.listed(typed)}."


def _fit_line(fit: FitResult, unit: Unit) -> str:
    low, high = (quantity(x, "mm", unit, limits=fit.limits_mm) for x in fit.interval_mm)
    ends = fit.chance_interval
    wide = f" ({percent_range(*ends)}, few readings)" if ends[1] - ends[0] >= _WIDE_CHANCE else ""
    told = [(label, share) for label, share in fit.shares.items() if share >= _TOLD_SHARE]
    rests = ", ".join(
        f"{label} {percent(share)}{' (assumed)' if label in fit.assumed else ''}" for label, share in told
    )
    text = f"{first_up(fit.name)}: {percent(fit.chance)}{wide}. Expected {_mean(fit, unit)}, 95%: {low} to {high}."
    text += f" Allowed {_allowed(fit, unit)}."
    return f"{text} Variance from {rests}." if rests else text


def _taught_line(s: FeatureStatus, unit: Unit) -> str:
    value = value_text(s.feature, s.x.value, interval(s.x), s.unit, unit, s.limits)
    chance = f" {percent(s.chance_in)} in." if s.chance_in is not None else ""
    return f"{first_up(short_name(s.feature))}: {value}. {badge_of(s.decision).value}.{chance}"
