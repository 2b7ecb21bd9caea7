"""Every adjuster of the catalogue gets at most one order at any time."""

from collections import Counter
from collections.abc import Iterator

import pytest
from tests.standing.rows import hour

from trued.advice.one_order import is_order
from trued.advice.statuses import standings
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.feature import Feature, features, find_feature, full_name, named
from trued.standing.feature_status import FeatureStatus
from trued.standing.history.history import Adjustment, History, Result
from trued.standing.owner import owner_of

WORK = ("dado-fit",)  # of one piece of work: it has no standing, and so no order
TURNED = {name: one for name, one in features().items() if one.directions is not None and name not in WORK}
GROUPS = {feature.adjuster for feature in TURNED.values()}


def rows(feature: Feature, side: float, angle: str = "0") -> Iterator[Result]:
    """Two runs that find it far out on one side."""
    limits = feature.limits or ToleranceLimits.within(1.0)
    edge = limits.high if side > 0 else limits.low
    if edge is None:
        edge = 0.0
    width = (limits.high or 0.0) - (limits.low or 0.0) or 1.0
    full = full_name(owner_of(feature.name, None), feature.name, angle)
    for n in range(2):
        x = UncertainValue.of(
            edge + side * 10.0 * abs(width), ErrorSource(f"reading:{n}", "a reading", 0.1 * abs(width))
        )
        yield Result(hour(n), full, feature.unit, x, feature.check, f"run-{feature.check}-{n}", feature.limits)


def orders(now: tuple[FeatureStatus, ...]) -> Counter[tuple[str, str]]:
    """How many orders each adjuster of each thing has."""
    given: Counter[tuple[str, str]] = Counter()
    for standing in now:
        if is_order(standing.next):
            parts = named(standing.feature)
            known = find_feature(standing.feature)
            given[parts.thing, known.adjuster if known is not None else ""] += 1
    return given


@pytest.mark.parametrize("side", [-1.0, 1.0])
@pytest.mark.parametrize("adjuster", sorted(GROUPS))
def test_with_all_that_it_is_read_by_out_it_has_one_order_at_most(adjuster: str, side: float) -> None:
    group = [feature for feature in TURNED.values() if feature.adjuster == adjuster]
    observed = tuple(row for feature in group for row in rows(feature, side))
    now = standings(History(observed), hour(3))
    assert len(now) == len(group)
    assert all(count == 1 for count in orders(now).values()), orders(now)


def test_toe_and_angle_of_the_rip_fence_are_one_fence() -> None:
    """readings 2.4: only the angle to the blade orders."""
    assert features()["rip-toe"].adjuster == "rip-fence-angle" and "rip-pinch" not in features()
    observed = (*rows(features()["rip-toe"], -1.0), *rows(features()["rip-fence-angle"], -1.0))
    now = {s.feature: s for s in standings(History(observed), hour(3))}
    toe, angle = now["saw.rip-toe"], now["saw.rip-fence-angle"]
    assert toe.decision is angle.decision is Conformity.PROVEN_OUT
    assert is_order(angle.next) and not is_order(toe.next)
    assert toe.next is not None and toe.next.text.startswith("Set together with")


def test_a_rip_fence_that_was_moved_is_moved_in_both() -> None:
    observed = (*rows(features()["rip-toe"], -1.0), *rows(features()["rip-fence-angle"], -1.0))
    out = Adjustment(hour(2), "saw.rip-toe", 0.1, "out", "", "move")
    now = {s.feature: s for s in standings(History(observed, (out,)), hour(3))}
    assert all(s.decision is Conformity.NOT_PROVEN and not is_order(s.next) for s in now.values())


def test_a_toe_that_is_out_alone_is_ordered_by_the_angle() -> None:
    x = UncertainValue.of(3e-4, ErrorSource("reading:1", "a reading", 1e-5))
    limits = features()["rip-fence-angle"].limits
    right = Result(hour(1), "saw.rip-fence-angle", "rad", x, "rip-fence", "run-rip-fence-1", limits)
    now = {s.feature: s for s in standings(History((*rows(features()["rip-toe"], 1.0), right)), hour(3))}
    assert now["saw.rip-fence-angle"].decision is Conformity.PROVEN_IN
    assert is_order(now["saw.rip-fence-angle"].next) and not is_order(now["saw.rip-toe"].next)
