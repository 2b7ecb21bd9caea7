"""The picture of a fit: what lies beyond a limit is drawn as such, and every bar is as long as its share."""

import math

import pytest

from trued.drawing.shapes import Drawing, Label, Line, Path
from trued.job.fits.fit import FitResult
from trued.render.picture.hatch import hatch_of
from trued.render.picture.svg import svg
from trued.usecases.plan.fit_drawing import fit_drawing

SHARES = {"stop scale": 0.6, "fence angle": 0.39, "kerf": 0.01}


def fit(limits: tuple[float | None, float | None], sd: float = 0.1, dof: float = math.inf) -> FitResult:
    return FitResult("f", 0.0, sd, dof, 0.8, (-0.2, 0.2), SHARES, ("stop scale",), False, "", limits)


def areas(drawing: Drawing, role: str) -> list[float]:
    """Area under the curve, by the shoelace formula."""
    found = []
    for shape in drawing.shapes:
        if isinstance(shape, Path) and shape.role == role and len(shape.points) > 5:
            ends = zip(shape.points, (*shape.points[1:], shape.points[0]), strict=True)
            found.append(abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in ends)) / 2)
    return found


@pytest.mark.parametrize(("most", "inside"), [(0.1, 0.8413), (0.2, 0.9772), (-0.1, 0.1587)])
def test_the_area_within_the_limit_is_the_chance(most: float, inside: float) -> None:
    # Parts of a normal distribution below 1, 2 and -1 standard deviations, by tables.
    drawing = fit_drawing(fit((None, most)), "mm")
    good, bad = sum(areas(drawing, hatch_of(1))), sum(areas(drawing, "waste"))
    assert good / (good + bad) == pytest.approx(inside, abs=0.002)


def test_few_readings_have_a_wider_hill() -> None:
    wide, normal = (areas(fit_drawing(fit((-0.4, 0.4), dof=dof), "mm"), hatch_of(1)) for dof in (3.0, math.inf))
    assert sum(wide) > 1.03 * sum(normal)


def test_the_limits_stand_where_they_are_and_are_named() -> None:
    drawing = fit_drawing(fit((-0.2, 0.3)), "mm")
    posts = [shape.start[0] for shape in drawing.shapes if isinstance(shape, Line) and shape.role == "limit"]
    mean = next(shape.start[0] for shape in drawing.shapes if isinstance(shape, Line) and shape.role == "found")
    assert (posts[1] - mean) / (mean - posts[0]) == pytest.approx(1.5)
    assert {"least -0.20 mm", "most 0.30 mm"} <= {
        s.text.replace("−", "-") for s in drawing.shapes if isinstance(s, Label)
    }


def test_bars_are_as_long_as_their_shares_and_small_ones_left_out() -> None:
    drawing = fit_drawing(fit((-0.2, 0.2)), "in")
    lengths = [s.points[1][0] - s.points[0][0] for s in drawing.shapes if isinstance(s, Path) and s.role == hatch_of(0)]
    assert lengths == pytest.approx([12 * 0.6, 12 * 0.39])
    assert "stop scale 60% (assumed), fence angle 39%." in drawing.told and "kerf" not in drawing.told


def test_without_any_error_there_is_no_hill() -> None:
    drawing = fit_drawing(FitResult("f", 0.0, 0.0, math.inf, 1.0, (0, 0), {}, (), False, "", (0.0, None)), "mm")
    assert areas(drawing, hatch_of(1)) == [] and "doubt" not in drawing.told
    assert "<svg" in svg(drawing)
