"""A move is said in the one unit that the hand reads."""

import math

import pytest

from trued.equipment.file.read_shop import read_shop
from trued.equipment.shop import Shop
from trued.standing.amounts.hand import hand_of

SLED = read_shop('name = "a"\nunit = "in"\n[[fixture]]\nid = "sled"\nkind = "crosscut-sled"\nradius = "18"\n')
METRIC = read_shop('name = "a"\nunit = "mm"\n[[fixture]]\nid = "sled"\nkind = "crosscut-sled"\nradius = "450"\n')


@pytest.mark.parametrize(
    ("feature", "kind", "amount", "shop", "value", "unit", "text", "typed"),
    [
        # 0.001 rad at 18 in is 0.0180 in; at 450 mm 0.45 mm; over a foot 0.0120 in, over 300 mm 0.30 mm: by hand.
        ("sled.fence-angle@0", "rad", 0.001, SLED, 0.018, "in", "0.0180 in at the screw", "0.0180"),
        ("sled.fence-angle@0", "rad", -0.001, METRIC, 0.45, "mm", "0.450 mm at the screw", "0.450"),
        ("sled.detent-angle@45closed", "rad", 0.001, SLED, 0.018, "in", "0.0180 in at the screw", "0.0180"),
        ("sled.fence-angle@0", "rad", 0.001, Shop(), 0.012, "in/ft", "0.0120 in/ft", "0.0120in/ft"),
        ("gauge.fence-angle@0", "rad", 0.001, METRIC, 0.3, "mm/300mm", "0.30 mm per 300 mm", "0.30mm/300mm"),
        ("sled.bar-swing", "rad", 0.001, SLED, 0.012, "in/ft", "0.0120 in/ft", "0.0120in/ft"),  # no screw moves it
        ("sled.fence-upright", "rad", 0.001, SLED, 0.012, "in/ft", "0.0120 in/ft", "0.0120in/ft"),
        ("saw.bevel@0", "rad", math.radians(0.088), SLED, 0.088, "deg", "0.088°", "0.088deg"),
        ("sled.stop-offset@0", "mm", 0.127, SLED, 0.005, "in", "0.0050 in", "0.0050"),
        ("wing.wing-step", "mm", 0.4, METRIC, 0.4, "mm", "0.400 mm", "0.400"),
    ],
)
def test_what_the_hand_reads(
    feature: str, kind: str, amount: float, shop: Shop, value: float, unit: str, text: str, typed: str
) -> None:
    hand = hand_of(amount, kind, feature, shop)
    assert hand.value == pytest.approx(value, rel=1e-5)
    assert (hand.unit, hand.text, hand.typed) == (unit, text, typed)


def test_an_order_is_a_step_that_feelers_make() -> None:
    """0.0106 in at the screw is ordered as 0.0105 in: no leaf of a common set shows the last ten-thousandth."""
    angle = 0.0106 / 18
    assert hand_of(angle, "rad", "sled.fence-angle@0", SLED, settable=True).typed == "0.0105"
    assert hand_of(angle, "rad", "sled.fence-angle@0", SLED).typed == "0.0106"
