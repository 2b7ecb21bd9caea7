"""A job file as a person writes it, and every way in which it may be wrong."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from trued.errors import InputRefused
from trued.job.file.read import read_job
from trued.job.job import Job, Method
from trued.job.part import Grain
from trued.job.stock import StockGrain
from trued.units import in_mm

PART = '\n[[part]]\nid = "{0}"\nlength = "{1}"\nwidth = "3"\nthickness = "3/4"\n'


def part(id: str = "side", length: str = "30") -> str:
    return PART.format(id, length)


def faults(text: str) -> list[str]:
    with pytest.raises(InputRefused) as caught:
        read_job(text)
    return [str(fault) for fault in caught.value.faults]


def only_fault(text: str) -> str:
    (fault,) = faults(text)
    return fault


def test_all_keys() -> None:
    job = read_job(
        """
        trued = 1
        name = "Box"
        unit = "in"
        method = "rough"
        rough = "1/2"
        kerf = "0.094"
        [measured]
        t = { is = "0.742", instrument = "caliper" }
        [[stock]]
        id = "B1"
        material = "pine"
        length = "72"
        width = "7 1/4"
        thickness = "t"
        have = 2
        price = 11.5
        trim_ends = ["1/2", "1/4"]
        trim_edges = ["0", "1/8"]
        grain = "none"
        offcut = true
        defects = [{ at = ["41", "0"], size = ["1 1/2", "2"] }]
        [[part]]
        id = "side"
        quantity = 3
        material = "pine"
        length = "30"
        width = "3 1/2"
        thickness = "t"
        grain = "any"
        tolerance = "1/64"
        alike = "0.005"
        together = "sides"
        show = true
        [[fit]]
        id = "a fit"
        kind = "gap"
        is = "side.length - 29"
        at_least = "-1/64"
        at_most = "t"
        """
    )
    (side,), (board,), (fit,) = job.parts, job.stock, job.fits
    assert (job.method, job.name, job.rough and job.rough.mm) == (Method.ROUGH, "Box", 12.7)
    assert (side.quantity, side.grain, side.together, side.show) == (3, Grain.ANY, "sides", True)
    assert (side.thickness and side.thickness.mm) == pytest.approx(in_mm(0.742))
    assert (side.tolerance and side.tolerance.mm, side.alike and side.alike.mm) == (25.4 / 64, 0.127)
    assert (board.have, board.price, board.grain, board.offcut) == (2, 11.5, StockGrain.NONE, True)
    assert [float(x) for x in (*board.trim_ends_mm, *board.trim_edges_mm)] == [12.7, 6.35, 0.0, 3.175]
    assert float(board.defects[0].x_mm) == in_mm(41)
    assert (fit.kind, fit.at_least_mm and float(fit.at_least_mm), fit.at_most_mm) == (
        "gap",
        -25.4 / 64,
        side.thickness and side.thickness.exact_mm,
    )
    assert job.named[0].instrument == "caliper" and job.part("side") is side
    with pytest.raises(KeyError):
        job.part("top")


def test_unit_of_the_file_goes_before_the_books() -> None:
    text = part(length="30").replace("3/4", "18")
    assert read_job(text, unit="mm").parts == read_job('unit = "mm"' + text).parts
    assert read_job('unit = "mm"' + text, unit="in").unit == "mm"
    with pytest.raises(InputRefused, match="A fraction is inches"):
        read_job(part(), unit="mm")


def test_sizes_wait_for_what_is_not_measured() -> None:
    text = (
        '[measured]\nopening = "measured"\nmore = "opening + 1"\n[[fit]]\nid = "f"\nof = "more - 1"\nat_least = "0"\n'
    )
    job = read_job(text + part("door", "more - 2") + part("side"))
    assert [p.id for p in job.waiting] == ["door"] and [p.id for p in job.ready] == ["side"]
    assert [named.exact_mm for named in job.named] == [None, None]


def test_a_part_held_back_is_given_its_size_under_measured() -> None:
    job = read_job(
        '[measured]\ndoor.length = "26 13/16"\n' + part("door", "measured") + part("panel", "door.length - 4")
    )
    door, panel = job.parts
    assert door.length is not None and panel.length is not None and not job.waiting
    assert door.length.mm - panel.length.mm == pytest.approx(in_mm(4))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "The file is empty"),
        (" \ufeff\n", "The file is empty"),
        ("part = [", "cannot be read as TOML"),
        ("hello world", "line 1, column 7: This cannot be read as TOML: an = is missing after the name"),
        ('name = "Rack\nunit = "in"', "line 1, column 13: This cannot be read as TOML: a closing quote is missing"),
        ('name = "Rack', "a quote is opened and never closed"),
        ("name = 'Rack\nunit = 'in'", "TOML: "),
        ("length = 13 3/8", 'a size is written in quotes, as "13 3/8"'),
        ("length = \u201c30\u201d", "not in straight quotes"),
        ('[[part]\nid = "x"', "a closing ]] is missing"),
        ('[[part]]\nid = "x"\n[part]\n', "begin with double brackets"),
        ('id = "x"\nid = "y"', "a name is given twice"),
        ("trim_ends = [1, 2\nb = 3", "a list is not closed with ]"),
        ("a = " + "[" * 5000, "cannot be read as TOML"),
        ("a = " + "9" * 5000, "cannot be read as TOML"),
        ("#" * 1_000_001, "longer than a million"),
        ('name = "x"', "[[part]]: A job needs at least one part."),
        ("part = 3", "Begin each with [[part]]"),
        ("trued = 2" + part(), "job files of version 1"),
        ('unit = "furlong"' + part(), "unit “furlong”: Write one of in, mm."),
        ('methods = "rough"' + part(), "methods”: This key is not known here. Did you mean method?"),
        ('method = "rough"' + part(), "rough: The rough method needs an allowance"),
        ('rough = "1/2"' + part(), "only that method"),
        ("kerf = 3" + part(), 'kerf “3”: Write this in quotes: kerf = "3".'),
        ("measured = 3" + part(), "Begin a table with [measured]"),
        (part() + part(), '[[part]] "side", id “side”: This id is there more than once'),
        (part("top-panel"), "write top_panel"),
        (part("min"), "has a meaning in sizes"),
        (part() + 'materiel = "pine"\n', "“materiel”: This key is not known here. Did you mean material?"),
        (part() + "quantity = 0\n", "whole number from 1 to 1000"),
        (part() + "quantity = 2.5\n", "Write a whole number without quotes"),
        (part() + "material = 7\n", 'Write this in quotes: material = "7".'),
        (part() + "material = [7]\n", 'Write this in quotes: material = "…".'),
        (part() + "show = 1\n", "Write show = true or show = false."),
        (part() + 'grain = "up"\n', "grain “up”: Write one of length, width, any."),
        (part() + 'tolerance = "0"\n', "tolerance “0”: A size must be above 0"),
        (part(length="0"), '[[part]] "side", length “0”: A size must be above 0'),
        (part(length="-4"), "length “-4”: At “-”: This length has no sign"),
        (part(length="2 - 4"), "comes to -2 in (-50.8 mm)"),
        (part(length="30 kg"), "This unit is not known"),
        (part(length="30 - shelv.length"), "length, column 6 “30 - shelv.length”: There is no part called shelv"),
        (part(length="30 - bey"), '[[part]] "side", length, column 6'),
        ('[measured]\nbay = "3"\n' + part(length="30 - bey"), "There is no size called bey. Did you mean bay?"),
        (part(length="side"), "side is a part; say which size"),
        (part(length="9000000 * 9000000"), "more than a kilometre"),
        (part(length="(1000000 * 1000000) * 1in"), "more than a kilometre"),
        (part(length="1in / (1 - 1in/25.4mm)"), "This divides by 0"),
        ('[[part]]\nid = "a"\nlength = "1"\nwidth = "1"\n', '[[part]] "a", thickness: The thickness is missing'),
        ('[[part]]\nlength = "1"\nwidth = "1"\nthickness = "1"\n', "[[part]] 1, id: A name is letters"),
        ('[measured]\nin = "3"\n' + part(), "The word in has a meaning"),
        ('[measured]\nt = "3"\n[sizes]\nt = "4"\n' + part(), "t is there more than once"),
        ('[measured]\nside = "3"\n' + part(), "side is already the name of a size"),
        ('[measured]\nt = { is = "3", with = "rule" }\n' + part(), "Known: is, instrument, cut."),
        ('[measured]\nt = { was = "3" }\n' + part(), "This is no part, and no reading"),
        ('[measured]\nside.lenght = "3"\n' + part(), "Did you mean length?"),
        ('[measured]\nside.length = "3"\n' + part(), "side.length is there more than once"),
        ('[measured]\na = "b"\nb = "a"\n' + part(), "a → b → a"),
        ('[measured]\na = "a"\n' + part(), "a → a"),
        (part(length="side.width + side.length"), "side.length → side.length"),
        ("[measured]\n" + "".join(f's{i} = "s{(i + 1) % 12}"\n' for i in range(12)) + part(), "→ … →"),
        ('[[stock]]\nid = "B"\nlength = "9"\nwidth = "9"\n' + part(), '[[stock]] "B", thickness: This is missing'),
        ('[[stock]]\nlength = "9"\nwidth = "9"\nthickness = "1"\n' + part(), "Every line of stock needs an id"),
    ],
)  # fmt: skip
def test_one_thing_wrong_is_one_sentence(text: str, said: str) -> None:
    assert said in only_fault(text)


BOARD = '[[stock]]\nid = "B"\nlength = "9"\nwidth = "9"\nthickness = "1"\n'


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("have = -1", "0 to 10000"),
        ("price = -1", "A price is a number of 0 or more"),
        ("price = nan", "Write a number without quotes"),
        ('price = "5"', "Write a number without quotes"),
        ('trim_ends = "1/2"', "Write 2 sizes in quotes"),
        ('trim_ends = ["1/2"]', "Write 2 sizes in quotes"),
        ('trim_ends = ["1 - 2", "0"]', "A trim is 0 or more"),
        ('trim_ends = ["5", "4"]', "leave nothing of the piece"),
        ('trim_edges = ["a", "0"]', "There is no size called a"),
        ("defects = 3", "Write defects = ["),
        ("defects = [{}]", "A defect needs a place and a size"),
        ('defects = [{ at = ["1", "0"] }]', "A defect needs a place and a size"),
        ('defects = [{ at = ["1", "0"], size = ["0", "1"] }]', "both its sizes are above 0"),
        ('defects = [{ at = ["8", "0"], size = ["2", "1"] }]', "defects, 1: This defect reaches over the piece"),
    ],
)
def test_wrong_stock(line: str, said: str) -> None:
    assert said in "\n".join(faults(BOARD + line + "\n" + part()))


@pytest.mark.parametrize(
    ("fit", "said"),
    [
        ('id = "f"\nof = "side.length - 1"', "needs at_least, at_most or both"),
        ('id = "f"\nof = "side.length"\nat_least = "1"\nat_most = "1"', "The most must be above the least"),
        ('id = "f"\nof = "side.length / (side.width / side.width - 1)"\nat_least = "1"', "This divides by 0; check"),
        ('id = "f@1"\nof = "side.length"\nat_least = "1"', "without = @ and : in it"),
        ('of = "side.length"\nat_least = "1"', "A fit needs an id"),
        ('id = "f"\nat_least = "1"', "Say what the fit is, once"),
        ('id = "f"\nof = "1"\nis = "1"\nat_least = "1"', "Say what the fit is, once"),
        ('id = "f"\nof = 3\nat_least = "1"', 'Write this in quotes: of = "3".'),
        ('id = "f"\nof = "shelf.length"\nat_least = "1"', '"f", of, column 1 “shelf.length”: There is no part'),
        ('id = "f"\nof = "side@2.length"\nat_least = "1"', "There are 1 of side, so there is no copy 2"),
        ('id = "f"\nkind = "snug"\nof = "side.length"\nat_least = "1"', "kind “snug”: Write one of clearance"),
    ],
)  # fmt: skip
def test_wrong_fit(fit: str, said: str) -> None:
    assert said in only_fault(part() + "[[fit]]\n" + fit + "\n")


def test_a_limit_cannot_wait() -> None:
    text = '[measured]\ng = "measured"\n' + part() + '[[fit]]\nid = "f"\nof = "side.length"\nat_least = "g"\n'
    assert "still to be measured; only parts and fits can wait" in only_fault(text)


def test_all_faults_at_once_and_each_once() -> None:
    said = faults(
        'unit = "yard"\n[measured]\nt = "3/0"\nu = "t + 1"\n'
        + part("a", "u")
        + part("b", "x")
        + "id2 = 3\n"
        + BOARD
        + "have = -1\n"
    )
    assert len(said) == 5  # u and a rest on t, which is told once
    assert len(set(said)) == 5


def test_a_number_that_grows_out_of_all_measure_is_refused() -> None:
    names = ['x0 = "1.2345671"', *(f'x{i} = "x{i - 1} * (x{i - 1} / 1.7654321in)"' for i in range(1, 12))]
    assert "too many digits" in "\n".join(faults("[sizes]\n" + "\n".join(names) + part()))


def test_long_chains_are_no_trouble() -> None:
    names = ['x0 = "1"', *(f'x{i} = "x{i - 1}"' for i in range(1, 1000))]
    assert read_job("[sizes]\n" + "\n".join(names) + part("a", "x999")).parts[0].length is not None


PIECES = """[[part]]~|[[fit]]~|[[stock]]~|[measured]~|[sizes]~|id = |length = |width = |thickness = |of = |at_least = |
t = |defects = |trim_ends = |unit = |method = |"t"~|"a"~|"a.length"~|"12 1/2"~|"min(t, 3) - 1/64"~|3~|true~|["1", "2"]~|
[{ at = ["1", "1"] }]~|"measured"~|a.length = |{ is = "3", instrument = "caliper" }~|~|=|"|½|\x00"""
pieces = st.sampled_from(PIECES.replace("\n", "").replace("~", "\n").split("|"))


