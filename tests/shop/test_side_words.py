"""What a sign means, in words: the same way as the check that finds it says, and never a way that it has not."""

from __future__ import annotations

import pytest

from trued.shop.feature import FEATURES
from trued.shop.side_words import side_said


@pytest.mark.parametrize(
    ("feature", "above", "below"),
    [  # each from the page of its check, docs/checks: "Positive = ..."
        ("sled.fence-angle@0", "the corner is tight", "the corner is open"),
        ("saw.blade-parallel", "its far end leans away from the slot", "its far end leans toward the slot"),
        ("saw.tilt-90", "its top leans toward the keeper", "its top leans away from the keeper"),
        ("saw.tilt-45", "tilted too far over", "too upright"),
        ("saw.rip-pinch", "they open toward the far end", "they close toward the far end"),
        ("sled.stop-offset@0", "parts come out long", "parts come out short"),
        ("sled.fence-upright", "its top leans away from the work", "its top leans over the work"),
        ("wing.wing-step", "it lies below the table", "it stands above the table"),
    ],
)
def test_each_side_has_its_words(feature: str, above: str, below: str) -> None:
    assert (side_said(feature, 1e-4), side_said(feature, -1e-4)) == (above, below)
    assert side_said(feature, 0.0) == ""


def test_whatever_has_two_ways_to_be_out_says_which() -> None:
    """All but the two sides of a detent, an order of engaging and no place, and what is typed without a sign."""
    for feature in FEATURES.values():
        limits = feature.limits
        if feature.name in ("detent-backlash", "stock-cup", "stock-twist"):
            continue
        if limits is None or limits.low is None or limits.low >= 0.0:
            continue
        assert side_said(feature.name, 1.0) and side_said(feature.name, -1.0), feature.name


def test_a_number_that_has_one_way_only_says_nothing() -> None:
    for name in ("kerf", "bar-play", "stop-repeat", "wobble", "table-flat"):
        assert side_said(name, 0.01) == ""
