"""Every limit there is, beside where it comes from, in the units in which the trade says it.

The table is no copy of the code: it is written in inches, inches per foot and degrees, from the rules of the trade
(*common practice*) and from the EN 1870 series on circular saw benches (*from memory*). A limit that is loosened by
half or to twice its size lets something through that lies outside the table, and the gate below is red; so is a
feature left out.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import pytest

from trued.checks import all_checks
from trued.measure.decision import Chances, Conformity, ToleranceLimits, judge
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.procedure import Check, Feature, FeatureResult, take

IN = 25.4
PER_FOOT = 1.0 / 12.0  # rad in 1 in/ft
DEG = math.pi / 180.0
PRACTICE, MEMORY = "common practice", "from memory"


@dataclass(frozen=True)
class Stated:
    """Lowest and highest that is allowed, in `unit`, and who says so; None where that side is free."""

    low: float | None
    high: float | None
    unit: float
    source: str


def within(size: float, unit: float, source: str = PRACTICE) -> Stated:
    return Stated(-size, size, unit, source)


def most(size: float, unit: float, source: str = PRACTICE) -> Stated:
    return Stated(None, size, unit, source)


STATED = {
    "fence-angle": within(0.0024, PER_FOOT),  # fine work: 0.001 to 0.002 in/ft wished, 0.003 for cabinets
    "stop-offset": within(0.005, IN),  # work by the rule
    "stop-slope": within(0.0003, 1.0),  # 0.0003 in an inch
    "stop-repeat": most(0.0015, IN),  # one sd where five parts range over 0.0035 in
    "stop-setting": most(0.005, IN),  # the eye sets a line to about 0.010 in, two sd
    "bar-play": most(0.004, IN),  # 0.002 to 0.004 in, sliding freely
    "bar-swing": most(0.004, PER_FOOT),
    "blade-parallel": Stated(-0.004 / 7.008, 0.0, 1.0, PRACTICE),  # 0.003 to 0.005 in over the blade, here 178 mm
    "bevel@0": within(0.05, DEG),  # 0.05 to 0.1 degrees
    "bevel@45": within(0.1, DEG),
    "flange": most(0.001, IN),
    "wobble": most(0.004, IN),  # 0.003 to 0.005 in below the gullets
    "knife": Stated(0.0, None, IN, MEMORY),  # nowhere out of the kerf
    "knife-over-plate": Stated(0.005, None, IN, PRACTICE),  # strictly thicker than the plate, 0.005 in to spare
    "knife-under-kerf": Stated(0.005, None, IN, PRACTICE),
    "knife-gap": Stated(3.0, 8.0, 1.0, MEMORY),  # mm, radially to the teeth
    "knife-height": Stated(0.0, 2.0, 1.0, MEMORY),  # mm below the top tooth
    "insert-operator-keeper": Stated(0.0, 0.005, IN, PRACTICE),  # never proud where the work comes on
    "insert-operator-offcut": Stated(0.0, 0.005, IN, PRACTICE),
    "insert-far-keeper": Stated(-0.002, 0.0, IN, PRACTICE),  # never low where it leaves
    "insert-far-offcut": Stated(-0.002, 0.0, IN, PRACTICE),
    "insert-rock": most(0.003, IN),
    "rip-toe": Stated(0.0, 0.003, IN, PRACTICE),  # never toed in
    "rip-fence-angle": Stated(0.0, None, 1.0, PRACTICE),  # never pinching
    "rip-relock": most(0.003, IN),  # one sd where three locks range over 0.005 in
    "rip-straight": within(0.003, IN),
    "rip-slope": within(0.001, 1.0),
    "rip-offset": within(1 / 64, IN),
    "table-flat": most(0.010, IN),
    "table-at-blade": within(0.005, IN),
    "wing-step": Stated(0.0, 1 / 64, IN, PRACTICE),  # never proud
    "wing-droop": within(1 / 32, IN),
    "wing-twist": within(1 / 32, IN),
    "wing-deflection": most(1 / 32, IN),  # under 10 to 15 lb
    "fence-straight": within(0.003, IN),
    "fence-upright": within(0.002 / 3.0, 1.0),  # 0.002 in over 3 in
    "platform-flat": most(0.010, IN),
    "detent-repeat": most(0.02, DEG),  # range of ten
    "detent-backlash": within(0.02, DEG),
    "detent-angle": within(0.02, DEG),
    "sight-line": within(0.010, IN),  # no eye is better
    "zero-clearance": most(1 / 64, IN),
    "caliper-zero": within(0.0005, IN),
    "caliper-repeat": most(0.001, IN),
    "caliper-jaws": within(0.001, IN),
    "tape-hook": within(1 / 64, IN),
    "tape-start": within(1 / 64, IN),
    "rip-taper": within(0.005, IN),
    "stock-even": most(0.004, IN),  # one sd where six spots range over 0.010 in
    "stock-edge": within(0.0005, 1.0),  # 0.006 in per foot
    "stock-cup": within(1 / 32, IN),
    "stock-twist": within(1 / 32, IN),
    "dado-fit": Stated(0.002, 0.006, IN, PRACTICE),  # slides by hand, with room for glue
    "dado-depth": most(0.005, IN),
    "box-square": within(0.0015, 1.0),  # 1/16 in between the diagonals of 24 by 30 in
    "support-margin": Stated(2.0, None, IN, PRACTICE),
}
FREE = {  # measured, with nothing to decide by itself
    *("kerf", "slot-width", "rip-setting", "rip-repeat", "caliper-scale"),  # the last is judged by its instrument
    *("stock-thickness", "stock-moisture"),
}
DECLARED = {feature.name: feature for check in all_checks() for feature in check.features}
NEAR = 0.05  # of the room: how near to each limit something is tried, inside it and outside it


def tried(stated: Stated) -> list[tuple[float, Conformity]]:
    """Values just inside and just outside what is stated, in the feature's unit, with what must be said of each."""
    low, high = ((None if x is None else x * stated.unit) for x in (stated.low, stated.high))
    sides = [x for x in (low, high) if x is not None]
    room = high - low if low is not None and high is not None else abs(sides[0]) or 1e-3 * stated.unit
    made = []
    for at, outward in ((low, -1.0), (high, 1.0)):
        if at is not None:
            made.append((at + outward * NEAR * room, Conformity.PROVEN_OUT))
            made.append((at - outward * NEAR * room, Conformity.PROVEN_IN))
    return made


