"""The shop file: read exactly, refused with all faults and their places, merged, and written again."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.equipment.file.read_shop import read_shop
from trued.equipment.file.shop_text import shop_text
from trued.equipment.fixture import Fixture
from trued.equipment.merge_shop import merge_shop
from trued.equipment.saw import Blade, Saw, Table
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.measure.distribution.standard_deviation import EstimatedSd

EXAMPLE = (Path(__file__).parents[2] / "examples" / "shop.toml").read_text(encoding="utf-8")
SLED = '[[fixture]]\nid = "sled"\nkind = "crosscut-sled"\n'


def test_the_invented_shop() -> None:
    """The demo machine, written in inches, in millimetres (25.4 to the inch, by hand)."""
    shop = read_shop(EXAMPLE)
    assert shop.saw is not None and shop.blade is not None and shop.sled is not None
    assert shop.saw.table == Table(279.4, 577.85, 292.1, 266.7)
    assert shop.saw.max_cut_mm == {90: pytest.approx(72.39), 45: pytest.approx(49.53)}
    assert shop.saw.weight_kg == pytest.approx(66 * 0.45359237) and shop.saw.forbids("dado-stack")
    assert shop.blade.kerf_mm == pytest.approx(2.3876)
    assert shop.sled.number("radius") == pytest.approx(457.2) and shop.sled.number("thread") == pytest.approx(1.27)
    assert shop.sled.keeper == "left"
    wing, outfeed = shop.wings
    assert (outfeed.side, outfeed.held) == ("far", "floor")
    assert (wing.side, wing.out_mm, wing.along_mm, wing.load_tested) == ("keeper", 304.8, 457.2, True)
    assert shop.table_edge("keeper") == 279.4 and shop.table_edge("offcut") == 577.85
    assert shop.table_edge("operator") == 292.1 and shop.table_edge("far") == 266.7
    assert shop.instruments[0].limit == pytest.approx(0.0254) and shop.instruments[0].digital


def refused(text: str) -> list[str]:
    with pytest.raises(InputRefused) as caught:
        read_shop(text)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("  \n", "empty"),
        ("name = ", "not TOML"),
        ('nam = "x"', "Did you mean name?"),
        ("trued = 2", "form 1"),
        ('unit = "inch"', "'inch' is not one of the answers"),
        ("saw = 3", "saw holds several values"),
        ('fixture = "sled"', "under its own [[fixture]]"),
        ('[saw]\nslott = "5"', "Did you mean slot?"),
        ('[saw]\nslot = "0"', "more than 0"),
        ('[saw]\nslot = "-5"', "no sign"),
        ('[saw]\nslot = "1,500"', "comma with three digits"),
        ("[saw]\nslot = true", "Write it as text"),
        ('[saw]\nweight = "54"', "12lb"),
        ('[saw]\nweight = "0 lb"', "more than 0"),
        ('[saw]\ntable = "11"', "several values"),
        ('[saw]\ntable = { lft = "11" }', "Did you mean left?"),
        ('[saw]\nmax_cut = { steep = "3" }', "angle between blade and table"),
        ('[saw]\nmax_cut = { "95" = "3" }', "angle between blade and table"),
        ('[saw]\nmax_cut = { "45" = "wide" }', "45"),
        ('[saw]\nmaker_forbids = "dado-stack"', "Write a list"),
        ('[saw]\nmaker_forbids = ["dado-stak"]', "Did you mean dado-stack?"),
        ('[saw]\ntilts_to = "up"', "left, right"),
        ('[saw]\nspeed = "fast"', "whole number"),
        ('[saw]\nid = "My Saw"', "small letters"),
        ('[blade]\nplate = "0.1"\nkerf = "0.09"', "wider than the plate"),
        ('[[fixture]]\nkind = "wing"', 'id = "sled"'),
        ('[[fixture]]\nid = "sled"', "Say what it is"),
        ('[[fixture]]\nid = "sled"\nkind = "sledge"', "'sledge' is not one of the answers"),
        (SLED + 'radus = "18"', "Did you mean radius?"),
        (SLED + 'radius = "0"', "more than 0"),
        (SLED + 'fence = "front"', "far, operator"),
        (SLED + 'thread = "coarse"', "1/4-20"),
        (SLED + 'size = "20"', "two sizes"),
        (SLED + 'size = ["20", "0"]', "more than 0"),
        (SLED + 'retired = "perhaps"', "retired = true"),
        (SLED + SLED, "Two are called"),
        ('[[fixture]]\nid = "w"\nkind = "wing"\nload_tested = 3', "load_tested = true"),
        ('[[instrument]]\nid = "c"', "Say what it is"),
        ('[[instrument]]\nid = "c"\nkind = "calliper"', "Did you mean caliper?"),
        ('[[instrument]]\nid = "g"\nkind = "angle-gauge"\nresolution = "3"', "0.1deg"),
        ('[[instrument]]\nid = "g"\nkind = "angle-gauge"\nresolution = "0deg"', "more than 0"),
    ],
)
def test_each_fault_is_a_sentence(text: str, said: str) -> None:
    (fault,) = refused(text)
    assert said in fault


def test_all_faults_at_once_with_their_places() -> None:
    faults = refused(f'nam = "x"\n[saw]\nslot = "five"\n{SLED}radius = "0"\n[[instrument]]\nid = "c"\nkind = "ruler"\n')
    assert [fault.split(" “")[0].split(":")[0] for fault in faults] == [
        "saw, slot", '[[fixture]] "sled", radius', '[[instrument]] "c", kind', "nam",
    ]  # fmt: skip


def test_plain_numbers_are_read_as_they_were_written() -> None:
    assert (
        read_shop("[blade]\nkerf = 0.094\nplate = 0.067").blade
        == read_shop('[blade]\nkerf = "0.094"\nplate = "0.067"').blade
    )


def test_millimetre_shop() -> None:
    saw = read_shop('unit = "mm"\n[saw]\nslot = "127"').saw
    assert saw is not None and saw.slot_mm == 127.0
    assert read_shop('[saw]\nslot = "127"', "mm").unit == "mm"


def test_an_angle_gauge_has_angles() -> None:
    (gauge,) = read_shop(
        '[[instrument]]\nid = "g"\nkind = "angle-gauge"\nlimit = "0.1deg"\nrepeat = "0.05deg"'
    ).instruments
    assert gauge.limit == pytest.approx(0.0017453, abs=1e-7) and gauge.repeat.s == pytest.approx(0.00087266, abs=1e-7)


def test_a_second_file_changes_what_it_names() -> None:
    shop = read_shop(EXAMPLE)
    text = (
        '[saw]\ntable = { left = "12" }\nmax_cut = { "30" = "2" }\n[blade]\nid = "thin"\nkerf = "0.1"\n'
        '[[fixture]]\nid = "sled"\nradius = "17"\n[[fixture]]\nid = "wing"\nretired = true\n'
        '[[instrument]]\nid = "caliper-1"\nrepeat = "0.001"\n'
    )
    after = merge_shop(shop, read_shop(text, known=shop))
    assert after.saw is not None and shop.saw is not None and after.blade is not None and after.sled is not None
    assert after.saw == replace(
        shop.saw, table=replace(shop.saw.table, left_mm=304.8), max_cut_mm={**shop.saw.max_cut_mm, 30: 50.8}
    )
    assert after.blade.kerf_mm == pytest.approx(2.54) and after.blade.plate_mm == pytest.approx(0.067 * 25.4)
    assert after.sled.number("radius") == pytest.approx(431.8) and after.sled.word("fence") == "far"
    assert [f.id for f in after.fixtures] == ["sled", "wing", "outfeed"]
    assert [f.id for f in after.in_use] == ["sled", "outfeed"]
    assert after.instruments[0] == replace(shop.instruments[0], repeat=EstimatedSd(0.0254, 10))
    assert after.name == shop.name and len(after.instruments) == 3


def test_a_second_file_adds_and_never_deletes() -> None:
    shop = read_shop(EXAMPLE)
    text = 'name = "Two sleds"\n[blade]\nid = "full"\nkerf = "0.125"\n[[fixture]]\nid = "gauge"\nkind = "mitre-gauge"\n'
    after = merge_shop(shop, read_shop(text, known=shop))
    assert after.name == "Two sleds" and [f.id for f in after.fixtures] == ["sled", "wing", "outfeed", "gauge"]
    assert after.blade == Blade("full", None, pytest.approx(3.175))  # another blade: nothing is known of its plate
    assert after.saw == shop.saw
    assert merge_shop(Shop(), shop) == shop
    assert merge_shop(shop, read_shop('name = "x"', known=shop)).blade == shop.blade


def test_a_fixture_stays_retired_until_the_file_says_otherwise() -> None:
    shop = read_shop(SLED + "retired = true")
    named = merge_shop(shop, read_shop('[[fixture]]\nid = "sled"\nradius = "17"', known=shop))
    assert named.fixture("sled").retired and named.sled is None
    assert not merge_shop(shop, read_shop(SLED + "retired = false", known=shop)).fixture("sled").retired


def test_another_kind_under_the_same_id_is_another_thing() -> None:
    shop = read_shop(SLED + 'radius = "18"')
    after = merge_shop(shop, read_shop('[[fixture]]\nid = "sled"\nkind = "mitre-gauge"', known=shop))
    assert after.fixtures == (Fixture("sled", "mitre-gauge"),)


def test_a_blade_that_cannot_be_is_refused_on_merging_too() -> None:
    shop = read_shop('[blade]\nid = "b"\nplate = "0.09"')
    with pytest.raises(InputRefused, match="wider than the plate"):
        merge_shop(shop, read_shop('[blade]\nid = "b"\nkerf = "0.08"', known=shop))


def test_the_example_is_written_and_read_again() -> None:
    shop = read_shop(EXAMPLE)
    assert read_shop(shop_text(shop)) == shop
    assert 'radius = "18"' in shop_text(shop) and 'thread = "20/in"' in shop_text(shop)


lengths = st.integers(1, 99_999).map(lambda n: f"{n / 1000:.3f}") | st.integers(1, 999).map(lambda n: f"{n}/64")
maybe = st.none() | lengths
hands = st.none() | st.sampled_from(["left", "right"])
marks = st.sampled_from(["", "mm", " in"])


def _said(values: dict[str, str | None]) -> str:
    return "".join(f'{key} = "{value}"\n' for key, value in values.items() if value is not None)


@given(st.data(), st.sampled_from(["in", "mm"]), st.text(max_size=12))
def test_every_shop_is_written_and_read_again(data: st.DataObject, unit: str, name: str) -> None:
    def size() -> str | None:
        text, mark = data.draw(maybe), data.draw(marks)
        if text is None:
            return None
        fraction = "/" in text
        return f"{text} in" if fraction and (unit == "mm" or mark == "mm") else f"{text}{mark}"

    saw = _said({"slot": size(), "feet": size(), "rip": size(), "slot_side": data.draw(hands), "weight": "12.5 kg"})
    sled = _said({"radius": size(), "bar": size(), "base": size(), "weight": "9.25 lb", "thread": "M6x1"})
    caliper = '[[instrument]]\nid = "c"\nkind = "caliper"\n' + _said({"resolution": size(), "repeat": size()})
    gauge = '[[instrument]]\nid = "g"\nkind = "angle-gauge"\nlimit = "1.25mrad"\n'
    forbids = data.draw(st.sampled_from(["", "maker_forbids = []\n", 'maker_forbids = ["wing"]\n']))
    speed = 'speed = "4000"\n[blade]\nid = "b"\nmax_speed = "6000"\nbore = "5/8 in"\n'
    text = f'unit = "{unit}"\n[saw]\n{saw}{forbids}{speed}{SLED}{sled}retired = true\n{caliper}{gauge}'
    shop = replace(read_shop(text), name=name)
    again = read_shop(shop_text(shop))
    assert replace(again, instruments=()) == replace(shop, instruments=())
    assert again.instruments[0] == shop.instruments[0]
    assert again.instruments[1].limit == pytest.approx(shop.instruments[1].limit, rel=1e-6)


def test_values_cannot_be_built_wrong() -> None:
    with pytest.raises(ValueError, match="share an id"):
        Shop(fixtures=(Fixture("a", "wing"), Fixture("a", "wing")))
    with pytest.raises(ValueError, match="is one of"):
        Fixture("a", "sledge")
    with pytest.raises(ValueError, match="wider than the plate"):
        Blade("b", 3.0, 2.0)


def test_a_fixture_is_found_by_its_id() -> None:
    shop = read_shop(EXAMPLE)
    with pytest.raises(InputRefused, match=r"Did you mean sled\?"):
        shop.fixture("sledd")
    with pytest.raises(InputRefused, match="no fixture yet"):
        Shop().fixture("sled")


def test_what_is_not_known_is_none() -> None:
    assert Shop().table_edge("far") is None and Shop().sled is None
    assert Shop(saw=Saw("saw", Table(far_mm=1.0))).table_edge("keeper") is None
    assert Shop(saw=Saw("saw", Table(far_mm=1.0))).table_edge("far") == 1.0
    assert not Saw("saw").forbids("wing") and Fixture("f", "wing").keeper is None
    right = Shop(saw=Saw("saw", Table(1.0, 2.0)), fixtures=(Fixture("s", "mitre-gauge", {"keeper": "right"}),))
    assert right.table_edge("keeper") == 2.0 and right.table_edge("offcut") == 1.0
    assert right.table_edge("keeper", "left") == 1.0
    assert Shop(fixtures=(Fixture("w", "wing", {"side": "far"}),)).wings == ()


@pytest.mark.parametrize(
    ("lines", "limit_mm", "source"),
    [
        # MI-008 table 1: class II from the hook over 1 m, 0.3 + 0.2 + 0.2 mm; class I over 5 m, 0.1 + 0.5 + 0.1 mm.
        ('kind = "tape"\nclass = "II"\nrange = "1000mm"', 0.7, "class II of OIML R 35-1"),
        ('kind = "tape"\nclass = "I"', 0.7, "class I of OIML R 35-1"),
        # DIN 875-1 grade 1 (from memory): 10 + 100 / 20 micrometres at the end of a blade of 100 mm.
        ('kind = "square"\ngrade = "1"\nblade = "100mm"', 0.015, "grade 1 of DIN 875"),
    ],
)
def test_a_limit_by_the_class_of_a_standard(lines: str, limit_mm: float, source: str) -> None:
    (one,) = read_shop(f'[[instrument]]\nid = "mine"\n{lines}').instruments
    assert one.limit == pytest.approx(limit_mm) and source in one.source


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ('kind = "tape"\nclass = "IV"', "I, II, III"),
        ('kind = "tape"\nclass = "II"\nlimit = "1mm"', "not both"),
        ('kind = "square"\ngrade = "1"', "how long its blade is"),
        ('kind = "caliper"\nclass = "II"', "Nothing here is called 'class'"),
    ],
)
def test_a_class_that_says_too_little(lines: str, said: str) -> None:
    with pytest.raises(InputRefused, match=said):
        read_shop(f'[[instrument]]\nid = "mine"\n{lines}')
