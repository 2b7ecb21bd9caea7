"""Safety items: what may be asked for, and where to aim."""

import pytest
from tests.checks.ran import taken

from trued.measure.decision import Limits
from trued.procedure import take
from trued.procedure.safety import held, middle

KERF = "whole=24.000 keeper_piece=11.874 offcut_piece=12.001"


@pytest.mark.parametrize(
    ("asked", "allowed", "held_to"),
    [
        (Limits(-1, 1), Limits(0, 3), Limits(0, 1)),
        (Limits(-9, 9), Limits(0, 3), Limits(0, 3)),
        (Limits(None, 2), Limits(0, None), Limits(0, 2)),
        (Limits(4, 5), Limits(0, 3), Limits(0, 3)),
        (Limits(None, 2), Limits(None, 1), Limits(None, 1)),
    ],
)
def test_a_tolerance_may_only_be_tightened(asked: Limits, allowed: Limits, held_to: Limits) -> None:
    run = taken("kerf", KERF)
    assert held(take(run.check, KERF.split(), limits={"x": asked}), "x", allowed) == held_to
    assert held(run, "x", allowed) == allowed


def test_the_middle() -> None:
    assert middle(Limits(-4, 0)) == -2.0
    with pytest.raises(ValueError, match="both sides"):
        middle(Limits(0, None))
