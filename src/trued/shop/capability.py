"""What the saw holds: the errors of cuts made now. Checks lead to standings, standings to this, this to planning."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from trued.measure.estimate import Source, Uncertain
from trued.shop.setting import Setting, SettingRounding, on_the_scale

Each = Literal["setting", "stop-repeat", "swing", "rip-setting", "rip-repeat"]
"""Errors that are drawn anew: at each setting of a stop or fence, or at each cut."""


@dataclass(frozen=True, slots=True)
class Capability:
    """Shared errors as uncertain values (they carry their own sources), errors drawn anew as standard uncertainties.

    true length = reading + stop_offset + stop_slope * reading, and these two may share sources.
    assumed: full names of the features that rest on common practice only, in this shop not yet seen.
    stale:   full names of those that something has made doubtful since they were found.
    dofs:    degrees of freedom of the errors drawn anew, by name.
    """

    kerf: Uncertain
    stop_offset: Uncertain
    stop_slope: Uncertain
    setting_u_mm: float
    stop_repeat_u_mm: float
    fence_angle: Uncertain
    swing_u_rad: float
    rip_offset: Uncertain
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

    def length_at(self, reading_mm: float) -> Uncertain:
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

    def source(self, name: Each, scope: str) -> Source:
        """The error source `name` of one setting or one cut: two cuts share it exactly when they share the `scope`."""
        sizes: dict[Each, float] = {
            "setting": self.setting_u_mm,
            "stop-repeat": self.stop_repeat_u_mm,
            "swing": self.swing_u_rad,
            "rip-setting": self.rip_setting_u_mm,
            "rip-repeat": self.rip_repeat_u_mm,
        }
        dof = dict(self.dofs).get(name, float("inf"))
        return Source(f"{name}:{scope}", LABELS[name], sizes[name], dof, pool=name)


LABELS: dict[str, str] = {
    "kerf": "kerf",
    "stop-offset": "stop scale",
    "stop-slope": "stop scale",
    "setting": "setting the stop",
    "stop-repeat": "repeat of the stop",
    "fence-angle": "fence angle",
    "swing": "swing of the bar",
    "rip-offset": "rip scale",
    "rip-setting": "setting the rip fence",
    "rip-repeat": "repeat of a rip width",
}
"""What a budget calls each source; `TAUGHT_BY` leads back from there."""

TAUGHT_BY: dict[str, tuple[str, str]] = {
    "kerf": ("kerf", "kerf"),
    "stop scale": ("stop-offset", "stop-scale"),
    "repeat of the stop": ("stop-repeat", "stop-repeat"),
    "fence angle": ("fence-angle", "five-cut"),
    "swing of the bar": ("bar-play", "bar-play"),
    "rip scale": ("rip-offset", "rip-fence"),
    "setting the rip fence": ("rip-setting", "rip-fence"),
    "repeat of a rip width": ("rip-repeat", "rip-parallel"),
}
"""A budget's label -> the feature and the check that would sharpen it; setting the stop by eye has none."""
