"""What a saw holds, for tests: each error given, or none at all."""

from __future__ import annotations

import math

from trued.job.geometry.unmeasured_errors import TypeBError
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.instrument import Instrument
from trued.standing.cuts.cut_errors import CutErrors, Each

INCH = 25.4
DRAWN_ANEW: tuple[Each, ...] = ("setting", "stop-repeat", "swing", "rip-setting", "rip-repeat")
NOTHING = TypeBError(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def holds(
    *,
    offset: float = 0.0,
    offset_u: float = 0.0,
    slope_u: float = 0.0,
    setting: float = 0.0,
    repeat: float = 0.0,
    angle: float = 0.0,
    angle_u: float = 0.0,
    swing: float = 0.0,
    rip_u: float = 0.0,
    rip_setting: float = 0.0,
    rip_repeat: float = 0.0,
    step: float = 1e-6,
    assumed: tuple[str, ...] = (),
) -> CutErrors:
    """A capability whose every error is 0 but for those named, which are fully known; mm and rad."""
    return CutErrors(
        kerf=UncertainValue(2.4),
        stop_offset=UncertainValue.of(offset, ErrorSource("stop:offset", "stop scale", offset_u)),
        stop_slope=UncertainValue.of(0.0, ErrorSource("stop:slope", "stop scale", slope_u)),
        setting_u_mm=setting,
        stop_repeat_u_mm=repeat,
        fence_angle=UncertainValue.of(angle, ErrorSource("fence", "fence angle", angle_u)),
        swing_u_rad=swing,
        rip_offset=UncertainValue.of(0.0, ErrorSource("rip", "rip scale", rip_u)),
        rip_setting_u_mm=rip_setting,
        rip_repeat_u_mm=rip_repeat,
        scale_step_mm=step,
        rip_scale_step_mm=step,
        assumed=assumed,
        dofs=tuple((name, math.inf) for name in DRAWN_ANEW),
    )


def caliper(u_mm: float, *, reach: float | None = None) -> Instrument:
    """A caliper whose every reading is out by one common error of standard uncertainty `u_mm`, and by nothing else."""
    return Instrument("caliper-1", "caliper", 1e-9, u_mm * math.sqrt(3.0), EstimatedSd(0.0, 10), reach, True, "given")
