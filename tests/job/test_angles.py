"""Parts whose ends are cut at an angle are known as such: by a fit of miters, by an assembly that is mitered."""

from trued.job.angles import needs_angles
from trued.job.file.read import read_job
from trued.plan.from_job import wants_of, without_stock
from trued.plan.problem import problems_of_angles

STOCK = """
[[stock]]
id = "B"
material = "ash"
length = "96"
width = "1 3/4"
thickness = "3/4"
"""
FRAME = """
[[assembly]]
id = "picture"
kind = "frame"
outside = ["16", "20"]
width = "1 3/4"
thickness = "3/4"
material = "ash"
joint = "mitre"
"""
BY_HAND = """
[[part]]
id = "long_side"
quantity = 2
material = "ash"
length = "20"
width = "1 3/4"
thickness = "3/4"
[[part]]
id = "short_side"
quantity = 2
material = "ash"
length = "16"
width = "1 3/4"
thickness = "3/4"
[[part]]
id = "slat"
material = "ash"
length = "9"
width = "1 3/4"
thickness = "3/4"
[[fit]]
id = "frame closes"
kind = "mitres"
sides = ["long_side@1", "short_side@1", "long_side@2", "short_side@2"]
width = "1 3/4"
at_least = "-1/64"
at_most = "1/64"
"""
BOX = """
[[assembly]]
id = "tray"
kind = "box"
outside = ["12", "8"]
depth = "1 3/4"
thickness = "3/4"
material = "ash"
joint = "{joint}"
joint_depth = "1/4"
"""


def test_the_parts_of_a_fit_of_miters_need_angles_and_their_neighbors_do_not() -> None:
    job = read_job(STOCK + BY_HAND)
    assert needs_angles(job) == ("long_side", "short_side")
    assert [want.id for want in wants_of(job)] == ["slat"]
    assert without_stock(job) == ()


def test_a_mitered_frame_and_a_mitered_box_need_angles() -> None:
    assert set(needs_angles(read_job(STOCK + FRAME))) == {"picture_stile", "picture_rail"}
    boxed = needs_angles(read_job(STOCK + BOX.format(joint="mitre").replace('joint_depth = "1/4"\n', "")))
    assert len(boxed) == 2
    assert needs_angles(read_job(STOCK + BOX.format(joint="rabbet"))) == ()


def test_the_problem_names_each_part_and_stands_against_the_plan() -> None:
    found = list(problems_of_angles(read_job(STOCK + BY_HAND)))
    assert [(one.code, one.about) for one in found] == [
        ("angles-not-planned", "long_side"),
        ("angles-not-planned", "short_side"),
    ]
    assert all(one.not_good and "for the other parts alone" in one.text for one in found)
    alone = list(problems_of_angles(read_job(STOCK + FRAME)))
    assert alone and all("other parts" not in one.text for one in alone)
