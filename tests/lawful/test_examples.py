"""The plans of the examples, of the jobs made for tests and of the demo hold no ticket that must not be cut."""

from pathlib import Path

import pytest
from tests.lawful.plans import ROOT, SHOP, faults, planned

JOBS = sorted((ROOT / "examples").glob("*.toml")) + sorted((ROOT / "tests" / "data" / "jobs").glob("*.toml"))
DEMO = ROOT / "src" / "trued" / "usecases" / "demo"


@pytest.mark.parametrize("job", [job for job in JOBS if job.name != "shop.toml"], ids=lambda job: job.stem)
def test_example_jobs_hold_the_hard_rules(job: Path, tmp_path: Path) -> None:
    """Before, 4 of the rack's 13 tickets and 10 of the drawers' 27 tipped as they stood, and no ticket ordered a blade
    height."""
    plan = planned(job.read_text(encoding="utf-8"), SHOP, tmp_path)
    assert faults(plan, SHOP) == []
    assert not plan["not_made"]
    assert not any("Do not make it as it stands" in str(ticket) for ticket in plan["order"])


def test_the_job_of_the_demo_holds_the_hard_rules(tmp_path: Path) -> None:
    shop = (DEMO / "demo_shop.toml").read_text(encoding="utf-8")
    plan = planned((DEMO / "demo_job.toml").read_text(encoding="utf-8"), shop, tmp_path)
    assert faults(plan, shop) == [] and not plan["not_made"] and plan["order"]
