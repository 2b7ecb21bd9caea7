"""Flatness: lines that are really laid on surfaces, the twist that no bow of the straightedge can fake, blunders."""

import pytest
from tests.checks.drawn import arrows, labels
from tests.checks.ran import acts, codes, coverage, estimate, run, taken
from tests.checks.simulated_table import smallest_zone, table
from tests.worlds.table import ENDS, Surface

from trued.checks.table import CHECK, DIAGONALS, EDGES, heights, twist_of
from trued.procedure import RunInput

FLAT = " ".join(f"hollow@{line}=0" for line in EDGES)
TWISTED = f"surface=table {FLAT} hollow@diagonal-keeper=0.010 crown@diagonal-offcut=0.010 edge_limit=0.001"
MIDDLE = "hollow@middle-across=0 hollow@middle-along=0"
INCH = 25.4


def readings_of(surface: Surface, what: str = "table", own: float = 0.0) -> list[str]:
    typed = [f"surface={what}"]
    for line in ENDS:
        sag = surface.sag(line, lambda s, length: own * 4 * s * (length - s) / length**2)
        typed.append(f"{'hollow' if sag > 0 else 'crown'}@{line}={abs(sag):.7f}mm")
    return typed


def bent(twist: float, across: float, along: float) -> Surface:
    """Height from -1 to 1 each way, with a tilt that must not matter."""
    return Surface(
        lambda x, y: (
            twist * (x / 280 - 1) * (y / 250 - 1) + across * (x / 280 - 1) ** 2 + along * (y / 250 - 1) ** 2 + x / 70
        )
    )


# --- the sum, on surfaces that are really read


@pytest.mark.parametrize(("twist", "across", "along"), [(0.3, 0, 0), (0, 0.4, 0), (0.2, -0.3, 0.25), (-0.1, 0.2, 0.5)])
def test_the_flatness_is_that_of_the_nine_places(twist: float, across: float, along: float) -> None:
    surface = bent(twist, across, along)
    finding = run("table", [*readings_of(surface), "edge_limit=0.001"])
    assert estimate(finding, "table-flat").value == pytest.approx(smallest_zone(surface.nine()), abs=2e-5)
    assert estimate(finding, "table-at-blade").value == pytest.approx(along, abs=2e-5)
    assert "does-not-close" not in codes(finding)


def test_the_nine_places_of_a_saddle() -> None:
    places = {(x, y): z for x, y, z in heights([0.0, 0.0, 0.0, 0.0, 0.01, -0.01])}
    assert [places[p] for p in ((0, 0), (2, 0), (2, 2), (0, 2))] == pytest.approx([0.01, -0.01, 0.01, -0.01])
    assert places[1, 1] == pytest.approx(0.0)


def test_worked_by_hand() -> None:
    """Corners 0.010 up and down in turn: 0.020 between two planes, one corner 0.040 off the plane of the others."""
    one = taken("table", TWISTED)
    finding = run("table", TWISTED)
    found = estimate(finding, "table-flat")
    assert found.value == pytest.approx(0.020 * INCH) and found.decision == "proven-out"
    assert twist_of(one) == pytest.approx(0.040 * INCH)
    (move,) = finding.moves
    assert "below the operator's offcut corner or the far keeper corner" in move.text and move.amount_mm is None
    other = run(
        "table", TWISTED.replace("hollow@diagonal", "x@").replace("crown@", "hollow@").replace("x@", "crown@diagonal")
    )
    assert "below the operator's keeper corner or the far offcut corner" in other.moves[0].text


def test_the_low_corner_is_low() -> None:
    """Twist above 0 here lifts the corners at the operator's keeper side and the far offcut side."""
    surface = bent(0.3, 0, 0)
    one = taken("table", [*readings_of(surface), "edge_limit=0.001"])
    assert twist_of(one) == pytest.approx(4 * 0.3, abs=1e-5)
    shimmed = bent(0.0, 0, 0)  # the two low corners brought up until both diagonals read alike
    assert estimate(run("table", [*readings_of(shimmed), "edge_limit=0.001"]), "table-flat").value < 1e-4


def test_a_platform_is_another_feature() -> None:
    finding = run("table", [*readings_of(bent(0.3, 0, 0), "platform"), "edge_limit=0.001"])
    assert {e.feature for e in finding.estimates} == {"platform-flat", "table-at-blade"}
    (move,) = [m for m in finding.moves if m.feature == "platform-flat"]
    assert "Lay the sled on a flat table" in move.text and move.where == "platform"


