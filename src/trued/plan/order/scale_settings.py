"""What stop and fence are set to, setting by setting: corrected by what the saw holds, rounded to the scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trued.equipment.scale_setting import Setting, SettingRounding
from trued.job.expression.tree import Side
from trued.plan.layout.cut_tree import Used
from trued.plan.layout.pieces import to_mm
from trued.plan.order.order import Order
from trued.plan.order.sizing_cuts import makers
from trued.plan.stations.station import Station
from trued.standing.cuts.cut_errors import CutErrors

Roundings = Mapping[tuple[str, Side], SettingRounding]
"""Part and side to the way in which a setting that gives it may be rounded; one that is not named may go either way."""


def settings_of(
    used: Sequence[Used], order: Order, capability: CutErrors, roundings: Roundings | None = None
) -> dict[int, Setting]:
    """Number of the setting -> where to set it.

    All cuts at one setting share the reading. Parts that may not be over and parts that may not be under at one
    setting stand against each other: then the nearest division is taken.
    """
    ways = _ways(used, order, roundings or {})
    readings: dict[int, Setting] = {}
    for done in order.cuts:
        station, size = done.task.key
        if done.setting and size is not None and done.setting not in readings:
            choose = capability.setting_for if station is Station.SLED else capability.rip_setting_for
            wanted = ways.get(done.setting, set())
            readings[done.setting] = choose(to_mm(size), next(iter(wanted)) if len(wanted) == 1 else "nearest")
    return readings


def _ways(used: Sequence[Used], order: Order, roundings: Roundings) -> dict[int, set[SettingRounding]]:
    setting = {id(done.task.cut): done.setting for done in order.cuts}
    ways: dict[int, set[SettingRounding]] = {}
    for maker in makers(used):
        for side in (Side.LENGTH, Side.WIDTH):
            cut, way = maker.cut(side), roundings.get((maker.part.want, side))
            if cut is not None and way is not None and id(cut) in setting:
                ways.setdefault(setting[id(cut)], set()).add(way)
    return ways
