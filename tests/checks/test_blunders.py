"""The benchmark of blunders, small: docs/checks-shown.md has the figures of 5,000 runs of each kind."""

import re
from pathlib import Path

import numpy as np
import pytest
from benchmarks.blunders import NAMED, PARTS, kinds_of, planted, stopped
from benchmarks.planted import over_runs
from benchmarks.planted.kind import Kind, Planted, counted
from tests.checks.worlds import all_worlds

from trued.checks import check_ids
from trued.standing.filtered.gain_mixture import HYPOTHESES, SLIPPED
from trued.standing.filtered.observed_gain import BACKLASH, CLAMPED

ALL = [kind for part in PARTS if part != "over-runs" for kind in kinds_of(part)]
SEED = 20261125


@pytest.mark.parametrize("name", ["burned inch", "burr", "chip in the notch"])
def test_a_planted_blunder_is_named(name: str) -> None:
    kind = next(kind for kind in ALL if kind.name == name)
    count = counted(kind, 60, SEED)
    assert count.shown >= 30 and count.share >= NAMED


def test_a_clamp_that_moves_the_fence_is_named() -> None:
    kind = next(kind for kind in over_runs.kinds() if kind.name == "clamp moves the fence")
    count = counted(kind, 30, SEED)
    assert count.shown >= 5 and count.share >= 0.8


def test_honest_runs_are_seldom_stopped() -> None:
    count, _ = stopped(all_worlds()["five-cut"], 60, SEED)
    assert count <= 3


def test_what_cannot_be_seen_is_said_of_two_alone() -> None:
    never = [kind.name for kind in [*ALL, *over_runs.kinds()] if "cannot be seen" in kind.shows]
    assert never == ["ends swapped in a first run", "by hand: divided by five"]


def test_every_check_has_blunders_planted() -> None:
    assert {kind.where for kind in ALL} == set(check_ids())


TELLS = re.compile(r"^\| `([a-z-]+)` \| `(?:refuse|danger|doubt|note)`", re.MULTILINE)
NO_BLUNDERS = {  # they say what is, not what is wrong with the readings
    *("insert-catches", "knife-jams", "knife-lets-close", "knife-absent", "fence-toe-in"),
    *("flange-at-rim", "blade-change", "reading-rules", "parts-to-come", "metal-at-an-angle", "zero-at-angles"),
}


@pytest.mark.parametrize("check", check_ids())
def test_every_warning_of_a_check_is_planted(check: str) -> None:
    page = Path(__file__).parents[2] / "docs" / "checks" / f"{check}.md"
    made = {code for kind in ALL if kind.where == check for code in kind.names}
    assert set(TELLS.findall(page.read_text(encoding="utf-8"))) - NO_BLUNDERS <= made


def test_every_blunder_of_a_standing_is_planted() -> None:
    made = {code for kind in over_runs.kinds() for code in kind.names}
    assert {h.blunder for h in HYPOTHESES if h.blunder} | {SLIPPED, CLAMPED, BACKLASH} <= made


def test_a_count_tells_what_was_said_instead(capsys: pytest.CaptureFixture[str]) -> None:
    """Of runs that show it by turns: one named, one not."""
    story = iter([Planted(frozenset({"a"}), True), Planted(frozenset({"b"}), True), Planted(frozenset({"a"}), False)])
    kind = Kind("made up", "nowhere", frozenset({"a"}), "always", lambda _rng: next(story))
    count = counted(kind, 3, SEED)
    assert (count.runs, count.shown, count.named) == (3, 2, 1)
    assert count.share == 0.5 and count.instead == {"b": 1}
    planted([Kind("made up", "nowhere", frozenset({"a"}), "always", _never)], 2, SEED)
    told = capsys.readouterr().out
    assert "2 of 2 | 0 | 0.0% **below**" in told and "- made up: " in told


def _never(rng: np.random.Generator) -> Planted:
    return Planted(frozenset(), rng.random() < 2.0)


def test_every_file_of_kinds_is_a_part() -> None:
    files = (Path(__file__).parents[2] / "benchmarks" / "planted").glob("*.py")
    assert {path.stem.replace("_", "-") for path in files} - {"kind", "typed"} == set(PARTS)
