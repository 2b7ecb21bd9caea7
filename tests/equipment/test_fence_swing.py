"""Angles and sides of a fence: read, written without trailing zeros, and brought to the detent that is meant."""

import pytest

from trued.equipment.fence_swing import Detents, Turned, turned_of
from trued.equipment.file.read_shop import read_shop
from trued.equipment.file.shop_text import shop_text
from trued.errors import InputRefused
from trued.standing.typed_name import name_typed

SLED = """
name = "The shed"
unit = "in"
[[fixture]]
id = "sled"
kind = "crosscut-sled"
detents = { open = ["22.5"], closed = ["22 1/2", "30", "45"] }
"""


@pytest.mark.parametrize(
    ("suffix", "degrees", "swing", "again"),
    [
        ("0", 0.0, "", "0"),
        ("0closed", 0.0, "", "0"),
        ("45.0closed", 45.0, "closed", "45closed"),
        ("22.50 Open", 22.5, "open", "22.5open"),
        ("?", None, "", "?"),
    ],
)
def test_a_suffix_is_read_and_written(suffix: str, degrees: float | None, swing: str, again: str) -> None:
    turned = turned_of(suffix)
    assert (turned.degrees, turned.swing, turned.suffix) == (degrees, swing, again)


@pytest.mark.parametrize("suffix", ["95", "45left", "closed", "-45", "4 5"])
def test_what_is_no_angle_is_refused(suffix: str) -> None:
    with pytest.raises(InputRefused, match="degrees from a square cut"):
        turned_of(suffix)


def test_an_angle_near_a_detent_is_that_detent_and_the_only_side_is_filled_in() -> None:
    detents = Detents((22.5,), (22.5, 45.0))
    assert detents.nearest(Turned(45.4)) == Turned(45.0, "closed")
    assert detents.nearest(Turned(22.5)) == Turned(22.5)  # either side: it must be said
    assert detents.nearest(Turned(22.2, "open")) == Turned(22.5, "open")
    assert detents.nearest(Turned(31.7, "open")) == Turned(31.7, "open")  # set by hand
    assert Detents((), (45.0,)).nearest(Turned(31.7)) == Turned(31.7, "closed")  # it swings to one side only
    assert Detents().nearest(Turned(45.0)) == Turned(45.0)


def test_a_shop_file_names_its_detents_and_writes_them_again() -> None:
    shop = read_shop(SLED)
    assert shop.fixture("sled").detents == Detents((22.5,), (22.5, 30.0, 45.0))
    assert read_shop(shop_text(shop)) == shop
    with pytest.raises(InputRefused, match="detents"):
        read_shop(SLED.replace('"30"', '"95"'))


def test_names_are_filled_in_or_refused_with_the_names_that_are_meant() -> None:
    shop = read_shop(SLED)
    assert name_typed("detent-angle@45", shop) == "sled.detent-angle@45closed"
    assert name_typed("sled.stop-offset@45.2", shop) == "sled.stop-offset@45closed"
    assert name_typed("stop-offset", shop) == "sled.stop-offset@0"
    assert name_typed("tilt-90", shop) == "saw.bevel@0"
    assert name_typed("kerf", shop) == "blade.kerf"
    with pytest.raises(InputRefused, match=r"sled\.detent-angle@22\.5open or sled\.detent-angle@22\.5closed"):
        name_typed("detent-angle@22.5", shop)
    with pytest.raises(InputRefused, match=r"square cut.*sled\.detent-angle@45closed"):
        name_typed("sled.fence-angle@45closed", shop)
    with pytest.raises(InputRefused, match="at which angle"):
        name_typed("detent-angle", shop)
