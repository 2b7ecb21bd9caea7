"""Features: names, directions, and the nearest known one for a slip."""

import pytest

from trued.errors import InputRefused
from trued.shop.feature import FEATURES, Named, feature_of, find_feature, full_name, named, said


def test_names_come_apart_and_together() -> None:
    assert named("sled.fence-angle@45") == Named("sled", "fence-angle", "45")
    assert named("kerf") == Named("", "kerf", "")
    assert full_name("", "fence-angle") == "fence-angle@0"
    assert full_name("", "own-thing") == "own-thing"


def test_the_two_ways_of_each_feature() -> None:
    """A positive move lowers the value: a tight corner is opened, a stop whose parts come out long goes shorter."""
    assert feature_of("sled.fence-angle@0").directions == ("open", "close")
    assert feature_of("stop-offset").directions == ("shorter", "longer")
    assert all(feature.directions for feature in FEATURES.values() if feature.adjustable)


def test_an_unknown_feature_is_refused_with_the_nearest() -> None:
    assert find_feature("sled.fence-angel") is None
    with pytest.raises(InputRefused, match="Did you mean fence-angle"):
        feature_of("sled.fence-angel@0")


def test_said() -> None:
    assert said("sled.fence-angle@45") == "angle of the fence (sled, at 45°)"
    assert said("blade.kerf") == "kerf (blade)"
    assert said("own-thing") == "own thing"


def test_safety_is_marked() -> None:
    assert {name for name, feature in FEATURES.items() if feature.safety} == {
        "blade-parallel", "knife", "knife-over-plate", "knife-under-kerf", "knife-gap", "knife-height",
        "insert", "insert-far", "insert-rock", "rip-toe", "rip-pinch",
    }  # fmt: skip
