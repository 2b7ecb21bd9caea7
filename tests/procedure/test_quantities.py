"""Amounts in the person's unit."""

import pytest

from trued.procedure.gross_errors import burned
from trued.procedure.quantities import inches, size, slope, station_mm, turns


def test_lengths() -> None:
    assert size(0.13716, "in") == "0.0054 in" and size(-0.13716, "mm") == "0.14 mm"
    assert size(254.0, "in", 2) == "10.00 in" and size(254.0, "mm", 2) == "254 mm"
    assert (
        inches(0.5) == 12.7 and station_mm("13 1/2", "in") == pytest.approx(342.9) and station_mm("150", "mm") == 150.0
    )


def test_slopes_and_turns() -> None:
    """0.0003 rad is 0.0036 in in a foot and 0.09 mm in 300 mm; 0.0054 in of 20 to the inch is 0.108 turn, 39°."""
    assert slope(-0.0003, "in") == "0.0036 in/ft" and slope(0.0003, "mm") == "0.09 mm per 300 mm"
    assert turns(0.0054 * 25.4, 1.27) == "about 1/8 of a turn (39°)"
    assert turns(0.3175, 1.27) == "about 1/4 of a turn (90°)"  # a quarter turn of 1/4-20 is 0.3175 mm
    assert turns(1.5 * 1.27, 1.27) == "about 1 1/2 turns (540°)"
    assert turns(0.02, 1.27) == "less than a hand can turn"


@pytest.mark.parametrize(
    ("off", "words"), [(25.4, "1 in"), (-25.9, "1 in"), (10.1, "10 mm"), (-99.5, "100 mm"), (24.0, ""), (0.1, "")]
)
def test_burned(off: float, words: str) -> None:
    assert burned(off, "mm") == words


def test_in_an_inch_book_a_metric_line_is_told_in_inches_too() -> None:
    """10 / 25.4 is 0.394, 100 / 25.4 is 3.937."""
    assert burned(10.1, "in") == "0.394 in (10 mm)" and burned(99.5, "in") == "3.937 in (100 mm)"
    assert burned(25.4, "in") == "1 in" and burned(0.1, "in") == ""
