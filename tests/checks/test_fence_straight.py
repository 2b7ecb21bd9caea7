"""Fence straight: what is the fence's and what the straightedge's, proved on faces that are really laid together."""

import pytest
from tests.checks.drawn import arrows
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_fence import fence_straight
from tests.worlds.sled import LAYOUTS
from tests.worlds.straightedge import Straightedge, hollow

from trued.checks.fence_straight import CHECK, places, short_edge, weights
from trued.procedure import RunInput

AT = [0.0, 6.0, 12.0, 18.0, 24.0]
FLAT = hollow(0.0, 24.0)
EVEN = "gap@0=0 gap@6=0.003 gap@12=0.004 gap@18=0.003 gap@24=0"
PROVEN = " ".join(f"scribed@{x}=0" for x in (6, 12, 18))


def readings_of(bow: float, own: float, *, scribed: bool = True) -> list[str]:
    edge = Straightedge(hollow(own, 24.0), 24.0)
    typed = [f"gap@{x}={gap:.7f}" for x, gap in zip(AT, edge.gaps(hollow(bow, 24.0), AT), strict=True)]
    return typed + [f"scribed@{x}={edge.scribed(x):.7f}" for x in AT[1:-1] if scribed]


# --- the straightedge is taken off


@pytest.mark.parametrize("bow", [0.015, 0.004, -0.006, 0.0])
@pytest.mark.parametrize("own", [0.004, -0.003, 0.0])
def test_the_fence_s_bow_is_found_through_any_proven_straightedge(bow: float, own: float) -> None:
    found = estimate(run("fence-straight", readings_of(bow, own)), "fence-straight")
    assert found.value == pytest.approx(bow * 25.4, abs=3e-4)


def test_turning_end_for_end_does_not_take_the_bow_off() -> None:
    """A perfect fence, a straightedge hollow by 0.004: both ways it reads 0.004 in the middle."""
    edge = Straightedge(hollow(0.004, 24.0), 24.0)
    both = edge.gaps(FLAT, AT), edge.gaps(FLAT, AT, turned=True)
    assert [g[2] for g in both] == pytest.approx([0.004, 0.004])
    assert edge.scribed(12.0) == pytest.approx(0.008)


def test_a_flat_fence_is_not_called_hollow_by_a_hollow_straightedge() -> None:
    """0.004 hollow and not proven: it may be the straightedge, so nothing is out and nothing is moved."""
    finding = run("fence-straight", readings_of(0.0, 0.004, scribed=False))
    found = estimate(finding, "fence-straight")
    assert found.decision == "not-proven" and not finding.moves
    assert acts(finding)["straightedge-not-proven"] == "note"
    labels = {c.label: c.u for c in found.components}
    assert labels["straightedge: not proven"] == pytest.approx(0.006 * 25.4 / 3**0.5)
    assert estimate(run("fence-straight", readings_of(0.0, 0.004)), "fence-straight").value == pytest.approx(
        0, abs=1e-4
    )


def test_a_maker_s_limit_stands_for_the_proof() -> None:
    finding = run("fence-straight", f"{EVEN} edge_limit=0.0008")
    labels = {c.label: c.u for c in estimate(finding, "fence-straight").components}
    assert labels["straightedge: limit of error"] == pytest.approx(0.0008 * 25.4 / 3**0.5)
    assert "straightedge-not-proven" not in codes(finding)


# --- the sum


def test_three_places_are_middle_less_mean_of_the_ends() -> None:
    assert weights([0.0, 300.0, 600.0]) == pytest.approx([-0.5, 1.0, -0.5])
    found = estimate(run("fence-straight", f"gap@0=0.002 gap@12=0 gap@24=0.004 {PROVEN.split()[1]}"), "fence-straight")
    assert found.value == pytest.approx(-0.003 * 25.4)


@pytest.mark.parametrize("xs", [[0.0, 100, 300, 500, 610], [5.0, 20, 21, 40]])
def test_how_the_straightedge_lies_cancels(xs: list[float]) -> None:
    counts = weights(xs)
    assert sum(counts) == pytest.approx(0.0, abs=1e-12)
    assert sum(c * x for c, x in zip(counts, xs, strict=True)) == pytest.approx(0.0, abs=1e-9)
    low, high = min(xs), max(xs)
    bow = [4 * (x - low) * (high - x) / (high - low) ** 2 for x in xs]
    assert sum(c * b for c, b in zip(counts, bow, strict=True)) == pytest.approx(1.0)


def test_a_bow_needs_three_places() -> None:
    with pytest.raises(ValueError, match="three places"):
        weights([0.0, 0.0, 600.0])


def test_short_edges_are_cut_otherwise() -> None:
    """(4 × 0.004 / 24) × (1 − 6 / 24) = 0.0005 rad, 0.006 in per foot."""
    assert short_edge(0.004, 24.0, 6.0) == pytest.approx(0.0005)
    (move,) = CHECK.moves(one := taken("fence-straight", "gap@0=0 gap@12=0.004 gap@24=0"), CHECK.evaluate(one))
    assert "a 6 in edge beside the blade is cut 0.0060 in/ft off" in move.text
    (move,) = CHECK.moves(one := taken("fence-straight", "gap@0=0 gap@3=0.004 gap@6=0"), CHECK.evaluate(one))
    assert "beside the blade" not in move.text
    (move,) = CHECK.moves(one := taken("fence-straight", "gap@0=0 gap@300=0.1 gap@600=0", "mm"), CHECK.evaluate(one))
    assert "a 150 mm edge" in move.text


