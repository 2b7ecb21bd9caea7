"""The rip scale from ripped strips: width = setting + offset + slope x setting, with what the line knows of it."""

from __future__ import annotations

import math

from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.measure.fitting.line import fit_line
from trued.measure.instrument import DEFAULTS
from trued.measure.sd_interval import sd_uncertainty
from trued.procedure.declaration import FeatureResult, Move, RunInput
from trued.procedure.quantities import MIL, inches, plain, size, station_mm
from trued.standing.declared import AddedUncertainty, Feature, per_quarter

OFFSET, SLOPE, SETTING = "rip-offset", "rip-slope", "rip-setting"
OFFSET_TOLERANCE = ToleranceLimits.within(inches(1 / 64))  # common practice: what a rip scale is read to
SLOPE_TOLERANCE = ToleranceLimits.within(1e-3)  # common practice: 0.001 in an inch
SCALE_FEATURES = (
    Feature(
        OFFSET,
        "mm",
        "rip scale offset",
        limits=OFFSET_TOLERANCE,
        sides=("rips wide", "rips narrow"),
        owner="saw",
        drift=per_quarter(4.0 * MIL),
        doubts=(AddedUncertainty("blade-realigned", 15 * MIL),),
        turn=300,
    ),
    Feature(
        SLOPE,
        "mm/mm",
        "rip scale slope",
        limits=SLOPE_TOLERANCE,
        sides=("wide rips too wide", "wide rips too narrow"),
        owner="saw",
        turn=290,
    ),
    Feature(SETTING, "mm", "rip setting repeatability", owner="saw", spread=True, turn=310),
)
START = EstimatedSd(inches(0.005), 4)  # mm: setting by the scale and ripping once, common practice


def points(taken: RunInput) -> list[tuple[float, float]]:
    """(setting, width - setting) of each ripped strip, mm."""
    return [(at, r.value - at) for r in taken.of("width") for at in (station_mm(r.station, taken.unit),)]


def scale_founds(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Offset, slope and how well the fence is set; nothing while no strip was ripped."""
    rows = points(taken)
    if not rows:
        return ()
    instrument = taken.of("width")[0].instrument or DEFAULTS["caliper"]
    start = EstimatedSd(math.hypot(START.s, instrument.repeat.s), START.dof)
    line = fit_line([x for x, _ in rows], [y for _, y in rows])
    known = start.learn([line.s] * line.dof)
    offset, slope = line.numbers("rip", "setting the fence, ripping and reading", known.s, known.dof)
    limit = instrument.sources("", instrument.kind, 0.0, instrument.repeat.dof)[1]
    return (
        FeatureResult(OFFSET, "mm", offset + UncertainValue(0.0, {limit: 1.0}), taken.tolerance(OFFSET)),
        FeatureResult(SLOPE, "mm/mm", slope, taken.tolerance(SLOPE)),
        FeatureResult(SETTING, "mm", sd_uncertainty("rip:setting", "few ripped strips", known), spread=known),
    )


def scale_moves(taken: RunInput, found: dict[str, FeatureResult]) -> tuple[Move, ...]:
    """The offset goes into the cursor, the slope into a table."""
    if OFFSET not in found:
        return ()
    offset, slope = found[OFFSET].value.value, found[SLOPE].value.value
    at, wide, unit = points(taken)[-1][0], offset > 0.0, taken.unit
    cursor = (
        f"Keep the fence at {plain(at, taken)} and move its cursor until it reads {plain(at + offset, taken)}. Rips "
        f"are {size(offset, unit)} {'wide' if wide else 'narrow'}. Or leave it and set {size(offset, unit)} "
        f"{'less' if wide else 'more'} than you want. Do one, not both."
    )
    settings = sorted({x for x, _ in points(taken)})
    table = ", ".join(f"{plain(x, taken)}: set {plain((x - offset) / (1.0 + slope), taken)}" for x in settings)
    tape = f"Set the rip fence by this table: {table}. The error grows with the width. No cursor position fixes that."
    return (
        Move(OFFSET, cursor, "cursor", "narrower" if wide else "wider", abs(offset)),
        Move(SLOPE, tape, "scale", "narrower" if slope > 0.0 else "wider", None),
    )