def judged(text: str) -> Job | None:
    """The job, or None where it is refused in sentences of one line; anything else is an error of the program."""
    try:
        return read_job(text)
    except InputRefused as refused:
        said = [fault.text for fault in refused.faults]
    if not said or any("\n" in text for text in said):
        raise AssertionError(said)
    return None


@settings(max_examples=120)
@given(st.one_of(st.text(max_size=80), st.lists(pieces, max_size=30).map("".join)))
@example('[[part]]\nid = "a"\nlength = "a.length"\nwidth = "1"\nthickness = "1"\n')
def test_any_text_gives_a_job_or_a_refusal(text: str) -> None:
    judged(text)


signs = st.sampled_from([*"0123456789./ ,'\"+-*()@½tmin_÷×", "shelf", ".length", "min(", "mm", "in", "t"])


@settings(max_examples=150)
@given(st.lists(signs, max_size=25).map("".join))
def test_any_size_gives_a_job_or_a_refusal(size: str) -> None:
    quoted = size.replace("\\", "\\\\").replace('"', '\\"')
    judged('[measured]\nt = "1/2"\n' + part("shelf") + part("x", quoted))


@settings(max_examples=25)
@given(st.data())
def test_a_whole_job_with_one_stretch_cut_out(data: st.DataObject) -> None:
    fit = '[[fit]]\nid = "f"\nof = "a.length"\nat_least = "1"\n'
    text = BOARD + part("a", "b.length - 2*b.width") + part("b", "30") + fit
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, len(text)))
    judged(text[:start] + text[end:])
    assert judged(text) is not None
