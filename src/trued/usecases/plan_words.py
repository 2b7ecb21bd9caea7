"""The words of a plan that screen, terminal and sheet say alike."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from trued.plan.job_cautions import Safety
from trued.plan.pieces import Rect, to_mm
from trued.plan.result import Ended, Layout
from trued.plan.ticket import Ticket, grouped
from trued.plan.tree import Used, offcuts, parts
from trued.units import Unit, as_decimal, as_fraction, as_mm
from trued.usecases.plan_view import FitView, PlanView

__all__ = [
    "Safety",
    "Ticket",
    "because_words",
    "bracketed",
    "chance_words",
    "cost_words",
    "cut_to_fit_words",
    "first_part_words",
    "grouped",
    "held_back_words",
    "limits_words",
    "near",
    "not_seen_words",
    "placed_words",
    "set_words",
    "shared_cautions",
    "small",
    "together_words",
    "true_words",
    "with_test_pieces_words",
]


def small(mm: float, unit: Unit) -> str:
    """A small length: `0.0042 in` or `0.11 mm`."""
    return as_mm(mm, 2).text if unit == "mm" else f"{as_decimal(mm, 4).text} in"


def near(mm: float, unit: Unit) -> str:
    """A place on the stock, to 1/64 in or a tenth of a millimetre: to find it by, not to cut by."""
    return as_mm(mm, 1).text if unit == "mm" else as_fraction(mm, 64).text


def chance_words(chance: float) -> str:
    """A chance in words that promise nothing: never 0 or 100."""
    if chance < 0.01:
        return "will not fit: under 1 time in 100"
    said = next(words for most, words in _SAID if chance <= most)
    many = "over 99" if chance > 0.99 else f"about {100 * chance:.0f}"
    return f"{said}: {many} {'time' if many == 'about 1' else 'times'} in 100"


def not_seen_words(shares: Mapping[str, float], assumed: Collection[str]) -> str:
    """What stands beside a chance that rests on common practice; "" where this shop has shown nearly all of it."""
    part = sum(share for label, share in shares.items() if label in assumed)
    if part < _HARDLY:
        return ""
    if part > 1.0 - _HARDLY:
        return "assumed, not yet seen here"
    return f"{'most' if part > 0.5 else 'part'} of its doubt assumed, not yet seen here"


_HARDLY = 0.05
_SAID = ((0.2, "unlikely"), (0.8, "as likely as not"), (0.949999, "likely, not sure enough"), (1.0, "very likely"))


def together_words(view: PlanView) -> str:
    """Whether all fits of the job hold in one and the same piece; "" where there is nothing to say."""
    whole = view.whole
    if whole is None or whole.chance is None or len(whole.fits) < 2:
        return ""
    least = min(whole.fits, key=lambda fit: fit.chance)
    beside = (not_seen_words(least.shares, least.assumed), _own_doubt(whole.chance_interval))
    return f"All of it together: {chance_words(whole.chance)}{bracketed('; '.join(filter(None, beside)))}"


def bracketed(words: str) -> str:
    """Words that stand behind others, in brackets; "" stays ""."""
    return f" ({words})" if words else ""


def first_part_words(view: PlanView) -> str:
    """What measuring the first part of every stop setting would bring; "" where it is little."""
    chances = (None if one is None else one.chance for one in (view.whole, view.first_parts))
    return with_test_pieces_words(*chances)


def with_test_pieces_words(now: float | None, then: float | None) -> str:
    """The same from the two chances of the whole."""
    if now is None or then is None or then - now < 0.05:
        return ""
    return f"If the first part of every stop setting is measured and the stop corrected by it: {chance_words(then)}"


def cut_to_fit_words(view: PlanView) -> tuple[str, ...]:
    """Parts that are better cut to an opening that has been measured."""
    return tuple(held_back_words(one.part, one.side.value, one.fit, one.then) for one in view.cut_to_fit)


def held_back_words(part: str, side: str, fit: str, then: float) -> str:
    """The same for one part; `then`: the chance that it fits when it is cut to what was measured."""
    return (
        f"Hold {part} back and cut its {side} to what it goes into, once that can be measured: "
        f"{fit} then fits about {100 * min(0.99, then):.0f} times in 100"
    )


def _own_doubt(ends: tuple[float, float] | None) -> str:
    """How far the chance itself can be trusted, where that is wider than it looks."""
    if ends is None or ends[1] - ends[0] < 0.1:
        return ""
    return f"this itself is known to {100 * ends[0]:.0f} to {100 * ends[1]:.0f} in 100: few readings stand behind it"


def limits_words(fit: FitView, unit: Unit) -> str:
    """What the fit must have: `0.0040 in to 0.0313 in`."""
    low, high = fit.limits_mm
    if low is None and high is not None:
        return f"at most {small(high, unit)}"
    if high is None and low is not None:
        return f"at least {small(low, unit)}"
    return f"{small(low or 0.0, unit)} to {small(high or 0.0, unit)}"


def because_words(fit: FitView, most: int = 2) -> str:
    """What the spread comes from, the largest first, and which of it nobody has measured here."""
    found = fit.expected
    if found is None or not found.shares:
        return ""
    parts = [
        f"{label} {100 * share:.0f} %{' (assumed)' if label in found.assumed else ''}"
        for label, share in list(found.shares.items())[:most]
    ]
    return ", ".join(parts)


def set_words(ticket: Ticket) -> str:
    """What is set, in one line: `sled stop at 13 3/8`."""
    what = {"sled": "sled stop", "rip fence": "rip fence"}.get(ticket.station, ticket.station)
    if not ticket.setting:
        return f"{what}, nothing set"
    if ticket.setting_mm is None:
        return f"{what} for a true {ticket.wanted_text} (not corrected: no shop is known)"
    return f"{what} at {ticket.scale_text}"


def shared_cautions(group: Sequence[Ticket]) -> tuple[str, ...]:
    """The cautions that every cut of a group carries, where there is more than one cut; each keeps its others."""
    if len(group) < 2:
        return ()
    return tuple(said for said in group[0].cautions if all(said in ticket.cautions for ticket in group))


def true_words(ticket: Ticket, unit: Unit) -> str:
    """What true size the scale then gives; "" where that is not known."""
    if ticket.setting_mm is None or ticket.wanted_mm is None:
        return ""
    left = ticket.remainder_mm
    if abs(left) < 0.005:
        return f"for a true {ticket.wanted_text}"
    return f"for a true {ticket.wanted_text}; expected {small(abs(left), unit)} {'over' if left > 0 else 'under'} it"


MONEY = "in the money of the job's prices"


def cost_words(layout: Layout) -> str:
    """What the stock comes to, and whether it could come to less."""
    if layout.unit == "price":
        cost, bound = f"costs {layout.cost:.2f} ({MONEY})", f"{layout.bound:.2f}"
    else:
        cost, bound = f"is {layout.cost:.3f} m²", f"{layout.bound:.3f} m²"
    if layout.gap <= 0.0:
        return f"The stock to be cut into {cost}; no layout needs less"
    early = " The search was cut short" if layout.ended is Ended.TIME else ""
    return f"The stock to be cut into {cost}; no layout can need less than {bound}.{early}".rstrip(".")


def placed_words(used: Used, unit: Unit) -> str:
    """What comes from one stock piece, and what is left of it."""
    count = Counter(part.want for part in parts(used.tree))
    names = ", ".join(f"{many} × {name}" if many > 1 else name for name, many in count.items())
    left = [f"{_size(rest.piece, unit)}" for rest in offcuts(used.tree)]
    kept = f"; keep the offcut of {' and '.join(left)}" if left else ""
    return f"{used.stock.id}, piece {used.copy}: {names}{kept}"


def _size(rect: Rect, unit: Unit) -> str:
    return f"{near(to_mm(rect.length), unit)} × {near(to_mm(rect.width), unit)}"
