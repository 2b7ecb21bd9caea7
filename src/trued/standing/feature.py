"""What can be out at a saw: each feature with its unit, its two ways to turn, and the check that teaches it.

A full name is THING.FEATURE[@ANGLE[SIDE]], as `sled.fence-angle@0`, `sled.detent-angle@45closed` or `blade.kerf`:
where the fence angle or the blade tilt matters, each is a feature of its own (turned.py).

A positive move is the one that lowers the feature's value, and its word is the first of the two `directions`: opening
lowers a tight corner, "shorter" lowers the offset of a stop whose parts come out long.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from trued.equipment.fence_swing import Turned, turned_of
from trued.errors import InputRefused
from trued.measure.decision import ToleranceLimits
from trued.units.nearest import nearest

FeatureUnit = Literal["rad", "mm", "mm/mm", "%"]
Angles = Literal["", "square", "swing", "tilt"]


@dataclass(frozen=True, slots=True)
class Actuator:
    """How well a move arrives before this shop has shown it: standard deviations, common practice.

    settling: how far the thing lands from where it was brought, in the feature's unit, when it is locked again.
    finest:   the smallest move a hand can make where no radius or thread is known, in the feature's unit.
    minutes:  to loosen it, bring it to its place and lock it.
    """

    settling: float
    finest: float
    minutes: float = 5.0


@dataclass(frozen=True, slots=True)
class Feature:
    """One thing that can be out. `limits` in its unit are common practice and stand until the person says otherwise.

    angles: at which angles it is one of its own: of the `square` cut alone (`@0`), at each angle and side to which the
            fence can `swing` (`@0`, `@45closed`), or at each `tilt` of the blade (`@0`, `@45`).
    spread: whether it is itself a scatter, as how well a stop repeats; its chance then follows chi-square.
    led_by: another feature of the same adjuster: what is to be done to it is ordered there, and only there.
    """

    name: str
    unit: FeatureUnit
    text: str
    check: str
    minutes: float
    limits: ToleranceLimits | None = None
    directions: tuple[str, str] | None = None
    actuator: Actuator | None = None
    safety: bool = False
    angles: Angles = ""
    spread: bool = False
    led_by: str = ""

    @property
    def adjuster(self) -> str:
        """The feature by which the thing is adjusted that it is read from."""
        return self.led_by or self.name

    @property
    def by_angle(self) -> bool:
        """Whether its full name ends in an angle."""
        return bool(self.angles)

    @property
    def adjustable(self) -> bool:
        """Whether there is something to turn."""
        return self.actuator is not None


@dataclass(frozen=True, slots=True)
class Named:
    """A full feature name in its parts; `angle` is "" where the feature is the same at every angle, and else with its
    side (`45closed`)."""

    thing: str
    feature: str
    angle: str

    @property
    def turned(self) -> Turned:
        """The angle as degrees and side; of a feature that is the same at every angle the square cut. Older books hold
        whatever was typed for an angle: what is none was not told."""
        try:
            return turned_of(self.angle or "0")
        except InputRefused:
            return Turned(None)


_MIL = 0.0254  # mm; a thousandth of an inch
_FOOT = 12.0
_DEG = math.radians(1.0)


def _per_foot(inches: float) -> float:
    return inches / _FOOT


_TABLE = (
    Feature(
        "fence-angle",
        "rad",
        "fence angle",
        "five-cut",
        15.0,
        ToleranceLimits.within(2e-4),
        ("open", "close"),
        Actuator(3e-5, 1e-4),
        angles="square",
    ),
    Feature(
        "stop-offset",
        "mm",
        "stop scale offset",
        "stop-scale",
        8.0,
        ToleranceLimits.within(5 * _MIL),
        ("shorter", "longer"),
        Actuator(2 * _MIL, 2 * _MIL),
        angles="swing",
    ),
    Feature("stop-slope", "mm/mm", "stop scale slope", "stop-scale", 8.0, ToleranceLimits.within(3e-4), angles="swing"),
    Feature(
        "stop-repeat", "mm", "stop repeatability", "stop-repeat", 8.0, ToleranceLimits(None, 1.5 * _MIL), spread=True
    ),
    Feature("stop-setting", "mm", "stop setting", "stop-repeat", 8.0, ToleranceLimits(None, 5 * _MIL), spread=True),
    Feature("kerf", "mm", "kerf", "kerf", 5.0),
    Feature("bar-play", "mm", "bar play", "bar-play", 6.0, ToleranceLimits(None, 4 * _MIL)),
    Feature("bar-swing", "rad", "bar swing", "bar-play", 6.0, ToleranceLimits(None, _per_foot(0.004))),
    Feature("slot-width", "mm", "slot width", "bar-play", 6.0),
    Feature(
        "blade-parallel",
        "rad",
        "blade-to-slot angle",
        "blade-parallel",
        15.0,
        ToleranceLimits(-4 * _MIL / 178.0, 0.0),
        ("toward-slot", "from-slot"),
        safety=True,
    ),
    Feature(
        "bevel@0",
        "rad",
        "90° bevel stop",
        "tilt-90",
        8.0,
        ToleranceLimits.within(0.05 * _DEG),
        ("away", "toward-keeper"),
        Actuator(0.02 * _DEG, 0.02 * _DEG),
        angles="tilt",
    ),
    Feature(
        "bevel@45",
        "rad",
        "45° bevel stop",
        "tilt-45",
        20.0,
        ToleranceLimits.within(0.1 * _DEG),
        ("upright", "over"),
        Actuator(0.02 * _DEG, 0.02 * _DEG),
        angles="tilt",
    ),
    Feature("flange", "mm", "arbor flange runout", "arbor", 10.0, ToleranceLimits(None, 1 * _MIL)),
    Feature("wobble", "mm", "blade runout", "arbor", 10.0, ToleranceLimits(None, 4 * _MIL)),
    Feature("knife", "mm", "riving knife alignment", "knife", 6.0, ToleranceLimits(0.0, None), safety=True),
    Feature(
        "knife-over-plate",
        "mm",
        "knife over plate",
        "knife",
        6.0,
        ToleranceLimits(5 * _MIL, None),
        safety=True,
    ),
    Feature(
        "knife-under-kerf",
        "mm",
        "knife under kerf",
        "knife",
        6.0,
        ToleranceLimits(5 * _MIL, None),
        safety=True,
    ),
    Feature("knife-gap", "mm", "knife-to-teeth gap", "knife", 6.0, ToleranceLimits(3.0, 8.0), safety=True),
    Feature("knife-height", "mm", "knife height", "knife", 6.0, ToleranceLimits(0.0, 2.0), safety=True),
    Feature(
        "insert-operator-keeper",
        "mm",
        "insert height, near keeper side",
        "insert",
        6.0,
        ToleranceLimits(0.0, 5 * _MIL),
        ("up", "down"),
        safety=True,
    ),
    Feature(
        "insert-operator-offcut",
        "mm",
        "insert height, near offcut side",
        "insert",
        6.0,
        ToleranceLimits(0.0, 5 * _MIL),
        ("up", "down"),
        safety=True,
    ),
    Feature(
        "insert-far-keeper",
        "mm",
        "insert height, far keeper side",
        "insert",
        6.0,
        ToleranceLimits(-2 * _MIL, 0.0),
        ("up", "down"),
        safety=True,
    ),
    Feature(
        "insert-far-offcut",
        "mm",
        "insert height, far offcut side",
        "insert",
        6.0,
        ToleranceLimits(-2 * _MIL, 0.0),
        ("up", "down"),
        safety=True,
    ),
    Feature("insert-rock", "mm", "insert rock", "insert", 6.0, ToleranceLimits(None, 3 * _MIL), safety=True),
    Feature(
        "rip-toe",
        "mm",
        "rip fence toe",
        "rip-fence",
        10.0,
        ToleranceLimits(0.0, 3 * _MIL),
        ("in", "out"),
        safety=True,
        led_by="rip-fence-angle",
    ),
    Feature(
        "rip-fence-angle",
        "rad",
        "rip-fence-to-blade angle",
        "rip-fence",
        10.0,
        ToleranceLimits(0.0, None),
        ("in", "out"),
        safety=True,
    ),
    Feature(
        "rip-relock",
        "mm",
        "rip fence lock repeatability",
        "rip-fence",
        10.0,
        ToleranceLimits(None, 3 * _MIL),
        spread=True,
    ),
    Feature("rip-straight", "mm", "rip fence straightness", "rip-fence", 10.0, ToleranceLimits.within(3 * _MIL)),
    Feature("rip-slope", "mm/mm", "rip scale slope", "rip-fence", 10.0, ToleranceLimits.within(1e-3)),
    Feature("rip-offset", "mm", "rip scale offset", "rip-fence", 10.0, ToleranceLimits.within(1 / 64 * 25.4)),
    Feature("rip-setting", "mm", "rip setting repeatability", "rip-fence", 10.0, spread=True),
    Feature("rip-repeat", "mm", "rip width repeatability", "rip-parallel", 8.0, spread=True),
    Feature("table-flat", "mm", "table flatness", "table", 15.0, ToleranceLimits(None, 10 * _MIL)),
    Feature("table-at-blade", "mm", "table flatness at the blade", "table", 15.0, ToleranceLimits.within(5 * _MIL)),
    Feature(
        "wing-step",
        "mm",
        "wing step",
        "wing",
        8.0,
        ToleranceLimits(0.0, 1 / 64 * 25.4),
        ("up", "down"),
        Actuator(2 * _MIL, 4 * _MIL),
    ),
    Feature(
        "wing-droop",
        "mm",
        "wing droop",
        "wing",
        8.0,
        ToleranceLimits.within(1 / 32 * 25.4),
        ("up", "down"),
        Actuator(4 * _MIL, 4 * _MIL),
    ),
    Feature("wing-twist", "mm", "wing twist", "wing", 8.0, ToleranceLimits.within(1 / 32 * 25.4)),
    Feature("wing-deflection", "mm", "wing sag under load", "wing", 8.0, ToleranceLimits(None, 1 / 32 * 25.4)),
    Feature("fence-straight", "mm", "fence straightness", "fence-straight", 8.0, ToleranceLimits.within(3 * _MIL)),
    Feature("fence-upright", "rad", "fence face to base", "fence-upright", 6.0, ToleranceLimits.within(2 / 3 * 1e-3)),
    Feature("platform-flat", "mm", "sled base flatness", "table", 15.0, ToleranceLimits(None, 10 * _MIL)),
    Feature(
        "detent-repeat",
        "rad",
        "detent repeatability",
        "detent-repeat",
        10.0,
        ToleranceLimits(None, 0.02 * _DEG),
        angles="swing",
        spread=True,
    ),
    Feature(
        "detent-backlash",
        "rad",
        "detent backlash",
        "detent-repeat",
        10.0,
        ToleranceLimits.within(0.02 * _DEG),
        angles="swing",
    ),
    Feature(
        "detent-angle",
        "rad",
        "detent angle",
        "detent-angle",
        25.0,
        ToleranceLimits.within(0.02 * _DEG),
        ("open", "close"),
        Actuator(0.01 * _DEG, 0.01 * _DEG),
        angles="swing",
    ),
    Feature(
        "sight-line",
        "mm",
        "sight line",
        "sight-line",
        4.0,
        ToleranceLimits.within(10 * _MIL),
        ("toward-offcut", "toward-keeper"),
        angles="swing",
    ),
    Feature(
        "zero-clearance",
        "mm",
        "zero-clearance slot width",
        "sight-line",
        4.0,
        ToleranceLimits(None, 1 / 64 * 25.4),
    ),
    Feature("caliper-zero", "mm", "caliper zero", "caliper", 5.0, ToleranceLimits.within(0.5 * _MIL)),
    Feature(
        "caliper-repeat", "mm", "caliper repeatability", "caliper", 5.0, ToleranceLimits(None, 1 * _MIL), spread=True
    ),
    Feature("caliper-scale", "mm", "caliper scale error", "caliper", 5.0),
    Feature("caliper-jaws", "mm", "caliper jaw taper", "caliper", 5.0, ToleranceLimits.within(1 * _MIL)),
    Feature("tape-hook", "mm", "tape hook play", "caliper", 5.0, ToleranceLimits.within(1 / 64 * 25.4)),
    Feature("tape-start", "mm", "tape zero", "caliper", 5.0, ToleranceLimits.within(1 / 64 * 25.4)),
    Feature("rip-taper", "mm", "rip taper", "rip-parallel", 8.0, ToleranceLimits.within(5 * _MIL)),
    Feature("stock-thickness", "mm", "board thickness", "stock", 10.0),
    Feature("stock-even", "mm", "thickness variation", "stock", 10.0, ToleranceLimits(None, 4 * _MIL), spread=True),
    Feature("stock-edge", "rad", "edge crook at the end", "stock", 10.0, ToleranceLimits.within(5e-4)),
    Feature("stock-cup", "mm", "board cup", "stock", 10.0, ToleranceLimits.within(1 / 32 * 25.4)),
    Feature("stock-twist", "mm", "board twist", "stock", 10.0, ToleranceLimits.within(1 / 32 * 25.4)),
    Feature("stock-moisture", "%", "moisture content", "stock", 10.0),
    Feature(
        "dado-fit",
        "mm",
        "dado clearance",
        "dado",
        10.0,
        ToleranceLimits(2 * _MIL, 6 * _MIL),
        ("narrower", "wider"),
    ),
    Feature("dado-depth", "mm", "dado depth variation", "dado", 10.0, ToleranceLimits(None, 5 * _MIL), spread=True),
    Feature("box-square", "rad", "assembly squareness", "diagonals", 5.0, ToleranceLimits.within(1.5e-3)),
    Feature("support-margin", "mm", "tip margin", "support", 12.0, ToleranceLimits(50.8, None), safety=True),
)

FEATURES: dict[str, Feature] = {feature.name: feature for feature in _TABLE}
"""Every feature that the tool knows by itself; a check of a person's own may teach others."""


