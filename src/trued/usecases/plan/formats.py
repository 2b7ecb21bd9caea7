"""The text of a kept plan: read in the format of today or not at all, so that nothing in it is ever guessed."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from trued.codec import BadText, from_plain, to_json
from trued.errors import BookRefused
from trued.job.groups import CutGroup, CutGroups
from trued.plan.document import FORMAT, PlanDocument

OLDER = "Planned by an older version of trued: its numbers are not shown any more. Plan the job again before you cut."
NEWER = "Planned by a newer version of trued: its numbers cannot be shown here. Open it with that one, or plan again."


@dataclass(frozen=True, slots=True)
class OtherFormat:
    """A plan of another format. said: what to tell of it. cuts: how many it has."""

    said: str
    cuts: int


def written(plan: PlanDocument) -> str:
    """The text that is kept."""
    return to_json(plan)


@lru_cache(256)
def read_plan(text: str) -> PlanDocument | OtherFormat:
    """The plan of a kept text. BookRefused: it is of this format, and something in it is missing, unknown or wrong."""
    try:
        plain = json.loads(text)
        kept_in = plain.get("format", 1)
        if kept_in != FORMAT:
            return OtherFormat(OLDER if kept_in < FORMAT else NEWER, len(plain["order"]))
        return from_plain(PlanDocument, plain)
    except (BadText, ValueError, TypeError, AttributeError, KeyError) as error:
        raise BookRefused.of("plan", "", f"This plan cannot be read ({error}). Plan the job again.") from None


def groups_in(text: str) -> CutGroups | None:
    """Which setting each copy was cut at; None where that is not kept in a form that is known."""
    plan = read_plan(text)
    if isinstance(plan, PlanDocument):
        found = {(one.part, one.copy): one.group for one in plan.groups}
    else:
        found = _groups_of_format_1(json.loads(text).get("groups"))
    return CutGroups(found) if found else None


def _groups_of_format_1(rows: Any) -> dict[tuple[str, int], CutGroup]:
    """In the first format the fields of the group stood beside its part and copy: the same, one level up."""
    try:
        return {
            (row["part"], row["copy"]): from_plain(
                CutGroup, {key: value for key, value in row.items() if key not in ("part", "copy")}
            )
            for row in rows or ()
        }
    except (BadText, KeyError, TypeError, AttributeError):
        return {}
