"""The example jobs come to the sizes that were worked out by hand, to 0.001 in.

Each job was worked with pencil and paper before the program was written.
"""

from fractions import Fraction
from pathlib import Path

import pytest
from tests.job.shops import NOTHING, holds

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.expression.tree import Side
from trued.job.file.read import read_job
from trued.job.fits.fit import judge_fits
from trued.job.groups import default_groups
from trued.job.job import Job, Method
from trued.units import in_inches, in_mm

ROOT = Path(__file__).parents[2]
VARIANTS = sorted((ROOT / "tests" / "data" / "jobs").glob("*.toml"))

BY_HAND = {
    "rack": {"side": (30, 3.5, 2), "shelf": (13.375, 3.5, 4), "rail": (12.891, 3, 2)},
    "drawers": {
        **{f"{name}_side": (18, height, 2) for name, height in (("low", 3), ("mid", 3.875), ("tall", 4.75))},
        **{f"{name}_end": (14.5156, height, 2) for name, height in (("low", 3), ("mid", 3.875), ("tall", 4.75))},
        "bottom": (14.4531, 17.4675, 3),
    },
    "carcass": {"side": (30, 15.25, 2), "top": (22.969, 15.25, 2), "shelf": (22.344, 14.5, 1)},
}


def example(name: str) -> Job:
    return read_job((ROOT / "examples" / f"{name}.toml").read_text(encoding="utf-8"))


def sizes(job: Job) -> dict[str, tuple[float, float, int]]:
    found = {}
    for part in job.ready:
        assert part.length is not None and part.width is not None
        found[part.id] = (in_inches(part.length.exact_mm), in_inches(part.width.exact_mm), part.quantity)
    return found


@pytest.mark.parametrize("name", sorted(BY_HAND))
def test_sizes_worked_by_hand(name: str) -> None:
    found = sizes(example(name))
    assert found.keys() == BY_HAND[name].keys()
    for id, by_hand in BY_HAND[name].items():
        assert found[id] == pytest.approx(by_hand, abs=0.001)


GAPS_BY_HAND = {
    # rail + two dados - shelf = 12.891 + 1/2 - 13.375; bay - outside = 14 7/16 - 14 3/8; mates are meant alike.
    "rack": {"shelf in its dados": 0.0156, "rack between the studs": 0.0625, "shelves alike": 0.0},
    # 16 - 1 - (14.5156 + 0.470); 14.5156 - 0.470 + 2 * 0.235 - 14.4531.
    "drawers": {"box between its slides": 0.0144, "bottom in its grooves": 0.0625, "mates alike": 0.0},
    # 24 - (22.969 - 1/2 + 2 * 0.703); 22.969 - 1/2 - 22.344.
    "carcass": {"frame over the carcass": 0.125, "shelf between the sides": 0.125, "sides alike": 0.0},
}


@pytest.mark.parametrize("name", sorted(GAPS_BY_HAND))
def test_gaps_worked_by_hand(name: str) -> None:
    job = example(name)
    fits = judge_fits(UncertaintyBudget(job, holds(), default_groups(job), (), NOTHING))
    found = {fit.name: in_inches(Fraction(fit.mean_mm)) for fit in fits}
    assert found == {fit: pytest.approx(gap, abs=0.001) for fit, gap in GAPS_BY_HAND[name].items()}


@pytest.mark.parametrize("path", VARIANTS, ids=lambda path: path.stem)
def test_every_variant_is_its_example_times_its_factor(path: Path) -> None:
    job, factor = read_job(path.read_text(encoding="utf-8")), 1.037 if "scaled" in path.stem else 1.0
    whole = sizes(example(path.stem.split("_")[0]))
    assert sizes(job) == {
        id: pytest.approx((length * factor, width * factor, copies)) for id, (length, width, copies) in whole.items()
    }


def test_what_the_variants_change() -> None:
    jobs = {path.stem: read_job(path.read_text(encoding="utf-8")) for path in VARIANTS}
    assert jobs["rack_rough"].method is Method.ROUGH
    assert jobs["rack_knot"].stock[0].defects
    assert {part.grain for part in jobs["carcass_48_turning"].parts} == {"any"}
    assert {part.grain for part in jobs["carcass_48_grain"].parts} == {"length"}
    kerf = jobs["rack_scaled"].kerf
    assert kerf is not None and kerf.mm == pytest.approx(in_mm(0.087))


def test_doors_come_to_their_sizes_once_the_opening_is_measured() -> None:
    # A frame opening of 21 x 27 in: two doors 10 23/64 x 26 13/16 with gaps of 3/32, by hand.
    text = (ROOT / "examples" / "carcass.toml").read_text(encoding="utf-8")
    assert [part.id for part in example("carcass").waiting] == ["door"]
    text = text.replace('door_wide = "measured"', 'door_wide = "21"').replace(
        'door_high = "measured"', 'door_high = "27"'
    )
    assert sizes(read_job(text))["door"] == pytest.approx((26.8125, 10.359, 2), abs=0.001)


def test_thickness_is_never_the_nominal_one() -> None:
    # With 0.750 for the ply the top comes out 22 7/8: 0.094 too short, by hand.
    text = (ROOT / "examples" / "carcass.toml").read_text(encoding="utf-8").replace('"0.703"', '"0.750"')
    assert sizes(read_job(text))["top"][0] == pytest.approx(22.875)
    thickness = example("carcass").part("side").size(Side.THICKNESS)
    assert thickness is not None and thickness.mm == pytest.approx(in_mm(0.703))
