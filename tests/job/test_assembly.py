"""Jobs written as whole pieces come to the sizes that were worked out with pencil and paper, to 0.001 in."""

import pytest
from tests.job.shops import NOTHING, holds

from trued.errors import InputRefused
from trued.job.assembly.joint import Joint, between
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.file.read import read_job
from trued.job.fits.fit import judge_fits, judge_job
from trued.job.geometry.unmeasured_errors import TypeBError
from trued.job.groups import default_groups
from trued.job.job import Job
from trued.units import in_inches

RACK = """
[measured]
t = "0.742"
[sizes]
outside = "min(14 7/16, 14 1/2, 14 9/16) - 1/16"
[[assembly]]
id = "rack"
kind = "shelf rack"
outside = ["outside", "30"]
depth = "3 1/2"
thickness = "t"
joint_depth = "1/4"
shelves = 4
rail_width = "3"
"""
DRAWER = """
[[assembly]]
id = "drawer"
kind = "drawer"
opening = "16"
slide = "1/2"
across = "14 33/64 + 0.470"
deep = "18"
height = "3 7/8"
thickness = "0.470"
joint = "rabbet"
joint_depth = "0.235"
groove = "0.235"
bottom_thickness = "0.205"
"""
CABINET = """
[sizes]
t = "0.703"
[[assembly]]
id = "carcass"
kind = "carcass"
outside = ["24 - 2*1/16", "30"]
depth = "15 1/4"
thickness = "t"
joint = "dado"
joint_depth = "1/4"
shelves = 1
back_thickness = "1/4"
[[assembly]]
id = "face"
kind = "frame"
outside = ["24", "30"]
width = "1 1/2"
thickness = "3/4"
[[assembly]]
id = "door"
kind = "door"
outside = ["(21 - 3*3/32)/2", "27 - 2*3/32"]
width = "2"
thickness = "3/4"
panel_thickness = "1/4"
"""
BY_HAND = {
    RACK: {"rack_side": (30, 3.5, 2), "rack_shelf": (13.375, 3.5, 4), "rack_rail": (12.891, 3, 2)},
    DRAWER: {
        "drawer_side": (18, 3.875, 2),
        "drawer_end": (14.5156, 3.875, 2),
        "drawer_bottom": (17.4675, 14.4531, 1),
    },
    CABINET: {
        "carcass_side": (30, 15.25, 2),
        "carcass_top": (22.969, 15.25, 2),
        "carcass_shelf": (22.344, 14.5, 1),
        "carcass_back": (29.2815, 23.1565, 1),  # 30 - 2 x 0.703 + 2 x 3/8 - 1/16 high; 23 5/32 wide
        "face_stile": (30, 1.5, 2),
        "face_rail": (21, 1.5, 2),
        "door_stile": (26.8125, 2, 2),
        "door_rail": (7.109, 2, 2),
        "door_panel": (23.4375, 6.984, 1),
    },
}


def sizes(job: Job) -> dict[str, tuple[float, float, int]]:
    return {
        part.id: (in_inches(part.length.exact_mm), in_inches(part.width.exact_mm), part.quantity)
        for part in job.parts
        if part.length is not None and part.width is not None
    }


@pytest.mark.parametrize("text", BY_HAND, ids=["rack", "drawer", "cabinet"])
def test_sizes_worked_by_hand(text: str) -> None:
    found = sizes(read_job(text))
    assert found.keys() == BY_HAND[text].keys()
    for id, by_hand in BY_HAND[text].items():
        assert found[id] == pytest.approx(by_hand, abs=0.001)


@pytest.mark.parametrize("text", BY_HAND, ids=["rack", "drawer", "cabinet"])
def test_their_fits_can_be_judged(text: str) -> None:
    job = read_job(text)
    fits = judge_fits(
        UncertaintyBudget(job, holds(repeat=0.02, rip_repeat=0.02), default_groups(job), (), TypeBError())
    )
    assert len(fits) == len(job.fits) and all(fit.sd_mm > 0.0 for fit in fits)
    exact = judge_fits(UncertaintyBudget(job, holds(), default_groups(job), (), NOTHING))
    for fit in exact:
        low, high = fit.limits_mm
        assert fit.mean_mm >= (-1e9 if low is None else low) and fit.mean_mm <= (1e9 if high is None else high)
    assert judge_job(UncertaintyBudget(job, holds(), default_groups(job), (), NOTHING)).chance is not None


def test_each_joint_says_what_it_added() -> None:
    job = read_job(CABINET)
    carcass, face, door = job.assemblies
    assert (carcass.id, carcass.kind) == ("carcass", "carcass")
    dado = "carcass_top: length by dado: outside less both neighbours, the joint's depth added at each end."
    assert dado in carcass.said
    assert any(said.startswith("face_rail: length by butt: outside less both") for said in face.said)
    assert any("door_panel: groove" in said for said in door.said)