def test_beside_the_blade() -> None:
    for sag, words in (("hollow", "0.0120 in hollow"), ("crown", "0.0120 in crowned")):
        finding = run("table", f"{TWISTED} {sag}@blade=0.012")
        assert words in next(m.text for m in finding.moves if m.feature == "table-at-blade")


# --- the straightedge


def test_a_bow_of_the_straightedge_leaves_the_twist_alone() -> None:
    """A flat table, a straightedge hollow by 0.1 mm over every length: nothing is out, nothing is moved."""
    one = taken("table", readings_of(Surface(lambda _x, _y: 0.0), own=0.1))
    finding = run("table", readings_of(Surface(lambda _x, _y: 0.0), own=0.1))
    assert twist_of(one) == pytest.approx(0.0, abs=1e-9)
    assert estimate(finding, "table-flat").decision == "not-proven" and not finding.moves
    assert acts(finding)["straightedge-not-proven"] == "note"
    labels = {c.label for c in estimate(finding, "table-flat").components}
    assert "straightedge: not proven" in labels


def test_a_proven_straightedge_is_taken_off() -> None:
    proof = " ".join(f"scribed@{name}=0.2mm" for name in ("across", "along", "diagonal"))
    typed = [*readings_of(Surface(lambda _x, _y: 0.0), own=0.1), *proof.split()]
    finding = run("table", typed)
    assert estimate(finding, "table-flat").value == pytest.approx(0.0, abs=1e-6)
    assert "straightedge-not-proven" not in codes(finding)


# --- blunders: each made, and one that comes close


def test_a_good_run_warns_of_nothing() -> None:
    assert codes(run("table", f"{TWISTED} {MIDDLE} hollow@blade=0")) <= {"one-run"}


def test_a_line_that_is_missing() -> None:
    finding = run("table", TWISTED.replace("hollow@far=0 ", ""))
    assert acts(finding)["lines-missing"] == "refuse" and finding.refused[0].text.startswith("far:")


def test_hollow_and_crowned_at_once() -> None:
    finding = run("table", f"{TWISTED} crown@diagonal-keeper=0.002")
    assert acts(finding)["hollow-and-crown"] == "refuse"
    assert "hollow-and-crown" not in codes(run("table", f"{TWISTED} crown@diagonal-keeper=0"))


def test_lines_that_do_not_fit_together() -> None:
    """A diagonal typed hollow that was crowned: the lines through the middle say otherwise."""
    finding = run("table", f"{TWISTED} {MIDDLE}".replace("crown@diagonal", "hollow@diagonal"))
    assert acts(finding)["does-not-close"] == "doubt" and not finding.moves
    near = f"{TWISTED} hollow@middle-across=0.003 hollow@middle-along=0"
    assert "does-not-close" not in codes(run("table", near))


def test_a_rule_that_bends_shows_nothing() -> None:
    flat = "surface=table " + " ".join(f"hollow@{line}=0" for line in (*EDGES, *DIAGONALS))
    finding = run("table", flat)
    assert acts(finding)["straightedge-bends"] == "note"
    assert "straightedge-bends" not in codes(run("table", flat.replace("far=0", "far=0.002")))


# --- drawings


@pytest.mark.parametrize("keeper", ["left", "right"])
def test_drawings(keeper: str) -> None:
    one = taken("table", TWISTED, keeper=keeper)
    before, after = CHECK.draw(one, ()), CHECK.draw(one, CHECK.evaluate(one))
    side = {label.text: label.at[0] for label in labels(before)}
    assert (side["keeper"] < 0) == (keeper == "left") and "along both diagonals" in before.told
    low = [label.at for label in labels(after) if label.text == "low -0.010"]
    assert len(low) == 2 and {(x * y > 0) for x, y in low} == {keeper == "right"}
    assert len(arrows(after)) == 2 and "0.0200 in apart" in after.told
    metric = taken("table", readings_of(bent(-0.2, 0.1, 0), "platform"), "mm")
    assert "sled's platform" in CHECK.draw(metric, CHECK.evaluate(metric)).told
    assert "saw's table" in CHECK.draw(RunInput(CHECK, ()), ()).told


# --- coverage


def test_coverage() -> None:
    held = coverage(table, 100, seed=25)
    assert all(0.88 <= held[feature] <= 0.99 for feature in ("table-flat", "table-at-blade"))
