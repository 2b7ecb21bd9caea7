"""What the saw holds: the errors of cuts made now. Checks lead to standings, standings to this, this to planning."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from trued.equipment.fixture import Fixture
from trued.equipment.scale_setting import Setting, SettingRounding, on_the_scale
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.cuts.feature_lookup import FeatureLookup, named_sources
from trued.standing.default_uncertainty import ASSUMED_DOF, SCALE_STEP_MM, TYPE_B, prior
from trued.standing.feature_status import FeatureStatus
from trued.standing.stop_history import SLOPE_KEY

Each = Literal["setting", "stop-repeat", "swing", "rip-setting", "rip-repeat"]
"""Errors that are drawn anew: at each setting of a stop or fence, or at each cut."""


@dataclass(frozen=True, slots=True)
class CutErrors:
    """Shared errors as uncertain values (they carry their own sources), errors drawn anew as standard uncertainties.

    true length = reading + stop_offset + stop_slope * reading, and these two may share sources.
    assumed: full names of the features that rest on common practice only, in this shop not yet seen.
    stale:   full names of those that something has made doubtful since they were found.
    dofs:    degrees of freedom of the errors drawn anew, by name.
    """

    kerf: UncertainValue
    stop_offset: UncertainValue
    stop_slope: UncertainValue
    setting_u_mm: float
    stop_repeat_u_mm: float
    fence_angle: UncertainValue
    swing_u_rad: float
    rip_offset: UncertainValue
    rip_setting_u_mm: float
    rip_repeat_u_mm: float
    scale_step_mm: float
    rip_scale_step_mm: float
    assumed: tuple[str, ...] = ()
    stale: tuple[str, ...] = ()
    dofs: tuple[tuple[Each, float], ...] = ()

    def __post_init__(self) -> None:
        sizes = (
            self.setting_u_mm,
            self.stop_repeat_u_mm,
            self.swing_u_rad,
            self.rip_setting_u_mm,
            self.rip_repeat_u_mm,
        )
        if not (min(sizes) >= 0.0 and min(self.scale_step_mm, self.rip_scale_step_mm) > 0.0 and self.kerf.value > 0.0):
            raise ValueError("standard uncertainties are 0 or more; kerf and scale steps are above 0")

    def length_at(self, reading_mm: float) -> UncertainValue:
        """The length of parts cut with the stop at a reading, without the errors that are drawn anew."""
        return self.stop_offset + self.stop_slope * reading_mm + reading_mm

    def setting_for(self, length_mm: float, rounding: SettingRounding = "nearest") -> Setting:
        """Where to set the stop for parts of that length: reading = (length - offset) / (1 + slope), on the scale.

        `rounding` is "down" where a part may never be longer (a one-sided limit), "up" where never shorter.
        """
        exact = (length_mm - self.stop_offset.value) / (1.0 + self.stop_slope.value)
        reading = on_the_scale(exact, self.scale_step_mm, rounding)
        return Setting(reading, self.length_at(reading).value - length_mm)

    def rip_setting_for(self, width_mm: float, rounding: SettingRounding = "nearest") -> Setting:
        """The same for the rip fence: width = reading + offset."""
        reading = on_the_scale(width_mm - self.rip_offset.value, self.rip_scale_step_mm, rounding)
        return Setting(reading, reading + self.rip_offset.value - width_mm)

    def source(self, name: Each, scope: str) -> ErrorSource:
        """The error source `name` of one setting or one cut: two cuts share it exactly when they share the `scope`."""
        sizes: dict[Each, float] = {
            "setting": self.setting_u_mm,
            "stop-repeat": self.stop_repeat_u_mm,
            "swing": self.swing_u_rad,
            "rip-setting": self.rip_setting_u_mm,
            "rip-repeat": self.rip_repeat_u_mm,
        }
        dof = dict(self.dofs).get(name, ASSUMED_DOF)
        return ErrorSource(f"{name}:{scope}", TYPE_B[name].label, sizes[name], dof, pool=name)


TAUGHT_BY: dict[str, tuple[str, str]] = {
    "kerf": ("kerf", "kerf"),
    "stop scale": ("stop-offset", "stop-scale"),
    "stop repeatability": ("stop-repeat", "stop-repeat"),
    "setting the stop": ("stop-setting", "stop-repeat"),
    "fence angle": ("fence-angle", "five-cut"),
    "bar swing": ("bar-play", "bar-play"),
    "rip scale": ("rip-offset", "rip-fence"),
    "rip setting repeatability": ("rip-setting", "rip-fence"),
    "rip width repeatability": ("rip-repeat", "rip-parallel"),
}
"""A budget's label -> the feature and the check that would sharpen it."""


