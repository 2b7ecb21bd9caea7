"""Rows of an invented history, made short for the tests."""

from datetime import UTC, datetime, timedelta

from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import ErrorSource, UncertainValue, linear
from trued.standing.history.history import Adjustment, Result, ShopEvent

START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
FENCE = "sled.fence-angle@0"
OFFSET, SLOPE = "sled.stop-offset@0", "sled.stop-slope@0"
RUN_S, RUN_DOF, READ_U = 5e-5, 4.0, 3e-5


def hour(n: float) -> datetime:
    return START + timedelta(hours=n)


def five_cut(n: float, x: float, run: str = "", supersedes: str = "", s: float = RUN_S, dof: float = RUN_DOF) -> Result:
    own = ErrorSource("reading:free_end@", "caliper: repeat of a reading", READ_U, 10)
    value = UncertainValue.of(x, ErrorSource("run:five-cut", "seating of the cuts", s, dof), own)
    return Result(
        hour(n), FENCE, "rad", value, "five-cut", run or f"run-{n:g}", ToleranceLimits.within(2e-4), supersedes
    )


def moved(n: float, amount: float, direction: str = "open", feature: str = FENCE) -> Adjustment:
    return Adjustment(hour(n), feature, amount, direction, "", f"move-{n:g}")


def happened(n: float, kind: str, subject: str = "") -> ShopEvent:
    return ShopEvent(hour(n), kind, subject, f"event-{n:g}")


def stop_scale(n: float, offset: float, slope: float, u: float = 0.02, mean_mm: float = 355.6) -> tuple[Result, Result]:
    """Offset and slope as a line through points about `mean_mm` gives them: correlated by two sources."""
    height = ErrorSource("stop-scale:height", "setting the stop", u, 3, pool="stop-scale")
    tilt = ErrorSource("stop-scale:slope", "setting the stop", u / 325.0, 3, pool="stop-scale")
    limit = ErrorSource("limit:caliper-1", "caliper: limit of error", 0.0147)
    one = linear(
        offset,
        (1.0, UncertainValue.of(0.0, height)),
        (-mean_mm, UncertainValue.of(0.0, tilt)),
        (1.0, UncertainValue.of(0.0, limit)),
    )
    two = UncertainValue.of(slope, tilt)
    run = f"scale-{n:g}"
    return (
        Result(hour(n), OFFSET, "mm", one, "stop-scale", run, ToleranceLimits.within(0.127)),
        Result(hour(n), SLOPE, "mm/mm", two, "stop-scale", run, ToleranceLimits.within(3e-4)),
    )


def kerf(n: float, x: float = 2.44, thing: str = "blade") -> Result:
    value = UncertainValue.of(x, ErrorSource("reading:whole@", "caliper: repeat of a reading", 0.03, 10))
    return Result(hour(n), f"{thing}.kerf", "mm", value, "kerf", f"kerf-{n:g}")
