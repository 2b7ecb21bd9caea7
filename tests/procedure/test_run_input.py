"""What a check sees of a run."""

import math

import pytest
from tests.procedure.checks import GAP, PLAIN

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.procedure import Kind, Reading, RunInput, take

SIDE = {"side": "left"}


def test_means_share_their_instrument() -> None:
    taken = take(GAP, ["gap=0.01", "wall@near=1", "wall@far=2"], SIDE)
    near, far = taken.mean("wall", "near"), taken.mean("wall", "far")
    assert "caliper: limit of error" in {c.label for c in near.components}
    assert {c.label for c in (far - near).components} == {"caliper: repeat of a reading"}
    assert (far - near).value == pytest.approx(25.4)


def test_single_readings_have_their_own_scatter() -> None:
    taken = take(GAP, ["gap=0.01", "gap=0.02"], SIDE)
    a, b = (taken.single(reading, n) for n, reading in enumerate(taken.of("gap")))
    assert (a - b).u == pytest.approx(a.parts and math.sqrt(2) * taken.repeat(taken.of("gap")[0].instrument).s)  # type: ignore[arg-type]
    bare = RunInput(GAP, (Reading("count", "", "3", Kind.COUNT, 3.0),))
    assert bare.single(bare.readings[0], 0).u == 0.0 and bare.mean("count").value == 3.0


def test_repeats_of_one_thing_sharpen_the_instrument() -> None:
    wide = take(GAP, ["gap=0.01", "gap=0.02"], SIDE)
    feelers = wide.of("gap")[0].instrument
    assert feelers is not None
    assert wide.repeat(feelers).dof == 11 and wide.repeat(feelers).s > feelers.repeat.s
    assert take(GAP, ["gap=0.01"], SIDE).repeat(feelers) == feelers.repeat


def test_ranges_and_choices() -> None:
    taken = take(GAP, ["gap=0.01", "gap=0.03", "rocks=no", "wall@near=1", "wall@far=2"], SIDE)
    assert taken.worst_repeat("gap") == pytest.approx(0.508) and taken.worst_repeat("wall") == 0.0
    assert taken.worst_repeat("step") == 0.0 and taken.choice("rocks") == "no" and taken.choice("gap") == ""
    assert take(GAP, ["gap=0.01"], SIDE).choice("rocks") == "" and not taken.has("wall", "middle")


def test_a_reading_that_is_not_there() -> None:
    with pytest.raises(KeyError, match="no reading 'wall'"):
        take(GAP, ["gap=0.01"], SIDE).mean("wall")


def test_the_scatter_between_runs() -> None:
    start = take(GAP, ["gap=0.01"], SIDE)
    assert start.between_runs().u == 0.01 and start.between_runs().dof == 4 and not start.scatter_seen
    learnt = take(GAP, ["gap=0.01"], SIDE, scatter=EstimatedSd(0.02, 9, seen=5, pairs=1))
    assert learnt.between_runs().u == 0.02 and learnt.scatter_seen
    plain = take(PLAIN, ["gap=0.01"], SIDE)
    assert plain.between_runs().u == 0.0 and plain.scatter_seen