@pytest.mark.parametrize(
    ("joint", "length"),
    # Outside 24, neighbours 3/4 each, joint 1/4 deep: by hand.
    [("butt", 22.5), ("rabbet", 23.0), ("dado", 23.0), ("mitre", 24.0)],
)
def test_a_box_by_its_joint(joint: str, length: float) -> None:
    text = f"""
[[assembly]]
id = "b"
kind = "box"
outside = ["24", "10"]
depth = "4"
thickness = "3/4"
joint = "{joint}"
joint_depth = "1/4"
"""
    assert sizes(read_job(text))["b_end"][0] == pytest.approx(length)
    inside = text.replace('outside = ["24", "10"]', 'inside = ["22 1/2", "8 1/2"]')
    for id, size in sizes(read_job(inside)).items():
        assert size == pytest.approx(sizes(read_job(text))[id])


@pytest.mark.parametrize(
    ("joint", "rail", "stile"), [("butt", 21, 30), ("half-lap", 24, 30), ("mitre", 24, 30), ("groove", 21.75, 30)]
)
def test_a_frame_by_its_joint(joint: str, rail: float, stile: float) -> None:
    text = f"""
[[assembly]]
id = "f"
kind = "frame"
outside = ["24", "30"]
width = "1 1/2"
thickness = "3/4"
joint = "{joint}"
joint_depth = "3/8"
"""
    job = read_job(text)
    assert (sizes(job)["f_rail"][0], sizes(job)["f_stile"][0]) == pytest.approx((rail, stile))
    kinds = [fit.kind for fit in job.fits]
    assert kinds == (["mitres", "diagonals"] if joint == "mitre" else ["diagonals"])


def test_a_size_of_an_assembly_can_be_used_elsewhere() -> None:
    job = read_job(CABINET + '[[part]]\nid = "mat"\nlength = "carcass_inside - 1/16"\nwidth = "4"\nthickness = "1/4"\n')
    assert sizes(job)["mat"][0] == pytest.approx(22.469 - 0.0625)


def test_a_fault_of_an_assembly_is_told_once() -> None:
    with pytest.raises(InputRefused) as caught:
        read_job('[[assembly]]\nid = "a"\nkind = "boks"\n')
    assert [fault.read for fault in caught.value.faults] == ["boks"]


def test_a_drawer_is_made_for_the_middle_of_its_room() -> None:
    """By hand: 16 - 1 less half of 1/32, where nobody says how wide it is to be."""
    job = read_job(DRAWER.replace('across = "14 33/64 + 0.470"\n', ""))
    fits = {one.name: one for one in judge_fits(UncertaintyBudget(job, holds(), default_groups(job), (), NOTHING))}
    assert fits["drawer, between its slides"].mean_mm == pytest.approx(25.4 / 64, abs=1e-4)
    assert sizes(job)["drawer_end"][0] == pytest.approx(15 - 1 / 64 - 0.470, abs=1e-4)


def test_what_all_parts_have_in_common_is_passed_on() -> None:
    job = read_job(RACK.replace("shelves = 4", 'shelves = 4\nmaterial = "pine"\ntolerance = "1/64"\nshow = true'))
    assert {part.material for part in job.parts} == {"pine"} and all(part.show for part in job.parts)
    assert all(part.tolerance is not None for part in job.parts)
    assert job.part("rack_shelf").together == "rack shelves"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (RACK.replace('id = "rack"', 'id = "my rack"'), "A name is letters, digits and _"),
        (RACK.replace("shelf rack", "bench"), "kind “bench”: Write one of box, carcass"),
        (RACK.replace("rail_width", "rail_with"), "Did you mean rail_width?"),
        (RACK.replace('depth = "3 1/2"', ""), 'depth: An assembly of this kind needs it; write depth = "…".'),
        (RACK.replace('outside = ["outside", "30"]', ""), "Say its size once"),
        (RACK.replace('["outside", "30"]', '["outside"]'), "Write 2 sizes in quotes"),
        (RACK.replace('thickness = "t"', 'thickness = "u"'), '[[assembly]] "rack", rack_thickness, column 1'),
        (CABINET.replace('joint = "dado"', 'joint = "half-lap"'), "A box is joined by butt, rabbet, dado or mitre"),
        (CABINET.replace('joint = "dado"', 'joint = "glue"'), "joint “glue”: Write one of butt"),
        (RACK + RACK[RACK.index("[[assembly]]") :], "This id is there more than once"),
        ("part = 3\n" + RACK, "Begin each with [[part]]"),
    ],
)
def test_what_is_wrong_is_told_at_its_place(text: str, said: str) -> None:
    with pytest.raises(InputRefused) as caught:
        read_job(text)
    assert said in str(caught.value)


def test_a_joint_without_depth_needs_none() -> None:
    assert between(Joint.BUTT, "24", "t", "0").length == "24 - 2*t"
    assert between(Joint.HALF_LAP, "24", "t", "0").length == "24"


@pytest.mark.parametrize(
    ("text", "fit", "gap"),
    # By hand: box 14.9856 in an opening of 16 less two slides of 1/2; shelves float by 1/64.
    [(DRAWER, "drawer, between its slides", 0.0144), (RACK, "rack, shelf in its dados", 0.0156)],
)
def test_gaps_worked_by_hand(text: str, fit: str, gap: float) -> None:
    job = read_job(text)
    found = {one.name: one for one in judge_fits(UncertaintyBudget(job, holds(), default_groups(job), (), NOTHING))}
    assert found[fit].mean_mm == pytest.approx(gap * 25.4, abs=0.001 * 25.4)
