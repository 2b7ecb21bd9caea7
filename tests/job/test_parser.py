"""Reading the expression of a size, and reckoning it."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.errors import InputRefused
from trued.job.expression.evaluate import Ground, evaluate, exact_choice
from trued.job.expression.parser import read_expression
from trued.job.expression.tree import Choice, Constant, Name, PartSize, Side, uses

INCH = Fraction(127, 5)
SIZES = {"t": INCH / 2, "w": 12 * INCH, "shelf.length": 13 * INCH}


def inches(text: str, unit: str = "in") -> Fraction:
    node = read_expression(text, "mm" if unit == "mm" else "in")
    ground = Ground(Fraction, lambda use: SIZES[str(use)], exact_choice)
    return evaluate(node, ground) / INCH


def refused(text: str, unit: str = "in") -> str:
    with pytest.raises(InputRefused) as caught:
        read_expression(text, "mm" if unit == "mm" else "in")
    return str(caught.value)


def test_one_length_is_read_as_everywhere() -> None:
    assert read_expression("14 7/16") == Constant(Fraction(231, 16) * INCH)


def test_the_joined_form_is_a_mixed_number_and_the_spaced_sign_a_minus() -> None:
    assert inches("25-3/16") == Fraction(403, 16)
    assert inches("25 - 3/16") == Fraction(397, 16)
    assert inches("w-3/16") == 12 - Fraction(3, 16)
    assert inches("14 1/2-1/16") == Fraction(231, 16)


@pytest.mark.parametrize("text", ["2*25-3/16", "72-1/2 - t", "25-½ + t", "5'-3 - t", "t + 5 ft-3"])
def test_inside_a_sum_the_joined_form_is_refused_with_both_ways(text: str) -> None:
    assert "two ways" in refused(text)


def test_products_before_sums_and_left_to_right() -> None:
    assert inches("w - 2*t - 1") == 10
    assert inches("w / 2 / 3") == 2
    assert inches("w - t - t") == 11
    assert inches("-t + w") == Fraction(23, 2)


def test_ratio_of_lengths_is_a_number() -> None:
    assert inches("w*(t/w)") == Fraction(1, 2)
    assert inches("(w/t + 1)*t - (1 - w/t)*t") == 24
    assert inches("2*(w/t)*t/(w/t)") == 1
    assert inches("t*((w/t)*2/2)") == 12
    assert inches("w/(2*(w/w))") == 6
    assert inches("(w/t - w/t + 2)*t") == 1
    assert inches("t*(2/(w/w))") == 1


def test_choices() -> None:
    assert inches("min(w, 14 1/2, 3)") == 3
    assert inches("max(t, -w)") == Fraction(1, 2)
    assert isinstance(read_expression("min(t)"), Choice)


def test_metric_job_takes_bare_millimetres_and_marked_inches() -> None:
    assert inches("w - 25.4", "mm") == 11
    assert inches('w - 1/2"', "mm") == Fraction(23, 2)
    assert inches("t*1/2", "mm") == Fraction(1, 4)
    assert "A fraction is inches" in refused("w - 1/2", "mm")
    assert "A fraction is inches" in refused("w - 3 * 1/2", "mm")
    assert "A fraction is inches" in refused("w - (1 / 2)", "mm")


def test_what_keyboards_make_of_signs() -> None:
    assert inches("w − 2×t") == 11
    assert inches("½ + 25½”") == 26
    assert inches("w ÷ 2\u00a0– t") == Fraction(11, 2)


def test_parts_and_copies() -> None:
    assert read_expression("shelf@2.length") == PartSize("shelf", Side.LENGTH, 2)
    assert str(read_expression("shelf@2.length")) == "shelf@2.length"
    assert uses(read_expression("t + t + shelf.length")) == (Name("t"), PartSize("shelf", Side.LENGTH))


@pytest.mark.parametrize(
    ("text", "column", "word"),
    [
        ("w - shelf.lenght", 11, "Did you mean length?"),
        ("w - shelf.", 11, "length, width and thickness"),
        ("w - shelf@x.length", 11, "number of the copy"),
        ("w - shelf@2", 12, "Say which size"),
        ("w * t", 3, "area"),
        ("w + (t/w)", 3, "give the number a unit"),
        ("(t/w) + w", 7, "give the number a unit"),
        ("3/t", 2, "divided by a length"),
        ("w*(3/(2-2))", 7, "divided by 0"),
        ("2*(t/w)", 1, "plain number"),
        ("w - 1/3", 5, "under the slash"),
        ("w - 1,500", 5, "thousand or a decimal"),
        ("t * 7/0", 5, "Nothing can be divided by 0"),
        ("w - 12 1/3 mm", 5, "under the slash"),
        ("abs(t)", 1, "min(…) and max(…)"),
        ("(t", 3, "closing bracket"),
        ("t)", 2, "one too many"),
        ("t w", 3, "sign is missing"),
        ("t +", 4, "missing here"),
        ("t ? 3", 3, "means nothing"),
        ("min(3,4)", 5, "part two sizes"),
        ("t/3/4", 2, "brackets"),
        ("(" * 21 + "t" + ")" * 21, 21, "Too many brackets"),
    ],
)
def test_a_fault_points_at_its_column(text: str, column: int, word: str) -> None:
    said = refused(text)
    assert said.startswith(f"column {column} “")
    assert word in said


def test_too_long_a_text() -> None:
    assert "200 characters" in refused("t+" * 100 + "t")
    assert "too long to follow" in refused("+".join("t" * 60))


@pytest.mark.parametrize("text", ["", "13 25", "1,500", "1e3", "7/8/9", "30 kg", "∞", "13 3/8+", "-4"])
def test_a_text_that_is_one_length_gets_the_words_for_lengths(text: str) -> None:
    assert "column" not in refused(text)


def test_a_limit_may_have_a_sign() -> None:
    assert read_expression("-0.005", signed=True) == Constant(-INCH / 200)


# A twin: the same sums written for Python's own parser over exact fractions (names, numbers, signs and brackets only).
numbers = st.integers(1, 40).map(str)
lengths = st.recursive(
    st.sampled_from(["t", "w"]),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from([" + ", " - "]), inner).map("".join),
        st.tuples(numbers, st.just(" * "), inner).map(lambda p: f"{p[0]}{p[1]}({p[2]})"),
        st.tuples(inner, numbers).map(lambda p: f"({p[0]}) / {p[1]}"),
        inner.map(lambda x: f"-({x})"),
        st.tuples(inner, inner).map(lambda p: f"min({p[0]}, {p[1]})"),
    ),
    max_leaves=8,
)


@given(lengths)
def test_sums_agree_with_another_reader(text: str) -> None:
    if len(text) > 150:
        return
    names = {"t": SIZES["t"] / INCH, "w": SIZES["w"] / INCH, "min": min, "Fraction": Fraction}
    assert inches(text) == eval(text, {"__builtins__": {}}, names)  # noqa: S307 - of text made here
