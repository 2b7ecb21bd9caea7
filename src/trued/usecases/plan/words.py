"""The words of a plan that screen, terminal and sheet say alike, each from the one document."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from trued.measure.decision import LEVEL
from trued.plan.document import PlanBoard, PlanDocument, PlanFit, PlanLayout, PlanRect, PlanTicket, grouped
from trued.plan.layout.result import Ended
from trued.plan.problem import CANNOT
from trued.plan.tickets.job_cautions import before_the_rip
from trued.units import Unit, as_decimal, as_fraction, as_mm
from trued.units.number_format import area, percent, percent_range
from trued.words.error_keys import error_label

__all__ = ["grouped"]


def number_words(ticket: PlanTicket) -> tuple[str, str]:
    """The number to set (or to mark a line at), alone and short, and what stands beside it; "" for none."""
    if ticket.waits:
        return "", ""
    number, _, beside = (ticket.scale_text or ticket.wanted_text or "").partition(" (")
    return number, beside.rstrip(")")


def before_words(ticket: PlanTicket) -> tuple[str, ...]:
    """What stands before the number on terminal and paper: what it waits for, was never checked, is done first."""
    waits = waits_words(ticket)
    unchecked = (f"NOT CHECKED, do not cut before it is: {text}" for text in ticket.unchecked)
    return (*((waits,) if waits else ()), *unchecked, *(f"FIRST: {text}" for text in ticket.before))


def waits_words(ticket: PlanTicket) -> str:
    """The fact that a cut waits for; "" where it waits for none."""
    return f"WAITS, do not make this cut: {ticket.waits}" if ticket.waits else ""


def group_head(group: Sequence[PlanTicket]) -> PlanTicket:
    """The cut that tells what is set for cuts of one setting: the first that does not wait for a fact."""
    return next((ticket for ticket in group if not ticket.waits), group[0])


def group_first(group: Sequence[PlanTicket]) -> tuple[str, ...]:
    """What stands before the number of one setting: that of its first cut; each later cut adds its own."""
    said = before_words(group[0])
    return said if group_head(group) is group[0] else tuple(t for t in said if t in before_words(group_head(group)))


def small(mm: float, unit: Unit) -> str:
    """A small length: `0.0042 in` or `0.11 mm`."""
    return as_mm(mm, 2).text if unit == "mm" else f"{as_decimal(mm, 4).text} in"


def near(mm: float, unit: Unit) -> str:
    """A place on the stock, to 1/64 in or a tenth of a millimetre: to find it by, not to cut by."""
    return as_mm(mm, 1).text if unit == "mm" else as_fraction(mm, 64).text


def chance_words(chance: float) -> str:
    """`62%`: a chance promises nothing, so never 0 or 100."""
    return percent(chance)


def not_seen_words(shares: Mapping[str, float], assumed: Collection[str]) -> str:
    """What stands beside a chance that rests on common practice; "" where this shop has shown nearly all of it."""
    part = sum(share for label, share in shares.items() if label in assumed)
    if part < _HARDLY:
        return ""
    if part > 1.0 - _HARDLY:
        return "assumed"
    return f"{'mostly' if part > 0.5 else 'partly'} assumed"


_HARDLY = 0.05


def beside_words(fit: PlanFit) -> str:
    """What stands beside the chance of a fit of the plan."""
    return "" if fit.chance is None else not_seen_words(fit.shares or {}, fit.assumed or ())


def headline_words(plan: PlanDocument) -> str:
    """Does it go together, in a few words."""
    codes = {problem.code for problem in plan.problems}
    if plan.short:
        proven = any(text.startswith(CANNOT) for text in plan.short)
        return "It cannot be made from this stock" if proven else "No way was found from this stock"
    if plan.not_made:
        return "Part of it cannot be made here"
    if codes & {"angles-not-planned", "joints-forbidden"}:
        return "Not all of it is planned"
    if any(ticket.waits for ticket in plan.order):
        return "Not yet: a fact is missing"
    if not plan.shop:
        return "No shop is known: sizes and layout only"
    if not plan.fits:
        return "No fit is asked for"
    sure = sum(fit.chance is not None and fit.chance >= LEVEL for fit in plan.fits)
    if sure == len(plan.fits):
        return "It should go together"
    return "Not sure that it goes together" if sure else "It may not go together"


TOLD_WITH_CUTS = ("never-checked", "not-shown", "fact-missing", "no-station", "too-thick")
"""Problems that are told before the first cut, with their cut, or with the part that is not made."""


def not_made_words(plan: PlanDocument) -> tuple[str, ...]:
    """The parts that are in no cut: why, and what could make them. Copies of one reason stand together."""
    why: dict[tuple[str, str], list[str]] = {}
    for one in plan.not_made:
        reason = one.text.removeprefix(one.part).strip()
        why.setdefault((reason, one.could), []).append(one.part)
    return tuple(f"{', '.join(parts)} {reason} {could}".strip() for (reason, could), parts in why.items())


def whole_words(plan: PlanDocument) -> str:
    """How likely all fits hold in one and the same piece; "" where there is nothing to say."""
    if plan.job_chance is None or plan.short or len(plan.fits) < 2:
        return ""
    judged = [fit for fit in plan.fits if fit.chance is not None]
    least = min(judged, key=lambda fit: fit.chance or 0.0)
    beside = (beside_words(least), _own_doubt(plan.job_chance_interval95))
    return f"{chance_words(plan.job_chance)}{bracketed('; '.join(filter(None, beside)))}"


def together_words(plan: PlanDocument) -> str:
    """The same as a line of its own."""
    words = whole_words(plan)
    return words and f"Everything fits: {words}"


def bracketed(words: str) -> str:
    """Words that stand behind others, in brackets; "" stays ""."""
    return f" ({words})" if words else ""


def better_words(plan: PlanDocument) -> tuple[str, ...]:
    """What would make it likelier: the stop corrected by first parts, parts cut to an opening that is measured."""
    first = "" if plan.short else _with_test_pieces(plan.job_chance, plan.job_chance_with_test_pieces)
    now = {fit.name: fit.chance for fit in plan.fits}
    held = (_held_back(one.part, one.side, one.fit, now.get(one.fit), one.then) for one in plan.cut_to_fit)
    return tuple(filter(None, (first, *held)))


def _with_test_pieces(now: float | None, then: float | None) -> str:
    if now is None or then is None or then - now < 0.05:
        return ""
    return f"Measure the first part at each stop, correct the stop: {percent(now)} becomes {percent(then)}."


def _held_back(part: str, side: str, fit: str, now: float | None, then: float) -> str:
    before = "" if now is None else f"{percent(now)} becomes "
    return f"Cut the {side} of {part} last, to what it goes into. {fit}: {before}{percent(then)}."


def _own_doubt(ends: tuple[float, float] | None) -> str:
    """How far the chance itself can be trusted, where that is wider than it looks."""
    if ends is None or ends[1] - ends[0] < 0.1:
        return ""
    return f"{percent_range(ends[0], ends[1])}, few readings"


def limits_words(fit: PlanFit, unit: Unit) -> str:
    """What the fit must have: `0.0040 in to 0.0313 in`."""
    low, high = fit.limits_mm
    if low is None and high is not None:
        return f"at most {small(high, unit)}"
    if high is None and low is not None:
        return f"at least {small(low, unit)}"
    return f"{small(low or 0.0, unit)} to {small(high or 0.0, unit)}"


def because_words(fit: PlanFit, most: int = 2) -> str:
    """What the spread comes from, the largest first, and which of it nobody has measured here."""
    if not fit.shares:
        return ""
    assumed = fit.assumed or ()
    parts = [
        f"{error_label(label)} {100 * share:.0f}%{' (assumed)' if label in assumed else ''}"
        for label, share in list(fit.shares.items())[:most]
    ]
    return ", ".join(parts)


def set_words(ticket: PlanTicket) -> str:
    """What is set, in one line: `sled stop at 13 3/8`."""
    what = {"sled": "sled stop", "rip fence": "rip fence"}.get(ticket.station, ticket.station)
    if not ticket.setting:
        return f"{what}, nothing set"
    return what if ticket.setting_mm is None else f"{what} at {ticket.scale_text}"


def shared_cautions(group: Sequence[PlanTicket]) -> tuple[str, ...]:
    """The cautions that every cut of a group carries, where there is more than one cut; each keeps its others."""
    if len(group) < 2:
        return ()
    return tuple(said for said in group[0].cautions if all(said in ticket.cautions for ticket in group))


def true_words(ticket: PlanTicket, unit: Unit) -> str:
    """What true size the scale then gives; "" where that is not known."""
    if ticket.waits or ticket.setting is None or ticket.wanted_text is None:
        return ""
    if ticket.setting_mm is None:
        return f"for a true {ticket.wanted_text}; not corrected, because no shop is known"
    left = ticket.remainder_mm or 0.0
    if abs(left) < 0.005:
        return f"for a true {ticket.wanted_text}"
    return f"for a true {ticket.wanted_text}; expected {small(abs(left), unit)} {'over' if left > 0 else 'under'} it"


def cost_words(layout: PlanLayout, unit: Unit) -> str:
    """What the stock comes to, and whether it could come to less."""
    much, kind = layout.cost
    cost, bound = (
        (f"{much:.2f}", f"{layout.bound:.2f}")
        if kind == "price"
        else (area(much * 1e6, unit), area(layout.bound * 1e6, unit))
    )
    if layout.gap <= 0.0:
        return f"Stock {cost} (lowest possible)."
    early = "Stopped early" if layout.ended is Ended.TIME else "Not proved lowest"
    return f"Stock {cost}. {early}: {bound} at least. More time may help."


def settings_words(plan: PlanDocument) -> str:
    """How many cuts and settings, and whether fewer would do; "" without an order."""
    if plan.settings is None:
        return ""
    least = (
        "fewest possible for these cuts"
        if plan.settings == plan.settings_bound
        else f"at least {plan.settings_bound} needed"
    )
    return f"{len(plan.order)} cuts, {plan.settings} settings ({least})"


def safety_words(plan: PlanDocument) -> tuple[str, ...]:
    """What has to be shown right before the first rip, a sentence for each state."""
    return before_the_rip((item.feature, item.state) for item in plan.safety)


def cuts_words(ids: Sequence[str]) -> str:
    """Cuts by their ids, those that follow one another as `T3 to T9`."""
    numbers = sorted(int(id.removeprefix("T")) for id in ids)
    starts = [n for n in numbers if n - 1 not in numbers]
    ends = [n for n in numbers if n + 1 not in numbers]
    return ", ".join(_run(first, last) for first, last in zip(starts, ends, strict=True))


def _run(first: int, last: int) -> str:
    between = " to " if last - first > 1 else ", "
    return f"T{first}" if first == last else f"T{first}{between}T{last}"


def not_yet_words(plan: PlanDocument) -> tuple[str, ...]:
    """What keeps cuts from being made yet: it is told before anything else, and again with each cut that it touches."""
    safety = safety_words(plan)
    unlooked = {text: ticket.id for ticket in reversed(plan.order) for text in ticket.unchecked if text not in safety}
    waits: dict[str, list[str]] = {}
    for ticket in plan.order:
        if ticket.waits:
            waits.setdefault(ticket.waits, []).append(ticket.id)
    return (
        *safety,
        *(f"Before {id}: {text}" for text, id in reversed(unlooked.items())),
        *(f"{cuts_words(ids)} cannot be made yet. {fact} Then plan again." for fact, ids in waits.items()),
    )


def against_words(plan: PlanDocument, *elsewhere: str) -> tuple[str, ...]:
    """What stands against the plan, but for those codes, which are told with their cut or fit. What would tip at the
    station that its sizes allow is a warning: somebody may take it there all the same."""
    some = (problem for problem in plan.problems if problem.code not in elsewhere)
    return tuple(
        f"WARNING: {one.text}" if one.code == "other-station" and "tip" in one.text else one.text for one in some
    )


def placed_words(board: PlanBoard, unit: Unit) -> str:
    """What comes from one stock piece, and what is left of it."""
    count = Counter(placed.part for placed in board.placements)
    names = ", ".join(f"{many} × {name}" if many > 1 else name for name, many in count.items())
    left = [_size(rest, unit) for rest in board.offcuts]
    kept = f"; keep the offcut of {' and '.join(left)}" if left else ""
    return f"{board.title}: {names}{kept}"


def _size(rect: PlanRect, unit: Unit) -> str:
    return f"{near(rect.length, unit)} × {near(rect.width, unit)}"
