"""Screws: travel by pitch."""

from fractions import Fraction

import pytest

from trued.measure.screw import nearest_turn, smallest_travel_mm, turns_of
from trued.units import read_thread


@pytest.mark.parametrize(
    ("thread", "quarter_mm"),
    [("1/4-20", 0.3175), ("M6x1", 0.25), ("M8", 0.3125), ("#10-24", 25.4 / 96), ("5/16-18", 25.4 / 72)],
)
def test_a_quarter_turn(thread: str, quarter_mm: float) -> None:
    """ISO 261 and ASME B1.1: M8 has a pitch of 1.25, 1/4-20 one of 1.27 mm."""
    assert turns_of(quarter_mm, read_thread(thread)) == pytest.approx(0.25)


def test_turns_worked_by_hand() -> None:
    """0.0054 in at 20 to the inch is 0.108 turn; a sixteenth of a turn is 0.0031 in; 0.0021 in is 1/24 turn."""
    pitch = read_thread("20/in")
    assert turns_of(0.0054 * 25.4, pitch) == pytest.approx(0.108)
    assert smallest_travel_mm(pitch) == pytest.approx(0.003125 * 25.4)
    assert turns_of(0.05 / 24 * 25.4, pitch) == pytest.approx(1 / 24)


def test_the_nearest_turn_of_a_hand() -> None:
    pitch = read_thread("20/in")
    assert nearest_turn(0.0054 * 25.4, pitch) == Fraction(1, 8)
    assert nearest_turn(0.0015 * 25.4, pitch) == 0
    assert nearest_turn(0.0033 * 25.4, pitch) == Fraction(1, 16)
    assert nearest_turn(-0.0054 * 25.4, pitch, finest=Fraction(1, 24)) == Fraction(-1, 8)