def gate(feature: Feature, stated: Stated) -> list[str]:
    """What the declared limits let through or stop against the table; nothing where they agree."""
    wrong = []
    for value, want in tried(stated):
        sure = UncertainValue.of(value, ErrorSource("limit:test", "none to speak of", abs(value) * 1e-6 + 1e-9))
        if judge(Chances.of(sure, feature.allowed)) is not want:
            wrong.append(f"{feature.name}: {value} must be {want}")
    return wrong


def test_every_feature_is_in_the_table_or_has_nothing_to_decide() -> None:
    assert set(STATED) | FREE == set(DECLARED)
    assert {name for name, feature in DECLARED.items() if feature.limits is None} == FREE


@pytest.mark.parametrize("name", STATED)
def test_the_limit_is_what_the_trade_says(name: str) -> None:
    assert gate(DECLARED[name], STATED[name]) == []


def looser(limits: ToleranceLimits, share: float) -> list[ToleranceLimits]:
    """The same with one side farther out: by that share of its size, or of the room where it is 0."""
    low, high = limits.low, limits.high
    room = high - low if low is not None and high is not None else 1.0
    made = []
    if low is not None:
        made.append(ToleranceLimits(low - share * (abs(low) or room), high))
    if high is not None:
        made.append(ToleranceLimits(low, high + share * (abs(high) or room)))
    return made


@pytest.mark.parametrize("share", [0.5, 1.0])
@pytest.mark.parametrize("name", STATED)
def test_loosening_any_limit_makes_the_gate_red(name: str, share: float) -> None:
    """Each limit in turn, each side of it, half as much again and twice as much."""
    declared = DECLARED[name]
    changed = looser(declared.allowed, share)
    assert changed
    for limits in changed:
        assert gate(replace(declared, limits=limits), STATED[name]), f"{name} may be {limits} and nothing is red"


BY_THE_RUN = {
    "blade-parallel"
}  # on which side of the blade the rip fence stands turns its limits about; its check sets them by the run


def run_of(check: Check) -> tuple[FeatureResult, ...]:
    return check.evaluate(take(check, check.example.given, dict(check.example.facts)))


@pytest.mark.parametrize("check", all_checks(), ids=lambda check: check.id)
def test_the_arithmetic_takes_its_limits_from_the_declaration(check: Check) -> None:
    """Stated once: with other limits declared the same readings are judged by those, and by no figure of the code."""
    other: Callable[[Feature], Feature] = lambda f: (  # noqa: E731
        f if f.limits is None else replace(f, limits=ToleranceLimits(-1.25, 1.25))
    )
    changed = replace(check, features=tuple(map(other, check.features)), also=tuple(map(other, check.also)))
    judged = [found for found in run_of(changed) if found.limits is not None]
    for found in judged:
        if found.feature not in BY_THE_RUN and changed.feature(found.feature).limits is not None:
            assert found.limits == ToleranceLimits(-1.25, 1.25), found.feature
