"""Features: names, directions, and the nearest known one for a slip."""

from datetime import UTC, datetime

import pytest

from trued.advice.statuses import standings
from trued.errors import InputRefused
from trued.measure.estimate import UncertainValue
from trued.standing.feature import Named, feature_of, features, find_feature, full_name, named, said
from trued.standing.history.history import History, Result
from trued.standing.owner import owner_of


def test_names_come_apart_and_together() -> None:
    assert named("sled.fence-angle@45") == Named("sled", "fence-angle", "45")
    assert named("kerf") == Named("", "kerf", "")
    assert full_name("", "fence-angle") == "fence-angle@0"
    assert full_name("saw", "bevel@45") == "saw.bevel@45" and full_name("saw", "bevel@0", "45closed") == "saw.bevel@0"
    assert full_name("sled", "stop-offset", "45.0closed") == "sled.stop-offset@45closed"
    assert full_name("sled", "detent-angle", "?") == "sled.detent-angle@?"
    assert full_name("sled", "fence-angle", "45closed") == "sled.fence-angle@0"
    assert full_name("", "own-thing") == "own-thing"


def test_the_two_ways_of_each_feature() -> None:
    """A positive move lowers the value: a tight corner is opened, a stop whose parts come out long goes shorter."""
    assert feature_of("sled.fence-angle@0").directions == ("open", "close")
    assert feature_of("stop-offset").directions == ("shorter", "longer")
    assert all(feature.directions for feature in features().values() if feature.adjustable)


def test_an_unknown_feature_is_refused_with_the_nearest() -> None:
    assert find_feature("sled.fence-angel") is None
    with pytest.raises(InputRefused, match="Did you mean fence-angle"):
        feature_of("sled.fence-angel@0")


def test_said() -> None:
    assert said("sled.fence-angle@0") == "fence angle (sled)"
    assert said("sled.detent-angle@45closed") == "detent angle (sled, 45° closed)"
    assert said("sled.detent-angle@?") == "detent angle (sled, angle not told)"
    assert said("saw.bevel@45") == "45° bevel stop (saw)" and said("saw.bevel@0") == "90° bevel stop (saw)"
    assert said("blade.kerf") == "kerf (blade)"
    assert said("own-thing") == "own thing"


def test_every_tilt_is_one_feature_with_the_words_of_its_stop() -> None:
    assert feature_of("saw.bevel@0").check == "tilt-90" and feature_of("saw.bevel@45").check == "tilt-45"
    assert feature_of("saw.bevel@30").directions == ("upright", "over")


def test_safety_is_marked() -> None:
    assert {name for name, feature in features().items() if feature.safety} == {
        "blade-parallel", "knife", "knife-over-plate", "knife-under-kerf", "knife-gap", "knife-height",
        "insert-operator-keeper", "insert-operator-offcut", "insert-far-keeper", "insert-far-offcut", "insert-rock",
        "rip-toe", "rip-fence-angle", "support-margin",
    }  # fmt: skip


def test_what_is_of_one_piece_of_work_has_no_standing() -> None:
    """The next board is another thing: pooling the two would make one number of both."""
    now = datetime(2026, 3, 1, tzinfo=UTC)
    rows = [
        Result(now, name, "mm", UncertainValue(18.0), "stock", name) for name in ("work.stock-thickness", "blade.kerf")
    ]
    assert owner_of("stock-thickness", None) == "work" == owner_of("support-margin", None, "sled")
    assert owner_of("caliper-repeat", None) == "caliper" and owner_of("tape-hook", None) == "tape"
    assert [s.feature for s in standings(History(tuple(rows), (), ()), now)] == ["blade.kerf"]
