"""Old names are read as those of today: typed, and out of books."""

from __future__ import annotations

import pytest

from trued.standing.feature import find_feature
from trued.standing.history import old_names
from trued.standing.history.old_names import (
    OLD_NAMES,
    OldName,
    now_called,
    once_called,
    reading_typed,
    renamed,
    table_of,
)


@pytest.fixture
def more(monkeypatch: pytest.MonkeyPatch) -> None:
    """A table as it may become."""
    names = (
        *OLD_NAMES,
        OldName("feature", "flap", "door"),
        OldName("feature", "hinge@45", "bracket.hinge@40"),
        OldName("direction", "in", "toward-blade", of="door"),
        OldName("check", "flap-45", "door", facts=(("angle", "45"),)),
        OldName("event", "dropped", "door-dropped"),
        OldName("reading", "edge", "door_edge", of="door"),
        OldName("place", "operator", "near"),
        OldName("fact", "pivot_beside", "pivot-to-blade"),
    )
    monkeypatch.setattr(old_names, "_TABLE", table_of(names))


def test_the_features_that_were_called_otherwise() -> None:
    assert now_called("feature", "saw.tilt-90") == "saw.bevel@0" and now_called("feature", "tilt-45") == "bevel@45"
    assert now_called("feature", "sled.sight-line") == "sled.sight-line@0"
    for name in ("sled.sight-line@45closed", "sled.detent-angle@45closed", "sled.stop-offset@0", "saw.bevel@45"):
        assert now_called("feature", name) == name
        assert now_called("feature", name, first_book=True) == name


def test_a_detent_of_which_no_angle_was_told_is_that_only_in_the_first_books() -> None:
    assert now_called("feature", "sled.detent-angle@0", first_book=True) == "sled.detent-angle@?"
    assert now_called("feature", "sled.detent-angle@0") == "sled.detent-angle@0"


def test_no_new_name_is_an_old_one_and_each_is_known() -> None:
    for name in OLD_NAMES:
        assert renamed(name.kind, name.new, name.of, first_book=True) is None
        if name.kind == "feature":
            assert find_feature(name.new) is not None
    assert len(table_of(OLD_NAMES)) == len(OLD_NAMES), "one old name, one meaning"


@pytest.mark.usefixtures("more")
def test_each_kind_of_name() -> None:
    assert now_called("feature", "sled.flap@45open") == "sled.door@45open" and now_called("feature", "flap") == "door"
    assert now_called("feature", "sled.hinge@45") == "bracket.hinge@40"
    assert now_called("feature", "sled.hinge@90") == "sled.hinge@90"
    assert now_called("direction", "in", "door") == "toward-blade" and now_called("direction", "in", "window") == "in"
    assert now_called("check", "flap-45") == "door" and now_called("event", "dropped") == "door-dropped"
    assert now_called("fact", "pivot_beside", "any") == "pivot-to-blade"
    assert set(once_called("check", "door")) == {"door", "flap-45"}


@pytest.mark.usefixtures("more")
@pytest.mark.parametrize(
    ("typed", "now"),
    [
        ("edge@operator:caliper-1=1.25", "door_edge@near:caliper-1=1.25"),
        ("edge=1.25", "door_edge=1.25"),
        ("gap@operator=1", "gap@near=1"),
        ("gap=operator", "gap=operator"),
        ("edge", "door_edge"),
        ("", ""),
        ("=@:", "=@:"),
    ],
)
def test_a_reading_as_typed(typed: str, now: str) -> None:
    assert reading_typed("door", typed) == now
