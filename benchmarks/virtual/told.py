"""What came of one session at one virtual shop."""

from __future__ import annotations

from dataclasses import dataclass, field

TOLERANCE = 2e-4  # rad, 0.0024 in per foot
MOST_RUNS = 30


@dataclass(slots=True)
class Told:
    """Runs and moves until it was left, and the truth beside each.

    needless: moves made while no more than half the tolerance was wrong; worse: moves after which it was further out
    than before and above the tolerance. stated: the chance of being in that was told at the end (None: none was).
    proven: whether *proven in* was told. held: for each interval told, whether it held the truth. why: how it ended.
    """

    runs: int = 0
    moves: int = 0
    needless: int = 0
    worse: int = 0
    true_in: bool = False
    proven: bool = False
    stated: float | None = None
    why: str = ""
    held: list[bool] = field(default_factory=list)

    def turned(self, before: float, after: float) -> None:
        """Count a move."""
        self.moves += 1
        self.needless += abs(before) <= TOLERANCE / 2.0
        self.worse += abs(after) > max(abs(before), TOLERANCE)

    def ended(self, x: float, why: str) -> Told:
        """Count the end."""
        self.true_in = abs(x) <= TOLERANCE
        self.why = why
        return self
