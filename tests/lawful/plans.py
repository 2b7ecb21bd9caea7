"""Plans as a script gets them, and the checker asked about them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from tests.lawful.checker import broken

from trued.usecases.plan.document import answer_of, document_of
from trued.usecases.plan.plan_job import plan_job

ROOT = Path(__file__).parents[2]
NOW = datetime(2026, 5, 4, 10, 0, tzinfo=UTC)
SHOP = (ROOT / "examples" / "shop.toml").read_text(encoding="utf-8")
RACK = (ROOT / "examples" / "rack.toml").read_text(encoding="utf-8")


def planned(job: str, shop: str | None, folder: Path, **more: Any) -> dict[str, Any]:
    """The JSON of a plan for the shop file of that text (or for the book in `more`)."""
    file = None
    if shop is not None:
        file = folder / "shop.toml"
        file.write_text(shop, encoding="utf-8")
    view = plan_job(job, shop=file, at=more.pop("at", NOW), effort=more.pop("effort", 200), **more)
    answer: dict[str, Any] = json.loads(json.dumps(answer_of(document_of(view))))
    return answer | {"not_good": view.not_good}


def faults(plan: dict[str, Any], shop: str | None, known: Mapping[str, str] | None = None, **more: Any) -> list[str]:
    """What the checker says."""
    return broken(plan, shop, known, **more)


def codes(plan: dict[str, Any]) -> set[str]:
    """The codes of its problems."""
    return {problem["code"] for problem in plan["problems"]}


def stations(plan: dict[str, Any]) -> list[str]:
    """Where its cuts are made."""
    return [ticket["station"] for ticket in plan["order"]]
