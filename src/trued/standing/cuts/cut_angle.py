"""The corner that a cut at an angle comes out with: of the detent it is cut at, never of the square cut's fence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.equipment.fence_swing import Turned, plain_degrees
from trued.equipment.shop import Shop
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.cuts.feature_lookup import named_sources
from trued.standing.default_uncertainty import ASSUMED_DOF, TYPE_B
from trued.standing.feature import full_name
from trued.standing.feature_status import FeatureStatus


@dataclass(frozen=True, slots=True)
class CutAngle:
    """What is believed of one detent. feature: its full name; label: its line in an error budget.

    error:   of its corner in rad, positive when that is tight. swing: the side the fence is swung to there.
    assumed: nothing of it was found here yet.
    """

    feature: str
    label: str
    error: UncertainValue
    swing: str
    assumed: bool = False

    @property
    def over(self) -> UncertainValue:
        """How much farther from square than its name says a cut there is: swung closed a tight corner is over, swung
        open it falls short."""
        return self.error if self.swing == "closed" else -1.0 * self.error


def cut_angle(shop: Shop, standings: Sequence[FeatureStatus], degrees: float) -> CutAngle:
    """The detent at which mitered sides are cut, both ends at the one, each piece turned over between them.

    The fence is swung closed for it (*common practice*: the long edge lies at the fence), unless the shop names only
    the open detent, or only that was found here.
    """
    sled = shop.sled
    thing = sled.id if sled is not None else "sled"
    names = {swing: full_name(thing, "detent-angle", Turned(degrees, swing).suffix) for swing in ("closed", "open")}
    found = {standing.feature: standing for standing in standings}
    has = [swing for swing in names if sled is not None and degrees in sled.detents.of(swing)]
    seen = [swing for swing in has or names if names[swing] in found]
    swing = next(iter(seen or has), "closed")
    label = f"detent angle at {plain_degrees(degrees)}°"
    if (standing := found.get(names[swing])) is not None:
        return CutAngle(names[swing], label, named_sources((standing.x,), label)[0], swing)
    assumed = ErrorSource(f"assumed:{label}", label, TYPE_B["fence-angle"].u, ASSUMED_DOF)
    return CutAngle(names[swing], label, UncertainValue.of(0.0, assumed), swing, assumed=True)
