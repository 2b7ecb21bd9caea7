"""The chance means what it says: the benchmark of chances, small. Every shop is another one, with one job, one fit."""

import math

import pytest
from benchmarks import chance

SHOPS = 100


@pytest.mark.parametrize("nature", ["stated", "changed"])
def test_stated_is_seen(nature: str) -> None:
    """The mean of what came lies within the 99.9 % band of what was stated, and the chances tell more than the base."""
    told = [chance.shop(number, 20261125, nature) for number in range(SHOPS)]
    stated, held = [one.stated for one in told], [float(one.held) for one in told]
    band = 3.29 * math.sqrt(sum(p * (1.0 - p) for p in stated)) / SHOPS
    seen, slack = sum(held) / SHOPS, 0.0 if nature == "stated" else 0.06
    assert abs(seen - sum(stated) / SHOPS) <= band + slack
    assert sum((p - x) ** 2 for p, x in zip(stated, held, strict=True)) / SHOPS < 0.75 * seen * (1.0 - seen)
    assert min(stated) < 0.1 and max(stated) > 0.9, "chances of all sizes"


def test_the_picture_has_a_mark_for_every_tenth() -> None:
    told = [chance.Told("x", 0.05 + 0.1 * (i % 10), i % 10 > 4) for i in range(100)]
    found = chance.bins(told)
    assert [one.fits for one in found] == [10] * 10
    assert [one.seen for one in found] == [0.0] * 5 + [1.0] * 5 and all(one.inside for one in found)
    drawn = chance.picture(found, "Chances")
    assert drawn.count("<polygon") == 10 and "prefers-color-scheme" in drawn
    off = chance.bins([chance.Told("x", 0.05, held=True)] * 100)
    assert not off[0].inside and not off[5].inside and "OUT" in off[0].line()