def test_a_bent_face_swings_a_short_edge_as_said() -> None:
    """Chord of a parabola of depth 0.004 over 24, cut between two places of it: turned against the whole by so much."""
    face = hollow(0.004, 24.0)
    short, full = (face(6.0) - face(0.0)) / 6.0, (face(24.0) - face(0.0)) / 24.0
    assert short - full == pytest.approx(short_edge(0.004, 24.0, 6.0), rel=1e-9)


def test_places_are_put_in_order() -> None:
    one = taken("fence-straight", "gap@24=0 gap@0=0 gap@12=0.004")
    assert list(places(one)) == ["0", "12", "24"]


# --- moves


@pytest.mark.parametrize("bow", [0.015, -0.015])
@pytest.mark.parametrize("response", [0.7, 1.3])
def test_two_shims_make_it_straight(bow: float, response: float) -> None:
    for _ in range(2):
        finding = run("fence-straight", readings_of(bow, 0.002))
        for move in finding.moves:
            assert move.amount_mm is not None and move.where == "facing"
            shim = response * move.amount_mm / 25.4
            bow += shim if "behind both ends" in move.text else -shim  # a shim there brings the face into the work
    assert abs(bow) < 0.003


def test_words_of_the_move() -> None:
    out = run("fence-straight", "gap@0=0 gap@6=0.009 gap@12=0.012 gap@18=0.009 gap@24=0 " + PROVEN)
    assert out.moves[0].direction == "in" and "hollow by 0.0120 in" in out.moves[0].text
    crowned = run("fence-straight", "gap@0=0.012 gap@6=0.003 gap@12=0 gap@18=0.003 gap@24=0.012 " + PROVEN)
    assert crowned.moves[0].direction == "out" and "crowned by 0.0120 in" in crowned.moves[0].text


# --- blunders: each made, and one that comes close


def test_a_good_run_warns_of_nothing() -> None:
    assert codes(run("fence-straight", f"{EVEN} {PROVEN}")) <= {"one-run"}


def test_a_wave_is_no_bow() -> None:
    finding = run("fence-straight", f"{EVEN} {PROVEN}".replace("gap@6=0.003", "gap@6=0.013"))
    assert acts(finding)["wavy"] == "doubt" and not finding.moves
    assert "At 6 the face lies" in next(s.text for s in finding.seen if s.code == "wavy")
    bump = run("fence-straight", "gap@0=0.010 gap@6=0 gap@12=0.010 gap@18=0.010 gap@24=0.010 " + PROVEN)
    assert " out from an even bow" in next(s.text for s in bump.seen if s.code == "wavy")
    assert "wavy" not in codes(run("fence-straight", f"{EVEN} {PROVEN}".replace("gap@6=0.003", "gap@6=0.006")))


def test_proven_at_other_places() -> None:
    finding = run("fence-straight", f"{EVEN} scribed@6=0 scribed@13=0")
    assert acts(finding)["scribed-elsewhere"] == "refuse" and "13, 12, 18" in finding.refused[0].text
    assert "scribed-elsewhere" not in codes(run("fence-straight", f"{EVEN} {PROVEN} scribed@0=0"))


def test_one_place_twice() -> None:
    assert acts(run("fence-straight", "gap@0=0 gap@12=0.002 gap@12.0=0.003"))["same-place"] == "refuse"


def test_a_lopsided_straightedge() -> None:
    edge = Straightedge(lambda x: 0.01 * (x / 24.0) ** 3 * (1 - x / 24.0) * 4, 24.0)
    both = zip(AT, edge.gaps(FLAT, AT), edge.gaps(FLAT, AT, turned=True), strict=True)
    typed = [t for x, g, h in both for t in (f"gap@{x}={g:.6f}", f"turned@{x}={h:.6f}")]
    close = [t.replace("=0.00", "=0.000") for t in typed]
    assert "lopsided-straightedge" not in codes(run("fence-straight", close))
    far = [f"{t.split('=')[0]}={2 * float(t.split('=')[1]):.6f}" for t in typed]
    assert acts(run("fence-straight", far))["lopsided-straightedge"] == "doubt"


def test_nothing_touches() -> None:
    high = "gap@0=0.004 gap@6=0.006 gap@12=0.007 gap@18=0.006 gap@24=0.004 "
    assert acts(run("fence-straight", high + PROVEN))["lifted"] == "note"
    assert "lifted" not in codes(run("fence-straight", high.replace("@0=0.004", "@0=0.003") + PROVEN))


def test_few_places() -> None:
    assert acts(run("fence-straight", "gap@0=0 gap@12=0.004 gap@24=0"))["few-places"] == "note"


# --- drawings


@pytest.mark.parametrize(("fence", "keeper"), LAYOUTS)
def test_drawings(fence: str, keeper: str) -> None:
    for typed, n in ((EVEN, 1), ("gap@0=0.004 gap@12=0 gap@24=0.004", 2)):
        one = taken("fence-straight", typed, fence=fence, keeper=keeper)
        before, after = CHECK.draw(one, ()), CHECK.draw(one, CHECK.evaluate(one))
        assert ("on the far side" in before.told) == (fence == "far") and "five places" in before.told
        assert ("hollow by 0.0038" in after.told or "hollow by 0.004" in after.told) == (n == 1)
        shims = arrows(after)
        assert len(shims) == n and all((a.end[1] > a.start[1]) == (fence == "operator") for a in shims)  # into the work
    assert "far side" in CHECK.draw(RunInput(CHECK, ()), ()).told


# --- coverage


def test_coverage() -> None:
    assert 0.91 <= coverage(fence_straight, 300, seed=22)["fence-straight"] <= 0.98
