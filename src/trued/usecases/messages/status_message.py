"""How the shop stands, worked into the one value that terminal and page write."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trued.procedure import Check
from trued.standing.feature import bare_name
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.usecases.runs.result_message import adjusting_order, record_of
from trued.usecases.shop.list_checks import list_checks, one_check
from trued.usecases.standing.shop_verdict import ShopVerdict, shop_verdict, trusted
from trued.usecases.standing.standing import Line, StandingView, Unchecked
from trued.words.decisions import Badge
from trued.words.figures import first_up, short_name
from trued.words.message import CheckNext, Message, Order
from trued.words.orders import at_the_saw
from trued.words.status import StatusFacts, status_badge, status_message


def message_of(view: StandingView) -> Message:
    """The answer; the questions of the view stand beside it, each with its choices."""
    verdict, now = shop_verdict(view), view.now.astimezone()
    day = f"{now:%b} {now.day}, {now:%Y, %H:%M}"
    return status_message(
        StatusFacts(
            f"{view.shop.name or 'The shop'}, {day}",
            verdict.headline,
            "" if _told_already(view, verdict) else verdict.told,
            view.shop.unit,
            dangers=tuple(dict.fromkeys(text for line in view.lines for text in line.standing.dangers)),
            orders=_unseen_first(view) or tuple(_orders(view.do_first[0]) if view.do_first else ()),
            after=after_of(view),
            unsafe=tuple(unchecked(one) for one in view.never if one.safety),
            others=tuple(one.check for one in view.never if not one.safety),
            lines=tuple(line.standing for line in view.lines),
            unread=view.unread,
        )
    )


def after_of(view: StandingView) -> tuple[CheckNext, ...]:
    """What comes after the first thing to do, each by its name: one order at a time is told."""
    lines = view.do_first if _unseen_first(view) else view.do_first[1:]
    return tuple(
        CheckNext(
            line.standing.next.check if line.standing.next is not None else "",
            first_up(", ".join((line.name, *line.also))),
            line.minutes,
            feature=line.standing.feature,
        )
        for line in lines
    )


_WORST = (Badge.BAD_RUN, Badge.OUT, Badge.RECHECK, Badge.MOVED, Badge.ANSWER_FIRST, Badge.NOT_KNOWN, Badge.MEASURED)


@dataclass(frozen=True, slots=True)
class CheckState:
    """One check with what is known of its features together, the worst of them; `first`: before the next cut."""

    check: str
    name: str
    minutes: float
    badge: Badge
    first: bool


def check_states(view: StandingView) -> tuple[CheckState, ...]:
    """Every check, in the order of the list."""
    return tuple(_state(check, view) for check in list_checks())


def _state(check: Check, view: StandingView) -> CheckState:
    some = [line for line in view.lines if bare_name(line.standing.feature) in check.names]
    badges = {status_badge(line.standing) for line in some}
    badge = next((one for one in _WORST if one in badges), Badge.IN if badges else Badge.NOT_CHECKED)
    unsafe = any(line.standing.safety and not trusted(line) for line in some)
    unseen = any(one.check == check.id and one.safety for one in view.never)
    first = unsafe or unseen or badge in (Badge.BAD_RUN, Badge.OUT, Badge.RECHECK)
    return CheckState(check.id, check.title.partition(":")[0], check.minutes, badge, first)


def _told_already(view: StandingView, verdict: ShopVerdict) -> bool:
    """Whether all that the answer rests on is the checks that stand under it as never done."""
    safe = all(trusted(line) or not line.standing.safety for line in view.lines)
    out = any(line.standing.decision == "proven-out" for line in view.lines)
    return verdict.code in ("not-yet", "nothing-known") and safe and not out and not view.bans


def _unseen_first(view: StandingView) -> tuple[Order, ...]:
    """What was never looked at, and can hurt someone, comes before all that is not a matter of safety."""
    unsafe = [one for one in view.never if one.safety]
    wanted = [one for one in unsafe if any(f"run {one.check} first" in text for text in view.bans)]  # it opens again
    unseen = next(iter((*wanted, *unsafe)), None)
    if unseen is None or (not wanted and any(line.standing.safety for line in view.do_first[:1])):
        return ()
    run = unchecked(unseen)
    return (Order(f"Check {run.name.lower()} first.", one_check(unseen.check).cautions, run=run),)


def unchecked(one: Unchecked) -> CheckNext:
    """A check that was never done here."""
    return CheckNext(one.check, one.title.partition(":")[0], one.minutes)


def _orders(line: Line) -> Iterator[Order]:
    """What is done at one visit to the saw: its first action, and what else is done by hand before the run."""
    yield from (
        order for one in (line, *line.then) if (order := order_of(one.standing, one.minutes, one.also)) is not None
    )


def order_of(status: FeatureStatus, minutes: float, also: Sequence[str] = ()) -> Order | None:
    """What comes next for a feature, with its warnings; `also`: names of others that it serves."""
    action = status.next
    if action is None:
        return None
    check = one_check(action.check) if action.check else None
    name = first_up(", ".join((short_name(status.feature), *also)))
    if check is not None and (action.do is ActionKind.MOVE or action.mends):
        return adjusting_order(action.text, status.feature, record_of(status), check, names=name, why=action.why)
    text = at_the_saw(action.text)
    text = text if name.lower() in text.lower() else f"{name}: {text}"
    run = CheckNext(check.id, "", minutes, feature=status.feature) if check is not None else None
    return Order(f"{text}{_since(status)}", check.cautions if check is not None else (), why=action.why, run=run)


def _since(status: FeatureStatus) -> str:
    return f" Since: {status.stale[0].lower()}." if status.stale else ""
