"""Feelers: the pack that just drags, read with a scatter of its own; below the thinnest there is nothing to read.

Nothing of the product is used here.
"""

from __future__ import annotations

import numpy as np
from tests.worlds.measuring import Shown

THINNEST = 0.0015 * 25.4


def feelers(rng: np.random.Generator) -> Shown:
    return Shown.drawn(rng, 0.0005 * 25.4, 0.005, 0.013)


def feel(pack: Shown, true_mm: float) -> str:
    """What is typed for a gap: `0.12mm`, or 0 when not even the thinnest goes in."""
    shown = pack.read(true_mm)
    return shown if float(shown.removesuffix("mm")) >= THINNEST - 1e-6 else "0"
