"""What is found is drawn in tolerances, beside the band of what would be true: what is true is straight."""

import math
from dataclasses import replace

import pytest
from tests.checks.drawn import lines, paths
from tests.checks.ran import taken

from trued.checks import find_check
from trued.drawing.shapes import Drawing, Label
from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import UncertainValue
from trued.procedure import FeatureResult
from trued.procedure.sketch.in_tolerances import MOST, STEP, in_tolerances
from trued.render.picture.svg import svg

FACTS = {
    "five-cut": {"fence": "far", "keeper": "left"},
    "flip": {"fence": "far", "keeper": "left"},
    "tilt-90": {"keeper": "left"},
    "tilt-45": {"tilts_to": "left"},
    "detent-angle": {"fence": "far", "keeper": "left"},
    "blade-parallel": {"keeper": "left"},
    "fence-upright": {"fence": "far", "keeper": "left"},
    "sight-line": {"keeper": "left"},
}
ROLE = {"tilt-90": "blade", "tilt-45": "blade", "blade-parallel": "blade", "sight-line": "found"}  # else its fence


def drawing(check: str, tolerances: float) -> Drawing:
    """The check's own example, as if it had found so many tolerances."""
    made = find_check(check)
    read = taken(check, made.example.given, **FACTS[check])
    first, *others = made.evaluate(read)
    assert first.limits is not None
    size = max(abs(first.limits.low or 0.0), abs(first.limits.high or 0.0))
    return made.draw(read, (replace(first, value=UncertainValue(tolerances * size)), *others))


def shape_of(check: str, drawn: Drawing) -> tuple[tuple[float, float], ...]:
    if check in ROLE:
        *_, line = lines(drawn, ROLE[check])
        return line.start, line.end
    (bar,) = paths(drawn, "fence")[-1:]
    return bar.points


@pytest.mark.parametrize("check", FACTS)
def test_what_is_twice_as_far_out_is_drawn_twice_as_far(check: str) -> None:
    """The same picture stood for 0.0120, 0.0007 and 0.0003 in/ft: now each has its own, and 0 is straight."""
    at = {t: shape_of(check, drawing(check, t)) for t in (-1.0, 0.0, 0.5, 1.0, 2.0)}
    assert len(set(at.values())) == len(at)

    def off(t: float) -> float:
        return max(math.dist(p, q) for p, q in zip(at[t], at[0.0], strict=True))

    assert off(1.0) == pytest.approx(2.0 * off(0.5), rel=0.05)
    assert off(2.0) == pytest.approx(2.0 * off(1.0), rel=0.1)
    assert off(-1.0) == pytest.approx(off(1.0), rel=0.05)


@pytest.mark.parametrize("check", FACTS)
def test_the_band_is_drawn_and_named(check: str) -> None:
    drawn = drawing(check, 0.0)
    assert len(paths(drawn, "band")) == 1
    assert any(isinstance(shape, Label) and shape.text == "true if inside" for shape in drawn.shapes)


@pytest.mark.parametrize(
    ("tolerances", "inside"), [(0.0, True), (0.5, True), (0.99, True), (1.05, False), (3.0, False)]
)
def test_the_face_of_the_fence_lies_in_the_band_or_leaves_it(tolerances: float, inside: bool) -> None:
    drawn = drawing("five-cut", tolerances)
    (band,) = paths(drawn, "band")
    (face,) = lines(drawn, "found")
    (wanted,) = [s for s in drawn.shapes if getattr(s, "role", "") == "wanted"]
    far = min((face.start, face.end), key=lambda p: p[0])  # the keeper left: its end far from the blade
    edges = sorted(p[1] for p in band.points[1:])
    assert (edges[0] <= far[1] <= edges[1]) is inside
    if tolerances == 0.0:
        assert {face.start, face.end} == {wanted.start, wanted.end}  # type: ignore[union-attr]


def test_one_limit_alone_and_none_at_all_are_drawn_too() -> None:
    one = in_tolerances(FeatureResult("knife", "mm", UncertainValue(0.3), ToleranceLimits(0.0, 0.6)))
    assert (one.at, one.low, one.high) == pytest.approx((1.0, 0.0, 2.0))
    open_above = in_tolerances(FeatureResult("bar-swing", "rad", UncertainValue(2.0), ToleranceLimits(None, 1.0)))
    assert (open_above.at, open_above.low, open_above.high) == pytest.approx((2.0, -MOST, 1.0))
    assert in_tolerances(FeatureResult("kerf", "mm", UncertainValue(-3.0))).at == -1
    far = in_tolerances(FeatureResult("fence-angle", "rad", UncertainValue(1.0), ToleranceLimits.within(1e-4)))
    assert far.at == MOST and far.far == MOST * STEP


def test_three_fences_are_three_pictures_on_the_page() -> None:
    """As it was found: 0.0120, 0.0007 and 0.0003 in/ft, of which only the first is out (2e-4 rad is 0.0024 in/ft)."""
    found = [drawing("five-cut", slope / 12 / 2e-4) for slope in (0.0120, 0.0007, 0.0003)]
    polygons = [svg(one).split("d-fence", 1)[0].rsplit("<polygon", 1)[1] for one in found]
    assert len(set(polygons)) == 3
