"""Facts of a fixture as texts for a form, and lengths, weights and threads written so that they read back."""

from pathlib import Path

import pytest

from trued import units
from trued.drawing.shapes import Drawing
from trued.equipment.file.read_shop import read_shop
from trued.equipment.file.shop_text import shop_text
from trued.equipment.fixture_facts import facts_for, length_text, mass_text, thread_text
from trued.errors import InputRefused
from trued.procedure import Check, Example, Kind, ReadingSpec, SetupFact, Step, take

SHOP = read_shop((Path(__file__).parents[2] / "examples" / "shop.toml").read_text(encoding="utf-8"))


def _check() -> Check:
    """A check that asks for one gap and for facts; nothing is worked out here."""
    return Check(
        id="own", version=1, title="Own", purpose="to see", minutes=1.0, features=("own",), at_hand=("a rule",),
        cautions=("Saw off.",), asks=(ReadingSpec("gap", "the gap"),), steps=(Step("Read it.", ("gap",)),),
        evaluate=lambda _taken: (), moves=lambda _taken, _founds: (), blunders=(),
        draw=lambda _taken, _founds: Drawing("t", "t", ()),
        example=Example((), (), "common practice"), sources=("common practice",),
        facts=(
            SetupFact("fence", "fence", choices=("far", "operator")),
            SetupFact("keeper", "keeper", choices=("left", "right")),
            SetupFact("radius", "radius", Kind.LENGTH), SetupFact("thread", "thread", Kind.THREAD),
            SetupFact("plate", "plate", Kind.LENGTH), SetupFact("bar", "bar", Kind.LENGTH),
        ),
    )  # fmt: skip


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_form_reads_the_facts_whatever_its_unit(unit: str) -> None:
    taken = take(_check(), ["gap=1"], facts_for(SHOP, "sled"), unit=unit)  # type: ignore[arg-type]
    assert (taken.word("fence"), taken.word("keeper")) == ("far", "left")
    assert taken.number("radius") == pytest.approx(457.2) and taken.number("thread") == pytest.approx(1.27)
    assert taken.number("plate") == pytest.approx(0.067 * 25.4) and taken.number("bar") == pytest.approx(508.0)


def test_a_shop_of_which_little_is_known_gives_little() -> None:
    bare = read_shop('[saw]\n[blade]\n[[fixture]]\nid = "w"\nkind = "wing"\nload_tested = false')
    assert facts_for(bare, "w") == {"load_tested": "no"}
    assert facts_for(read_shop('[[fixture]]\nid = "w"\nkind = "wing"'), "w") == {}


def test_a_reason_is_kept_in_the_persons_words() -> None:
    text = '[[fixture]]\nid = "w"\nkind = "wing"\nside = "far"\nsize = ["12", "18"]\ncounted_because = "held  80 lb"'
    shop = read_shop(text)
    assert shop.wings[0].counted_because == "held 80 lb" and not shop.wings[0].load_tested
    assert read_shop(shop_text(shop)) == shop
    with pytest.raises(InputRefused, match="Say why"):
        read_shop(text.replace("held  80 lb", " "))


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (457.2, "in", "18"), (292.1, "in", "11 1/2"), (2.3876, "in", "0.094"), (0.025, "in", "0.025mm"),
        (0.0, "in", "0mm"), (127.0, "mm", "127"), (2.3876, "mm", "2.3876"),
    ],
)  # fmt: skip
def test_lengths_are_written_as_a_person_would(mm: float, unit: units.Unit, text: str) -> None:
    assert length_text(mm, unit) == text
    assert units.read_length(text, unit).mm == mm


def test_weights_and_threads_read_back() -> None:
    assert mass_text(units.read_mass("66 lb"), "in") == "66 lb"
    assert mass_text(units.read_mass("66 lb"), "mm") == "66 lb"
    assert mass_text(5.5, "mm") == "5.5 kg"
    assert mass_text(1 / 3, "mm") == "0.3333333 kg"
    assert thread_text(1.27) == "20/in" and thread_text(1.0) == "1mm" and thread_text(1.25) == "1.25mm"
    assert thread_text(25.4) == "1/in"


def test_a_fixture_gives_words_and_numbers_only_as_such() -> None:
    sled = SHOP.fixture("sled")
    assert sled.word("radius") == "" and sled.number("fence") is None and sled.number("nothing") is None
    assert hash(sled) == hash(SHOP.fixture("sled"))
