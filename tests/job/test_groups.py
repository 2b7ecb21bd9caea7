"""Which cuts share a setting while there is no plan."""

from trued.job.expression.tree import Side
from trued.job.file.read import read_job
from trued.job.groups import CutGroup, default_groups

PARTS = """
[[part]]
id = "side"
quantity = 2
length = "30"
width = "3"
thickness = "1"
together = "frame"
[[part]]
id = "rail"
quantity = 2
length = "12"
width = "3"
thickness = "1"
together = "frame"
[[part]]
id = "spare"
length = "30"
width = "3"
thickness = "1"
[[part]]
id = "door"
length = "measured"
width = "3"
thickness = "1"
"""


def test_copies_share_a_setting_and_parts_together_do_where_the_size_is_the_same() -> None:
    groups = default_groups(read_job(PARTS))
    assert set(groups) == {("side", 1), ("side", 2), ("rail", 1), ("rail", 2), ("spare", 1)} and len(groups) == 5
    assert groups["side", 1] == groups["side", 2]
    assert groups["side", 1].length_setting != groups["rail", 1].length_setting
    assert groups["side", 1].width_setting == groups["rail", 1].width_setting
    assert groups["side", 1].length_setting != groups["spare", 1].length_setting


def test_a_group_by_side() -> None:
    group = CutGroup("S1", "S2", "sled", "B1/1", "guided saw", 300.0, 80.0)
    assert (group.setting(Side.LENGTH), group.where(Side.LENGTH), group.reading_mm(Side.LENGTH)) == (
        "S1",
        "sled",
        300.0,
    )
    assert (group.setting(Side.WIDTH), group.where(Side.WIDTH), group.reading_mm(Side.WIDTH)) == (
        "S2",
        "guided saw",
        80.0,
    )
