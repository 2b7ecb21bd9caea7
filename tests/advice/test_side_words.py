"""What a sign means, in words: the same way as the check that finds it says, and never a way that it has not."""

from __future__ import annotations

import pytest

from trued.advice.side_words import out_said, side_said
from trued.measure.decision import Side, ToleranceLimits
from trued.standing.feature import features


@pytest.mark.parametrize(
    ("feature", "above", "below"),
    [  # each from the page of its check, docs/checks: "Positive = ..."
        ("sled.fence-angle@0", "tight", "open"),
        ("saw.blade-parallel", "back of the blade away from the slot", "back of the blade toward the slot"),
        ("saw.bevel@0", "leans toward the keeper", "leans away from the keeper"),
        ("saw.bevel@45", "past 45°", "short of 45°"),
        ("saw.rip-fence-angle", "opens to the back", "pinches at the back"),
        ("sled.stop-offset@0", "parts long", "parts short"),
        ("sled.fence-upright", "top leans away from the work", "top leans over the work"),
        ("wing.wing-step", "low", "proud"),
    ],
)
def test_each_side_has_its_words(feature: str, above: str, below: str) -> None:
    assert (side_said(feature, 1e-4), side_said(feature, -1e-4)) == (above, below)
    assert side_said(feature, 0.0) == ""


def test_whatever_has_two_ways_to_be_out_says_which() -> None:
    """All but the two sides of a detent, an order of engaging and no place, and what is typed without a sign."""
    for feature in features().values():
        limits = feature.limits
        if feature.name in ("detent-backlash", "stock-cup", "stock-twist"):
            continue
        if limits is None or limits.low is None or limits.low >= 0.0:
            continue
        assert side_said(feature.name, 1.0) and side_said(feature.name, -1.0), feature.name


def test_a_number_that_has_one_way_only_says_nothing() -> None:
    for name in ("kerf", "bar-play", "stop-repeat", "wobble", "table-flat"):
        assert side_said(name, 0.01) == ""


def test_what_is_out_says_on_which_side_of_its_limits() -> None:
    """The words of the sign where the limit lies on that side of nought, else more or less than is allowed."""
    assert out_said("sled.fence-angle@0", Side.ABOVE, ToleranceLimits.within(2e-4)) == "tight"
    assert (
        out_said("saw.blade-parallel", Side.ABOVE, ToleranceLimits(-1e-3, 0.0))
        == "back of the blade away from the slot"
    )
    assert out_said("saw.knife", Side.BELOW, ToleranceLimits(0.0, None)) == "outside the kerf"
    assert out_said("saw.knife-gap", Side.BELOW, ToleranceLimits(3.0, 8.0)) == "less than is allowed"
    assert (
        out_said("stock.dado-fit", Side.BELOW, ToleranceLimits(0.05, 0.15)) == "less than is allowed"
    )  # it may still have room
    assert out_said("stock.dado-fit", Side.ABOVE, ToleranceLimits(0.05, 0.15)) == "loose"
    assert out_said("sled.bar-play", Side.ABOVE, None) == "more than is allowed"