def cut_errors(
    shop: Shop,
    standings: Sequence[FeatureStatus],
    *,
    fixture: str = "",
    angle: str = "0",
    kerf_mm: float | None = None,
) -> CutErrors:
    """What the saw holds with that fixture (else the shop's sled) at that angle, from what is believed now.

    A feature never found here rests on common practice and is listed in `assumed`; a stale one is used with its doubt
    and listed in `stale`. `kerf_mm` stands in for a blade that nobody has described; InputRefused without any.
    """
    sled = shop.fixture(fixture) if fixture else shop.sled
    look = FeatureLookup(standings, fixture or (sled.id if sled is not None else ""), angle)
    offset, slope = _scale(look)
    repeat, repeat_dof = _repeat(look, "stop-repeat")
    rip_repeat, rip_dof = _repeat(look, "rip-repeat", "saw")
    swing, swing_dof = _swing(look, sled)
    setting, setting_dof = _setting(look)
    rip_found = look.find("rip-setting", "saw")
    rip_setting = abs(rip_found.value) if rip_found is not None else look.assume("rip-setting", "rip-setting", "saw")
    step = sled.number("scale_step") if sled is not None else None
    return CutErrors(
        kerf=_kerf(look, shop, kerf_mm),
        stop_offset=offset,
        stop_slope=slope,
        setting_u_mm=setting,
        stop_repeat_u_mm=repeat,
        fence_angle=look.value("fence-angle"),
        swing_u_rad=swing,
        rip_offset=look.value("rip-offset", "saw"),
        rip_setting_u_mm=rip_setting,
        rip_repeat_u_mm=rip_repeat,
        scale_step_mm=step or SCALE_STEP_MM[shop.unit],
        rip_scale_step_mm=SCALE_STEP_MM[shop.unit],
        assumed=tuple(dict.fromkeys(look.assumed)),
        stale=tuple(dict.fromkeys(look.stale)),
        dofs=(("setting", setting_dof), ("stop-repeat", repeat_dof), ("rip-repeat", rip_dof), ("swing", swing_dof)),
    )


def assumed_capability(shop: Shop | None = None, *, kerf_mm: float | None = None) -> CutErrors:
    """What a saw of this kind holds by common practice, before anything was found."""
    return cut_errors(shop or Shop(), (), kerf_mm=kerf_mm)


def _scale(look: FeatureLookup) -> tuple[UncertainValue, UncertainValue]:
    """Offset and slope of the stop's scale, with the covariance that their runs gave them."""
    offset, slope = look.find("stop-offset"), look.find("stop-slope")
    if offset is not None and slope is None:
        slope = _tape(offset)
        look.assume("stop-slope", "stop-slope")
    if offset is not None and slope is not None:
        one, two = named_sources((offset, slope), TYPE_B["stop-offset"].label)
        return one, two
    values = [x if x is not None else prior(name) for name, x in (("stop-offset", offset), ("stop-slope", slope))]
    for name, x in (("stop-offset", offset), ("stop-slope", slope)):
        if x is None:
            look.assume(name, name)
    return values[0], values[1]


def _setting(look: FeatureLookup) -> tuple[float, float]:
    """How the stop is set anew; what was found of it holds common practice already."""
    found = look.find("stop-setting")
    return (look.assume("stop-setting", "setting"), ASSUMED_DOF) if found is None else (abs(found.value), found.dof)


def _tape(offset: UncertainValue) -> UncertainValue | None:
    """The slope that an offset found at one length leaves open: that of a tape, in both alike."""
    tilt = next((source for source in offset.parts if source.key.endswith(SLOPE_KEY)), None)
    return None if tilt is None else UncertainValue.of(0.0, tilt)


def _repeat(look: FeatureLookup, feature: str, thing: str = "") -> tuple[float, float]:
    found = look.find(feature, thing)
    if found is None:
        return look.assume(feature, feature, thing), ASSUMED_DOF
    if math.isinf(found.dof):
        return abs(found.value), found.dof
    known = EstimatedSd(TYPE_B[feature].u, ASSUMED_DOF).learn([abs(found.value)] * round(found.dof))
    return known.s, known.dof  # common practice counts so many readings, those of this shop are added


def _swing(look: FeatureLookup, sled: Fixture | None) -> tuple[float, float]:
    """Bar swing at each cut: play / engaged length either way, anywhere between: evenly spread."""
    swing = look.find("bar-swing")
    if swing is not None:
        return abs(swing.value) / math.sqrt(3.0), swing.dof
    play, bar = look.find("bar-play"), sled.number("bar") if sled is not None else None
    if play is not None and bar:
        return abs(play.value) / bar / math.sqrt(3.0), play.dof
    return look.assume("bar-swing", "swing"), ASSUMED_DOF


def _kerf(look: FeatureLookup, shop: Shop, given_mm: float | None) -> UncertainValue:
    found = look.find("kerf", shop.blade.id if shop.blade is not None else "blade") or look.find("kerf", "blade")
    if found is not None:
        return named_sources((found,), TYPE_B["kerf"].label)[0]
    marked = shop.blade.kerf_mm if shop.blade is not None else None
    kerf = given_mm or marked
    if kerf is None:
        raise InputRefused.of("kerf", "", "How wide the blade cuts is not known: describe the blade, or give --kerf.")
    look.assume("kerf", "kerf", "blade")
    return prior("kerf", kerf)
