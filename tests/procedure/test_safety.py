"""Safety items: what may be asked for, and where to aim."""

import pytest
from tests.checks.ran import taken

from trued.measure.decision import ToleranceLimits
from trued.procedure import take
from trued.procedure.safety import held, middle

KERF = "whole=24.000 keeper_piece=11.874 offcut_piece=12.001"


@pytest.mark.parametrize(
    ("asked", "allowed", "held_to"),
    [
        (ToleranceLimits(-1, 1), ToleranceLimits(0, 3), ToleranceLimits(0, 1)),
        (ToleranceLimits(-9, 9), ToleranceLimits(0, 3), ToleranceLimits(0, 3)),
        (ToleranceLimits(None, 2), ToleranceLimits(0, None), ToleranceLimits(0, 2)),
        (ToleranceLimits(4, 5), ToleranceLimits(0, 3), ToleranceLimits(0, 3)),
        (ToleranceLimits(None, 2), ToleranceLimits(None, 1), ToleranceLimits(None, 1)),
    ],
)
def test_a_tolerance_may_only_be_tightened(
    asked: ToleranceLimits, allowed: ToleranceLimits, held_to: ToleranceLimits
) -> None:
    run = taken("kerf", KERF)
    assert held(take(run.check, KERF.split(), limits={"x": asked}), "x", allowed) == held_to
    assert held(run, "x", allowed) == allowed


def test_the_middle() -> None:
    assert middle(ToleranceLimits(-4, 0)) == -2.0
    with pytest.raises(ValueError, match="both sides"):
        middle(ToleranceLimits(0, None))
