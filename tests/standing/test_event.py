"""What an event makes doubtful: the table of the trade, row by row (common practice)."""

import pytest
from tests.standing.rows import happened

from trued.errors import InputRefused
from trued.standing.feature import features, full_name
from trued.standing.history.event import EVENTS, event_of

# Kind -> some of what the trade re-checks after it, and some of what it does not.
TRADE = {
    "saw-carried": (["saw.blade-parallel", "saw.rip-toe", "saw.bevel@0", "saw.bevel@45", "saw.bevel@30",
                     "wing.wing-step", "sled.fence-angle@0"],
                    ["sled.fence-straight", "blade.kerf", "sled.stop-offset@0"]),
    "blade-same-kerf": (["blade.kerf", "sled.stop-offset@0", "sled.stop-offset@45open", "sled.sight-line@0",
                         "saw.knife",
                         "saw.knife-under-kerf", "saw.knife-over-plate", "saw.knife-gap"],
                        ["sled.fence-angle@0", "sled.detent-angle@45closed"]),
    "blade-thinner": (["blade.kerf", "saw.knife", "saw.knife-under-kerf", "saw.knife-over-plate", "saw.knife-gap",
                       "saw.knife-height", "sled.zero-clearance"], ["sled.fence-angle@0"]),
    "blade-thicker": (["blade.kerf", "saw.knife", "saw.knife-under-kerf", "saw.knife-over-plate", "saw.knife-gap",
                       "saw.knife-height", "sled.zero-clearance"], ["sled.fence-angle@0"]),
    "blade-realigned": (["saw.bevel@0", "saw.knife", "saw.insert-far-keeper", "sled.stop-offset@0", "saw.rip-toe"],
                        ["sled.fence-angle@0"]),
    "tilt-used": (["saw.bevel@0"], ["saw.bevel@45", "sled.fence-angle@0", "blade.kerf", "saw.knife"]),
    "facing-renewed": (["sled.fence-angle@0", "sled.fence-straight", "sled.stop-offset@45open"],
                       ["sled.stop-offset@0", "sled.bar-play"]),
    "bar-adjusted": (["sled.fence-angle@0", "sled.detent-angle@45closed", "sled.bar-play", "sled.stop-offset@0",
                      "sled.sight-line@0"],
                     ["sled.fence-straight"]),
    "screw-touched": (["sled.fence-angle@0", "sled.detent-angle@22.5open", "sled.stop-offset@45open"],
                      ["blade.kerf", "sled.stop-offset@0"]),
    "detent-loosened": (["sled.detent-angle@45closed", "sled.stop-offset@45open"], ["sled.fence-straight"]),
    "scale-moved": (["sled.stop-offset@0"], ["sled.fence-angle@0", "sled.stop-slope@0"]),
    "wing-touched": (["wing.wing-step"], ["sled.fence-angle@0"]),
    "sled-stored": (["sled.platform-flat", "sled.fence-angle@0", "sled.bar-play"], ["blade.kerf"]),
    "humidity-swing": (["sled.bar-play", "sled.platform-flat"], ["sled.fence-angle@0", "blade.kerf"]),
    "caliper-dropped": (["caliper-1.caliper-zero"], ["sled.fence-angle@0", "sled.stop-offset@0"]),
}  # fmt: skip


def test_the_fifteen_kinds() -> None:
    assert tuple(EVENTS) == tuple(TRADE)


@pytest.mark.parametrize("kind", TRADE)
def test_what_is_stale_and_what_is_still_good(kind: str) -> None:
    stale, good = TRADE[kind]
    assert all((happened(0, kind).stales(feature) or 0.0) > 0.0 for feature in stale)
    assert all(happened(0, kind).stales(feature) is None for feature in good)


@pytest.mark.parametrize("kind", TRADE)
def test_every_row_has_its_words_and_names_known_features(kind: str) -> None:
    event = EVENTS[kind]
    assert event.text and event.stale_text and event.good_text
    doubts = [doubt for feature in features().values() for doubt in feature.doubts if doubt.event == kind]
    assert doubts and all(doubt.size > 0.0 for doubt in doubts)


def test_no_feature_names_an_event_that_there_is_not() -> None:
    assert {doubt.event for feature in features().values() for doubt in feature.doubts} <= set(EVENTS)


@pytest.mark.parametrize("kind", [k for k in TRADE if k.startswith("blade-") or k == "saw-carried"])
def test_a_caution_stands_with_what_can_hurt(kind: str) -> None:
    assert "knife" in EVENTS[kind].caution.lower()


def test_a_subject_narrows_what_is_stale() -> None:
    assert happened(0, "facing-renewed", "sled").stales("sled.fence-angle@0")
    assert happened(0, "facing-renewed", "gauge").stales("sled.fence-angle@0") is None
    assert happened(0, "saw-carried", "saw").stales("sled.fence-angle@0")  # the saw carries everything with it


def test_an_unknown_event_is_refused_with_the_nearest() -> None:
    assert event_of("tilt-used").kind == "tilt-used"
    with pytest.raises(InputRefused, match="saw-carried"):
        event_of("saw-caried")


def test_full_names_carry_an_angle_only_where_it_matters() -> None:
    assert full_name("sled", "fence-angle") == "sled.fence-angle@0"
    assert full_name("sled", "stop-offset", "45open") == "sled.stop-offset@45open"
    assert full_name("blade", "kerf") == "blade.kerf"


@pytest.mark.parametrize(("degrees", "inches"), [(22.5, 0.0259), (30.0, 0.0361), (45.0, 0.0625)])
def test_a_facing_shifts_the_zero_of_each_detent_by_its_tangent(degrees: float, inches: float) -> None:
    """A facing that is another by 1/16 in: 1/16 · tan θ, worked by hand; the square cut stays as it was."""
    told = happened(0, "facing-renewed").stales(f"sled.stop-offset@{degrees:g}closed")
    assert told is not None and told / 25.4 == pytest.approx(inches, abs=5e-5)
    assert happened(0, "facing-renewed").stales("sled.stop-offset@0") is None


def test_another_blade_shifts_the_zero_by_the_secant() -> None:
    """What the keeper's face of the kerf moved by is seen along a fence at 45° as its length over cos 45°."""
    square, turned = (happened(0, "blade-thinner").stales(f"sled.stop-offset@{at}") for at in ("0", "45open"))
    assert square and turned and turned / square == pytest.approx(2**0.5)


def test_an_angle_that_was_not_told_is_doubtful_with_the_others() -> None:
    assert happened(0, "detent-loosened").stales("sled.detent-angle@?")
    assert happened(0, "facing-renewed").stales("sled.stop-offset@?")
