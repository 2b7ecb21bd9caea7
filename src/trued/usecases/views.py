"""The values that use cases hand to the surfaces, by one name each, so that a surface knocks at one door only."""

from __future__ import annotations

from trued.form import Check, Estimate, Finding, Move, Reading, Seen
from trued.job.proof import Verdict
from trued.shapes import Drawing
from trued.shop.standing import Standing

__all__ = ["Check", "Drawing", "Estimate", "Finding", "Move", "Reading", "Seen", "Standing", "Verdict"]
