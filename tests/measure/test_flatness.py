"""Straightness and flatness: sets whose answer is known by construction (constructed, not published), and a linear
programme of a reference library on random ones."""

import math
import random
from collections.abc import Sequence

import numpy as np
import pytest
from scipy.optimize import linprog

from trued.measure.fitting.flatness import line_range, line_zone, plane_range, plane_slopes, plane_zone

Place = tuple[float, float, float]
CORNERS = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]


def smallest_zone(places: Sequence[Sequence[float]]) -> float:
    """Least w such that every height lies within w above a common line or plane: min w, 0 <= z - plane <= w."""
    a = np.array([[*p[:-1], 1.0] for p in places])
    z = np.array([p[-1] for p in places])
    above = np.hstack([a, np.zeros((len(a), 1))])
    below = np.hstack([-a, -np.ones((len(a), 1))])
    cost = [0.0] * a.shape[1] + [1.0]
    done = linprog(cost, np.vstack([above, below]), np.concatenate([z, -z]), bounds=[(None, None)] * len(cost))
    assert done.success and done.fun is not None
    return float(done.fun)


# --- constructed sets


def test_an_even_zigzag_has_its_own_height_as_zone() -> None:
    """Heights 0, 1, 0, 1 at equal steps lie between y = 0 and y = 1 (constructed), least squares leans a little."""
    xs, heights = [0.0, 1.0, 2.0, 3.0], [0.0, 1.0, 0.0, 1.0]
    assert line_zone(xs, heights) == pytest.approx(1.0, abs=1e-12)
    assert line_range(xs, heights) == pytest.approx(1.2, abs=1e-12)  # worked by hand: slope 0.2, ends 0.6 below


def test_a_hollow_is_as_deep_as_its_chord_says() -> None:
    xs = [0.0, 6.0, 12.0, 18.0, 24.0]
    hollow = [0.004 * (1 - (x / 12 - 1) ** 2) + 0.01 * x for x in xs]
    assert line_zone(xs, hollow) == pytest.approx(0.004, abs=1e-12)


def test_a_straight_line_has_none() -> None:
    assert line_zone([3.0, 1.0, 2.0], [6.0, 2.0, 4.0]) == pytest.approx(0.0, abs=1e-12)
    assert line_zone([3.0, 1.0, 1.0], [6.0, 2.0, 5.0]) == pytest.approx(3.0, abs=1e-12)  # two heights at one place


def test_the_saddle_touches_the_zone_with_two_edges() -> None:
    """Two corners 0.2 higher (constructed): 0.2 between planes along both diagonals; facets alone give 0.4."""
    saddle: list[Place] = [(x, y, 0.2 * (n % 2)) for n, (x, y) in enumerate(CORNERS)]
    assert plane_zone(saddle) == pytest.approx(0.2, abs=1e-12)
    assert plane_range(saddle) == pytest.approx(0.2, abs=1e-12)


def test_a_cap_touches_with_a_facet() -> None:
    """Three corners on a plane, one point 0.3 above its middle (constructed)."""
    cap: list[Place] = [(0, 0, 0.0), (3, 0, 0.3), (0, 3, 0.6), (1, 1, 0.1 + 0.2 + 0.3)]
    assert plane_zone(cap) == pytest.approx(0.3, abs=1e-12)


@pytest.mark.parametrize("n", [5, 9])
def test_a_tilted_twisted_field(n: int) -> None:
    """z = 0.1 x y on -1..1 with any tilt (constructed): the corners stand at +-0.1, so the zone is 0.2."""
    steps = [2.0 * i / (n - 1) - 1.0 for i in range(n)]
    field = [(x, y, 0.1 * x * y + 0.03 * x - 0.07 * y + 5.0) for x in steps for y in steps]
    assert plane_zone(field) == pytest.approx(0.2, abs=1e-12)
    assert plane_range(field) == pytest.approx(0.2, abs=1e-12)
    assert plane_slopes(field) == pytest.approx((0.03, -0.07), abs=1e-12)


def test_a_plane_over_places_in_no_grid_is_found_as_it_is() -> None:
    """z = 0.03 x - 0.07 y + 5 over places whose x and y go together (constructed)."""
    places = [(x, y, 0.03 * x - 0.07 * y + 5.0) for x, y in ((0, 0), (1, 0), (2, 1), (5, 4), (3, 1), (6, 5.5))]
    assert plane_slopes(places) == pytest.approx((0.03, -0.07), abs=1e-12)


# --- against the linear programme


@pytest.mark.parametrize("seed", range(12))
def test_straightness_is_what_the_linear_programme_finds(seed: int) -> None:
    rng = random.Random(seed)
    xs = [rng.uniform(0, 600) for _ in range(rng.randint(2, 30))]
    heights = [0.01 * x + rng.choice([rng.gauss(0, 0.1), 0.0, 0.05]) for x in xs]
    expected = smallest_zone(list(zip(xs, heights, strict=True)))
    assert line_zone(xs, heights) == pytest.approx(expected, abs=1e-9)
    assert line_range(xs, heights) >= expected - 1e-9


@pytest.mark.parametrize("seed", range(12))
def test_flatness_is_what_the_linear_programme_finds(seed: int) -> None:
    rng = random.Random(seed)
    grid = [(x * 50.0, y * 40.0) for x in range(3 + seed % 4) for y in range(3)]
    wild = [(rng.uniform(0, 600), rng.uniform(0, 400)) for _ in range(4 + 3 * seed)]
    places = [(x, y, 1e-3 * x - 2e-3 * y + rng.gauss(0, 0.1)) for x, y in (grid if seed % 2 else wild)]
    expected = smallest_zone(places)
    assert plane_zone(places) == pytest.approx(expected, abs=1e-9)
    assert plane_range(places) >= expected - 1e-9


def test_the_zone_does_not_change_when_the_field_is_turned_or_moved() -> None:
    rng = random.Random(3)
    places = [(rng.uniform(0, 9), rng.uniform(0, 9), rng.gauss(0, 1)) for _ in range(20)]
    c, s = math.cos(0.7), math.sin(0.7)
    turned = [(c * x - s * y + 100, s * x + c * y - 50, -z) for x, y, z in places]
    assert plane_zone(turned) == pytest.approx(plane_zone(places), rel=1e-9)


def test_too_little_to_tell() -> None:
    with pytest.raises(ValueError, match="two different places"):
        line_zone([2.0, 2.0], [0.0, 1.0])
    with pytest.raises(ValueError, match="two different places"):
        line_zone([], [])
    with pytest.raises(ValueError, match="one line"):
        plane_zone([(0, 0, 0.0), (1, 1, 0.3), (2, 2, 0.1)])
    with pytest.raises(ValueError, match="one line"):
        plane_range([(1, 0, 0.0), (1, 1, 0.3), (1, 2, 0.1)])
