"""All simulated runs by check: every `simulated*.py` beside this file holds its own `WORLDS`."""

from __future__ import annotations

import importlib
from pathlib import Path

from tests.checks.ran import World


def all_worlds() -> dict[str, World]:
    found: dict[str, World] = {}
    for path in sorted(Path(__file__).parent.glob("simulated*.py")):
        more = importlib.import_module(f"tests.checks.{path.stem}").WORLDS
        assert not set(found) & set(more), f"{path.name} simulates a check that another file has"
        found |= more
    return found
