"""The demo's proof against its hidden truth, in a handful of workshops; many more: `tasks.py bench demo`."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trued.errors import InputRefused
from trued.usecases.demo.demo import Demo, demo_book
from trued.usecases.demo.demo_fits import sure_words
from trued.usecases.demo.demo_truth import Truth
from trued.usecases.saved.inspect_parts import ProofView
from trued.usecases.standing.standing import what_stands


@pytest.mark.parametrize("seed", [3, 29])
def test_the_proof_agrees_with_the_truth(tmp_path: Path, seed: int) -> None:
    """Nothing that was called sure is wrong, and the fence lies where the tool believes it, within four times u."""
    demo = Demo(tmp_path / "demo", seed, datetime(2026, 5, 4, 8, tzinfo=UTC))
    titles = [step.title for step in demo.steps()]
    outcome = demo.outcome
    assert outcome is not None and outcome.fence_said is not None
    assert titles[0] == "The workshop" and titles[-1] == "What was learnt"
    assert outcome.sure >= 5 and outcome.wrong == ()
    x = outcome.fence_said.x
    assert abs(outcome.fence_rad - x.value) < 4.0 * x.u < 8e-4
    assert all(0.0 <= told <= 1.0 for _, _, _, told in outcome.fits)


def test_the_judge_finds_what_is_not_so(tmp_path: Path) -> None:
    """Parts that were really a fifth of an inch longer than they were measured: each sure word of a size is wrong."""
    demo = Demo(tmp_path / "demo", 5, datetime(2026, 5, 4, 8, tzinfo=UTC))
    results = [step.result for step in demo.steps()]
    proof = next(result for result in results if isinstance(result, ProofView)).proof
    named = [verdict.name.removesuffix(".length") for verdict in proof.sizes]
    really = {name: verdict.found.value + 5.0 for name, verdict in zip(named, proof.sizes, strict=True)}
    judged = list(sure_words(proof, really, {fit.name: True for fit in proof.fits}))
    sizes = [right for name, right in judged if name.endswith(".length") and " - " not in name]
    assert len(sizes) >= 5 and not any(sizes)
    assert all(right for name, right in judged if " - " in name)  # longer, but still alike


def test_the_truth_is_drawn_from_the_seed() -> None:
    one, same, other = Truth.drawn(5), Truth.drawn(5), Truth.drawn(6)
    assert (one.fence_rad, one.strip()) == (same.fence_rad, same.strip())
    assert one.fence_rad != other.fence_rad


def test_a_strip_shows_four_times_the_corner() -> None:
    """The truth cuts by itself: taper = 4 × angle × length, within what its caliper and seating scatter."""
    truth = Truth.drawn(7)
    tapers = []
    for _ in range(400):
        read = dict(word.split("=") for word in truth.strip() if not word.startswith(("middle", "length")))
        tapers.append(float(read["free_end"]) - float(read["fence_end"]))
    assert sum(tapers) / 400 == pytest.approx(4.0 * truth.fence_rad * 12.0, abs=3e-4)


def test_its_book_is_of_today_and_the_same_seed_is_the_same_workshop(tmp_path: Path) -> None:
    view = what_stands(demo_book(tmp_path / "one"))
    again = what_stands(demo_book(tmp_path / "two"))
    assert [line.standing.x.value for line in view.lines] == [line.standing.x.value for line in again.lines]
    fence = next(line.standing for line in view.lines if line.standing.feature == "sled.fence-angle@0")
    assert timedelta(0) < view.now - fence.since < timedelta(hours=9)
    assert fence.decision == "proven-in"


def test_a_folder_that_is_not_its_own(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").touch()
    with pytest.raises(InputRefused, match="left alone"):
        Demo(tmp_path)
