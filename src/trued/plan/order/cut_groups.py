"""Which setting gave every part its length and its width: what the error budget needs to know of the order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trued.equipment.scale_setting import Setting
from trued.job.groups import CutGroup, CutGroups
from trued.plan.layout.cut_tree import Cut, Used
from trued.plan.order.order import Order, ScheduledCut
from trued.plan.order.sizing_cuts import SizingCut, makers


def groups_of(used: Sequence[Used], order: Order, readings: Mapping[int, Setting] | None = None) -> CutGroups:
    """Every copy with the settings, stations and readings of the cuts that made it.

    A size that no cut made (the stock was as long or as wide) has the setting "". A cut to a mark has one of its own.
    readings: what stop or fence is set to, by the number of the setting; None: not known.
    """
    done = {id(done.task.cut): done for done in order.cuts}
    read = readings or {}
    return CutGroups({(maker.part.want, maker.part.copy): _group(maker, done, read) for maker in makers(used)})


def _group(maker: SizingCut, made: Mapping[int, ScheduledCut], readings: Mapping[int, Setting]) -> CutGroup:
    length, width = _done(made, maker.length), _done(made, maker.width)
    return CutGroup(
        length_setting=setting_id(length),
        width_setting=setting_id(width),
        station=_station(length),
        stock=f"{maker.used.stock.id}/{maker.used.copy}",
        width_station=_station(width),
        length_reading_mm=_reading(length, readings),
        width_reading_mm=_reading(width, readings),
    )


def setting_id(done: ScheduledCut | None) -> str:
    """`S2` for a setting of stop or fence, `C7` for a cut that is made to a mark of its own, "" for no cut."""
    if done is None:
        return ""
    return f"S{done.setting}" if done.setting else f"C{done.index + 1}"


def _done(made: Mapping[int, ScheduledCut], cut: Cut | None) -> ScheduledCut | None:
    return None if cut is None else made.get(id(cut))


def _station(done: ScheduledCut | None) -> str:
    return "" if done is None else done.task.key[0].value


def _reading(done: ScheduledCut | None, readings: Mapping[int, Setting]) -> float | None:
    found = readings.get(done.setting) if done is not None else None
    return None if found is None else found.reading_mm
