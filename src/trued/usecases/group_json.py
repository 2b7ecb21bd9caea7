"""Cut groups as plain rows, so that a kept plan tells later which setting each part was cut at."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict

from trued.job.groups import CutGroup, CutGroups

Row = dict[str, str | int | float | None]


def rows_of(groups: CutGroups) -> list[Row]:
    """One row a copy."""
    return [{"part": part, "copy": copy, **asdict(groups[part, copy])} for part, copy in groups]


def groups_in(plan_json: str) -> CutGroups | None:
    """The groups kept with a plan; None in a plan that has none."""
    rows: Iterable[Mapping[str, object]] = json.loads(plan_json).get("groups") or ()
    found = {(str(row["part"]), int(str(row["copy"]))): _group(row) for row in rows}
    return CutGroups(found) if found else None


def _group(row: Mapping[str, object]) -> CutGroup:
    def number(name: str) -> float | None:
        value = row.get(name)
        return float(value) if isinstance(value, int | float) else None

    return CutGroup(
        length_setting=str(row["length_setting"]),
        width_setting=str(row["width_setting"]),
        station=str(row["station"]),
        stock=str(row["stock"]),
        width_station=str(row["width_station"]),
        length_reading_mm=number("length_reading_mm"),
        width_reading_mm=number("width_reading_mm"),
    )