@lru_cache(maxsize=1024)
def named(full: str) -> Named:
    """The parts of a full name; a bare feature has no thing."""
    rest, _, angle = full.partition("@")
    thing, dot, feature = rest.rpartition(".")
    return Named(thing if dot else "", feature, angle)


def full_name(thing: str, feature: str, angle: str = "0") -> str:
    """`sled.detent-angle@45closed`: the angle is added only where the feature is another one at every angle.

    feature: bare, or with an angle of its own (`bevel@45`), which then is the one.
    """
    parts, known = named(feature), find_feature(feature)
    lead = f"{thing}.{parts.feature}" if thing else parts.feature
    if known is None or not known.angles:
        return lead
    at = "0" if known.angles == "square" else parts.angle or angle or "0"
    turned = turned_of(at)
    return f"{lead}@{turned.suffix if known.angles == 'swing' else turned.suffix.removesuffix(turned.swing)}"


@lru_cache(maxsize=1024)
def find_feature(full: str) -> Feature | None:
    """What is known of a feature by its full or bare name; None for one that only a person's own check teaches.

    Of a blade's tilt the stop at 90° is one row, and the one at 45° stands for every other tilt.
    """
    parts = named(full)
    if parts.feature == "bevel":
        return FEATURES["bevel@0" if parts.angle in ("", "0") else "bevel@45"]
    return FEATURES.get(parts.feature)


def bare_name(full: str) -> str:
    """The name of its row in the table, without the thing: `kerf`, `detent-angle`, `bevel@0`."""
    known = find_feature(full)
    return known.name if known is not None else named(full).feature


def feature_of(full: str) -> Feature:
    """The feature of that full or bare name; InputRefused names the nearest when there is none."""
    found = find_feature(full)
    if found is None:
        text = f"No feature is called {named(full).feature!r}. {nearest(named(full).feature, tuple(FEATURES))}"
        raise InputRefused.of("feature", full, text)
    return found


def said(full: str) -> str:
    """A feature in words: `detent angle (sled, 45° closed)`."""
    parts, known = named(full), find_feature(full)
    text = known.text if known is not None else parts.feature.replace("-", " ")
    if known is not None and known.angles == "tilt":
        at = "" if parts.angle in ("", "0", "45") else f"at {parts.angle}°"
    else:
        at = parts.turned.text if parts.angle not in ("", "0") else ""
    where = ", ".join(word for word in (parts.thing, at) if word)
    return f"{text} ({where})" if where else text
