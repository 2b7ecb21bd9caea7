"""Work that is not ordered in this shop: what its maker forbids, and what blade, knife or fence are not fit for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from trued.advice.closures import INSERT, Closed, rests_on
from trued.equipment.shop import Shop
from trued.measure.decision import Conformity
from trued.procedure import Check, Flag, Severity
from trued.standing.bans import blade_fault, knife_fault, narrowest, sled_fault
from trued.standing.feature import find_feature, full_name, named, said
from trued.standing.feature_status import ActionKind, FeatureStatus, NextAction
from trued.standing.owner import owner_of
from trued.usecases.shop.list_checks import list_checks, list_ids, one_check


@dataclass(frozen=True, slots=True)
class Forbidden:
    """Why nothing is cut by a way, in a sentence; "" where nothing is known against it. sled_id: of the sled in use."""

    saw: str
    sled: str
    fence: str
    joint: str
    sled_id: str

    def why(self, check: Check) -> str:
        """Why the work of a check is not ordered; "" where nothing is known against it."""
        ways = {"sled": self.sled or self.saw, "saw": self.saw, "fence": self.fence or self.saw, "joint": self.joint}
        return ways.get(check.made_on, "") or (self.saw if check.made_on else "")

    def why_not(self, standing: FeatureStatus) -> str:
        """The same of what comes next for a feature. Of a sled that must not be used nothing is set either."""
        if self.sled and named(standing.feature).thing == self.sled_id:
            return self.sled
        check = _next_check(standing)
        return self.why(check) if check is not None else ""

    @property
    def texts(self) -> tuple[str, ...]:
        """Each once, the saw first."""
        return tuple(dict.fromkeys(filter(None, (self.saw, self.sled, self.fence, self.joint))))

    @property
    def checks(self) -> frozenset[str]:
        """Ids of the checks whose work is not ordered."""
        return frozenset(check.id for check in list_checks() if self.why(check))


def forbidden(shop: Shop, standings: Sequence[FeatureStatus] = (), closed: Sequence[Closed] = ()) -> Forbidden:
    """What is known against each way of cutting in this shop; `closed`: what a finding alone opens again."""
    saw, sled = shop.saw, shop.sled
    blade = blade_fault(saw, shop.blade) if saw is not None else ""
    knife = knife_fault(saw, narrowest(shop, standings, None), shop.blade) if saw is not None else ""
    ban = sled_fault(saw, sled) if sled is not None else None
    insert, out = _out(shop, standings, INSERT), _out(shop, standings, rests_on(on_sled=False))
    unfit = blade or _found(insert, [one.why for one in closed if one.bare in INSERT])
    found = knife or _found(out, [one.why for one in closed if one.bare not in INSERT])
    fence = f"{found} No rip." if found else ""
    joints = saw is not None and saw.forbids("non-through-cut")
    return Forbidden(
        saw=f"{unfit} No cut on this saw." if unfit else "",
        sled=f"{ban.text} No cut on {sled.id}." if ban is not None and sled is not None else "",
        fence=fence,
        joint="The saw's maker forbids cuts that do not go through the wood. No groove on this saw." if joints else "",
        sled_id=sled.id if sled is not None else "",
    )


def _out(shop: Shop, standings: Sequence[FeatureStatus], features: Sequence[str]) -> list[str]:
    """Which of these is shown to be out, as people say it."""
    names = {full_name(owner_of(bare, shop), bare) for bare in features}
    return [said(s.feature) for s in standings if s.feature in names and s.decision is Conformity.PROVEN_OUT]


def _found(out: Sequence[str], closed: Sequence[str]) -> str:
    """What was found out, as it stands now, else what stays closed for it; "" for neither."""
    return f"Out of tolerance: {', '.join(out)}." if out else " ".join(dict.fromkeys(closed))


def withheld(
    shop: Shop, standings: Iterable[FeatureStatus], closed: Callable[[], Sequence[Closed]] = tuple
) -> tuple[FeatureStatus, ...]:
    """The same standings; work that must not be done is no next step. closed: asked where some next step rips."""
    every = tuple(standings)
    rips = any(check is not None and check.made_on == "fence" for check in map(_next_check, every))
    against = forbidden(shop, every, closed() if rips else ())
    return tuple(_withheld(standing, against) for standing in every) if against.texts else every


def _next_check(standing: FeatureStatus) -> Check | None:
    """The check that comes next for a feature, else its own; None where a person's own check alone teaches it."""
    known = find_feature(standing.feature)
    next_check = standing.next.check if standing.next is not None else ""
    check = next_check or (known.check if known is not None else "")
    return one_check(check) if check in list_ids() else None


def _withheld(standing: FeatureStatus, against: Forbidden) -> FeatureStatus:
    step = standing.next
    if step is None or step.do is ActionKind.LEAVE or not (why := against.why_not(standing)):
        return standing
    return replace(standing, next=NextAction(ActionKind.LOOK, f"Nothing to cut or set: {why}", ""))


def forbidden_seen(
    check: Check, shop: Shop, standings: Sequence[FeatureStatus], closed: Callable[[], Sequence[Closed]] = tuple
) -> tuple[Flag, ...]:
    """The same for a check that is asked for by name: it stands before everything else."""
    why = forbidden(shop, standings, closed() if check.made_on else ()).why(check)
    return (Flag("forbidden-work", Severity.DANGER, f"Do not cut for this check: {why}"),) if why else ()
