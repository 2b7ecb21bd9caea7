"""What the advice about one feature rests on."""

from __future__ import annotations

from dataclasses import dataclass

from trued.advice.order_words import order_said
from trued.equipment.shop import Shop
from trued.equipment.sides import SledLayout, settable_mm
from trued.measure.decision import Conformity, ToleranceLimits
from trued.standing.amounts.amount import amount_said, ordered_said, radius_mm
from trued.standing.feature import Feature, named
from trued.standing.feature_status import ActionKind, NextAction


@dataclass(frozen=True, slots=True)
class DecisionCase:
    """`pair_seen`: an untouched pair has shown how well its check repeats here. `doubted`: its last finding was set
    aside, and no later one has told which is right. `sided`: at least 95% of what is believed lies on one side of the
    place aimed at; only then is it known which way to turn. `unread`: what stands against its newest run, that waits to
    be confirmed. `dangers`: what was found of it that can hurt someone."""

    feature: str
    known: Feature
    decision: Conformity | None
    chance_in: float | None
    pair_seen: bool
    touched: tuple[str, ...]
    moved: bool
    shop: Shop | None
    limits: ToleranceLimits | None = None
    doubted: bool = False
    sided: bool = True
    unread: str = ""
    dangers: tuple[str, ...] = ()

    @property
    def first(self) -> NextAction | None:
        """What comes before any judging: what can hurt someone, a run that waits to be confirmed, a run after something
        happened, after a move, or to settle a disagreement."""
        if self.dangers:
            text = f"{' '.join(self.dangers)} Then run {self.known.check} again."
            return NextAction(ActionKind.LOOK, text, "Someone can get hurt.", check=self.known.check)
        if self.unread:
            return self.measure(READ_AGAIN, self.unread)
        if self.touched:
            return self.measure("Recheck: run {check}.", f"Since the last check: {'; '.join(self.touched)}.")
        if self.moved:
            return self.measure("Now run {check}: see what the move did.", "Moved, not measured since.")
        if self.doubted:
            why = "The last two runs disagree."
            return self.measure(READ_AGAIN, why)
        return None

    def measure(self, text: str, why: str) -> NextAction:
        """To run the check that teaches the feature."""
        check = self.known.check
        lead, end = text.format(check=check), f" ({self.known.minutes:.0f} min)."
        return NextAction(ActionKind.MEASURE, lead.removesuffix(".") + end, why, check=check)

    def allowed(self, step: NextAction | None) -> NextAction | None:
        """The step, or one more run where it would turn with the way not known. What a move brings is learnt by moves,
        so how much of one arrives does not count here."""
        if step is None or step.do is not ActionKind.MOVE or self.sided:
            return step
        return self.again(NO_WAY if self.pair_seen else ONE_RUN)

    def again(self, why: str) -> NextAction:
        """To run it once more as it is."""
        return self.measure("Run {check} again, same setup.", why)

    def order(self, move: float) -> str:
        """What is moved which way, by the sign of the move: by left and right where the layout of the sled is known."""
        if self.known.name in ("fence-angle", "detent-angle"):
            thing = named(self.feature).thing
            fixtures = self.shop.fixtures if self.shop is not None else ()
            fixture = next((f for f in fixtures if f.id == thing), None)
            layout = SledLayout.known(fixture.word("fence"), fixture.word("keeper")) if fixture is not None else None
            if layout is not None:
                return f"move {layout.fence_turn(opening=move > 0.0)}"
        ways = self.known.directions or ("", "")
        return order_said(self.feature, ways[0 if move > 0.0 else 1], self.known.directions)

    def said(self, amount: float) -> str:
        """An amount of this feature in words."""
        return amount_said(amount, self.known.unit, self.feature, self.shop)

    def settable(self, amount: float) -> float:
        """An amount of it, without a sign, as it is ordered: where feelers set it, what they can make."""
        radius = radius_mm(self.feature, self.shop) if self.known.unit == "rad" else None
        if not radius:
            return abs(amount)
        return settable_mm(abs(amount) * radius, self.shop.unit if self.shop is not None else "in") / radius

    def ordered(self, amount: float) -> str:
        """An amount of it that is to be turned."""
        return ordered_said(amount, self.known.unit, self.feature, self.shop)


PROVEN = NextAction(ActionKind.LEAVE, "Leave it.", "In tolerance.")
ONE_RUN = "One run can't prove it."
READ_AGAIN = "Run {check} again, same setup."
NO_WAY = "Which side it is off is not known yet. Don't adjust."
CANNOT_TELL = "Too close to call."
