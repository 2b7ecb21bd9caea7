"""`import trued` gives about twenty names, loads none of them before it is used, and does a small job."""

from __future__ import annotations

import subprocess
import sys

import pytest

import trued


@pytest.mark.parametrize("name", trued.__all__)
def test_every_name_is_there(name: str) -> None:
    assert getattr(trued, name).__name__ == name and name in dir(trued)


def test_no_other_name() -> None:
    with pytest.raises(AttributeError, match="colour"):
        trued.colour  # noqa: B018 - asking is the test


def test_import_loads_no_room() -> None:
    code = "import sys, trued; print([m for m in sys.modules if m.startswith('trued.')])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


def test_a_check_through_the_library() -> None:
    """The contract of the command line, once more from Python: 0.038 in of taper over 4 x 9.5 in is 1 mrad."""
    run = trued.run_check("five-cut", ["fence_end=0.500", "free_end=0.538", "length=9.5"], {"fence": "far"})
    assert run.finding.estimates[0].value == pytest.approx(0.001, rel=0.01)
    assert run.finding.moves[0].direction == "open"
    assert trued.show_length(trued.read_length('25-3/16"').exact_mm, "in") == "25 3/16"
