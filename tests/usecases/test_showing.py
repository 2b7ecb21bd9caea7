"""How a found number is written."""

from __future__ import annotations

from trued.measure.decision import ToleranceLimits
from trued.usecases.showing import believed_said, found_said

BOTH = ToleranceLimits.within(2e-4)


def test_a_sign_is_told_in_words() -> None:
    """6.333e-4 rad is 0.0076 in/ft: the corner is tight above nought, open below it."""
    assert found_said(6.3333e-4, "rad", "in", BOTH, "fence-angle") == "+0.0076 in/ft (0.0363°), tight"
    assert found_said(-6.3333e-4, "rad", "in", BOTH, "fence-angle").endswith(", open")
    told = believed_said(6.3333e-4, 6e-5, "rad", "in", BOTH, "sled.fence-angle@0")
    assert told == "+0.0076 in/ft (0.0363°), tight; give or take 0.0007 in/ft"


def test_nought_has_no_way() -> None:
    assert found_said(1e-9, "rad", "in", BOTH, "fence-angle") == "+0.0000 in/ft (0.0000°)"
    assert believed_said(0.0254, 0.0254, "mm", "in", None, "kerf") == "0.0010 in, give or take 0.0010 in"
