"""A fence at an angle: by hand, and against points of the fence really turned about its pivot."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.equipment.fixture import Fixture
from trued.equipment.pivoting_fence import CLEARANCE_MM, Metal, crossing_mm, metal_in_the_way

Floats = npt.NDArray[np.float64]
INCH = 25.4
EXAMPLE = Metal(2 * INCH, 1.5 * INCH, 1.5 * INCH, 0.0)


def at(degrees: float) -> float:
    return math.radians(degrees)


def turned(points: Floats, angle: float) -> Floats:
    """About the pivot at the origin; x across to the blade, y toward the work, above 0: the blade's end goes away."""
    c, s = math.cos(angle), math.sin(angle)
    return np.asarray(points @ np.array([[c, -s], [s, c]]), dtype=float)


@pytest.mark.parametrize(
    ("degrees", "inches"),
    [(0, 2.0), (45, 2.078), (-45, 3.578)],  # worked by hand: pivot 2 in beside the blade, face 0.75 in before it
)
def test_each_detent_has_its_own_zero(degrees: float, inches: float) -> None:
    assert crossing_mm(2 * INCH, 0.75 * INCH, at(degrees)) / INCH == pytest.approx(inches, abs=5e-4)


@pytest.mark.parametrize(
    ("degrees", "opened", "closed"), [(22.5, 0.4754, -0.1459), (30, 0.7424, -0.1236), (45, 1.5784, 0.0784)]
)
def test_the_zero_of_the_stop_goes_with_the_angle_and_the_side(degrees: float, opened: float, closed: float) -> None:
    """z(θ) = p (1 / cos θ - 1) ± f tan θ, plus when opened, minus when closed; worked by meeting lines, p 2, f 3/4."""
    for way, z in ((-1.0, opened), (1.0, closed)):
        by_lines = (crossing_mm(2 * INCH, 0.75 * INCH, way * at(degrees)) - 2 * INCH) / INCH
        by_sum = 2.0 * (1.0 / math.cos(at(degrees)) - 1.0) - way * 0.75 * math.tan(at(degrees))
        assert by_lines == pytest.approx(z, abs=5e-5) and by_sum == pytest.approx(z, abs=5e-5)


@pytest.mark.parametrize(("degrees", "inches"), [(45, 0.25), (22.5, 0.104), (0, 0.0)])
def test_a_thicker_facing_shifts_the_zero(degrees: float, inches: float) -> None:
    """By hand: a facing 0.25 in thicker."""
    shift = crossing_mm(2 * INCH, 0.75 * INCH, -at(degrees)) - crossing_mm(2 * INCH, 0.5 * INCH, -at(degrees))
    assert shift / INCH == pytest.approx(inches, abs=5e-4)


@pytest.mark.parametrize(
    ("degrees", "inches"),
    [(0, -0.50), (15, -0.16), (22.5, -0.04), (30, 0.05), (45, 0.12)],  # worked by hand: 2, 1.5 and 1.5 in
)
def test_metal_that_is_clear_when_square_is_hit_at_45_degrees(degrees: float, inches: float) -> None:
    assert EXAMPLE.past_mm(at(degrees)) / INCH == pytest.approx(inches, abs=0.0051)


def test_the_other_way_round_it_is_the_corners_behind() -> None:
    """By hand: front corners swing 2.0 in away from the blade; the same metal behind the pivot comes in instead."""
    behind = Metal(2 * INCH, 1.5 * INCH, 0.0, 1.5 * INCH)
    assert behind.past_mm(-at(45)) == pytest.approx(EXAMPLE.past_mm(at(45)))
    assert EXAMPLE.past_mm(-at(45)) < EXAMPLE.past_mm(0.0) < 0.0
    kept = Metal(2 * INCH, 0.621 * INCH, 1.5 * INCH, 0.0)  # by hand: to keep 0.5 in at 45 degrees
    assert kept.past_mm(at(45)) / INCH == pytest.approx(-0.5, abs=1e-3)


sizes = st.floats(1.0, 150.0)


@given(beside=sizes, face=sizes, degrees=st.floats(-45, 45))
def test_crossing_as_the_face_really_lies(beside: float, face: float, degrees: float) -> None:
    along = crossing_mm(beside, face, at(degrees))
    ((x, _),) = turned(np.array([[along, face]]), at(degrees))
    assert x == pytest.approx(beside, abs=1e-9 * (1 + beside))


@given(beside=sizes, end=sizes, front=sizes, back=sizes)
def test_metal_as_its_corners_really_stand(beside: float, end: float, front: float, back: float) -> None:
    metal = Metal(beside, end, front, back)
    corners = np.array([[end, front], [end, -back], [0.0, front], [0.0, -back]])
    angles = [at(d) for d in np.arange(0.0, 45.01, 0.25)]
    for away in (True, False):
        past = [turned(corners[:2], a if away else -a)[:, 0].max() - beside for a in angles]
        assert past == pytest.approx([metal.past_mm(a if away else -a) for a in angles])
        near = next((a for a, p in zip(angles, past, strict=True) if p > -CLEARANCE_MM), None)
        told = metal.from_angle(away=away)
        if near is not None:
            assert told is not None and near - at(0.25) - 1e-9 <= told <= near + 1e-9
        else:  # it may come too near between two of the angles that were looked at
            assert told is None or metal.past_mm(told if away else -told) == pytest.approx(-CLEARANCE_MM)


def test_metal_over_the_whole_swing_is_worst_between_two_detents() -> None:
    """Corner points turned by hand: 2 1/4 from pivot to blade, metal to 1 1/4 along, 1 in front, 1/2 behind. Square
    −1.000; swung in by its far end (the end at the blade goes away) 22.5° −.7125, 30° −.6675, 45° −.6590, and worst at
    atan(1 / 1.25) = 38.66° with −.6492; the other way 45° −1.0126: clear of 3/16 at every angle."""
    metal = Metal(2.25 * INCH, 1.25 * INCH, 1.0 * INCH, 0.5 * INCH)
    for degrees, past in ((0.0, -1.0), (22.5, -0.7125), (30.0, -0.6675), (45.0, -0.6590), (-45.0, -1.0126)):
        assert metal.past_mm(math.radians(degrees)) / INCH == pytest.approx(past, abs=5e-5)
    angle, past_mm = metal.worst(away=True)
    assert (math.degrees(angle), past_mm / INCH) == pytest.approx((38.66, -0.6492), abs=5e-3)
    assert metal.worst(away=False)[1] >= metal.past_mm(math.radians(-45.0))
    assert metal.from_angle(away=True) is None and metal.from_angle(away=False) is None


def test_how_far_metal_reaches_along_the_fence_is_enough_to_know_that_it_is_in_the_way() -> None:
    """Three of four facts were silently not judged."""
    facts: dict[str, str | float] = {"pivot_beside": 2.0 * INCH, "metal_end": 1.9 * INCH}
    assert metal_in_the_way(Fixture("sled", "crosscut-sled", facts))
    assert not metal_in_the_way(Fixture("sled", "crosscut-sled", facts | {"metal_end": 1.5 * INCH}))
    assert not metal_in_the_way(Fixture("sled", "crosscut-sled", {"metal_end": 1.9 * INCH}))
