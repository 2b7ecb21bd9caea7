"""Reading a length: every form of docs/units.md, accepted to the last digit or refused with its sentence."""

import re
import time
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.errors import Fault, InputRefused
from trued.units import Length, Unit, read_length

PAGE = (Path(__file__).parents[2] / "docs" / "units.md").read_text(encoding="utf-8")


def rows(heading: str) -> list[list[str]]:
    """The cells of the first table under a heading of the page."""
    lines = PAGE.split(f"## {heading}\n")[1].split("\n## ")[0].splitlines()
    table = [line for line in lines if line.startswith("| `")]
    return [[cell.strip() for cell in line.strip("|").split(" | ")] for line in table]


READ = [(row[0].strip("`"), Fraction(row[2].rstrip("| "))) for row in rows("Lengths that are read")]
REFUSED = [(row[0].strip("`"), row[1].rstrip("| ")) for row in rows("Lengths that are refused")]


@pytest.mark.parametrize(("text", "mm"), READ)
def test_every_form_of_the_page_is_read(text: str, mm: Fraction) -> None:
    assert read_length(text) == Length(mm)


@pytest.mark.parametrize(("text", "why"), REFUSED)
def test_every_doubtful_form_of_the_page_is_refused_with_its_sentence(text: str, why: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_length(text, where="length")
    assert refused.value.faults == (Fault("length", text, why),)


def test_the_page_has_both_tables() -> None:
    assert len(READ) >= 28 and len(REFUSED) >= 33


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("25", "25"), (".5", "1/2"), ("25.047", "25047/1000"), ("63,6", "636/10"), ("3/4", "3/4"),
        ("25 3/16", "403/16"), ("25-3/16", "403/16"), ("25+3/16", "403/16"), ("½", "1/2"), ("25½”", "51/2"),
        ("5’3½”", "127/2"), ("5'", "60"), ("1' 2 1/2\"", "29/2"), ("13 50/64", "441/32"), ("5′ 3½″", "127/2"),
        ("25 3/16 in.", "403/16"), ("25‑3/16", "403/16"), ("25–3/16", "403/16"), ("25\N{NO-BREAK SPACE}3/16", "403/16"),
        ("\u200b25\t3/16\n", "403/16"), ("25¾in", "103/4"), ("5ft3in", "63"), ("¾'", "9"), ("5'0\"", "60"),
        ("0/64", "0"), ("7/4", "7/4"), ("25 127/128 inches", "3327/128"),
    ],
)  # fmt: skip
def test_forms_of_the_bench_in_inches(text: str, inches: str) -> None:
    assert read_length(text).exact_in == Fraction(inches)


@pytest.mark.parametrize(
    ("text", "mm"),
    [("25", "25"), ("18,5", "18.5"), ('3/4"', "19.05"), ("1' 2 1/2\"", "368.3"), ("2 in", "50.8"), ("1 cm", "10")],
)
def test_a_bare_number_is_in_the_unit_of_the_book(text: str, mm: str) -> None:
    assert read_length(text, "mm").exact_mm == Fraction(mm)


@pytest.mark.parametrize(("text", "mend"), [("3/4", '3/4"'), ("25 3/16", '25 3/16"')])
def test_a_bare_fraction_in_a_millimetre_book_is_refused(text: str, mend: str) -> None:
    with pytest.raises(InputRefused, match=f"A fraction is inches; write {re.escape(mend)} or a decimal"):
        read_length(text, "mm")


@pytest.mark.parametrize(
    ("text", "mm"), [("-0.002", "-0.0508"), ("+1/64", "0.396875"), ("− 0.05mm", "-0.05"), ("-½", "-12.7"), ("-0", "0")]
)
def test_a_gap_may_have_a_sign(text: str, mm: str) -> None:
    assert read_length(text, signed=True).exact_mm == Fraction(mm)


@pytest.mark.parametrize("text", ["--5", "5-", "+", "-", "-5'-3 mm", "+-1", "- "])
def test_a_sign_alone_or_twice_is_no_gap(text: str) -> None:
    with pytest.raises(InputRefused):
        read_length(text, signed=True)


@pytest.mark.parametrize(
    "text",
    ["½½", "2½5", "5²", "५", "²⁄₃", "⅟", "↉", "½/4", "12\n1/4", "\x00", "5\x00", "'5", '"25"', "5\"3'", "25in 3/16",
     "1½mm", "5 in in", "5'3'2", "5''3", "5'-", "5''-3", "0,500", ",5,", "1.2.3", ".", ",", "/", "1//2", "1/-2",
     "25 3/16 1/2", "١٢", "1_000", "#5", "5 %", "£5", "25x3", "(25)", "25 3/16 and", "mm", '"', "'",
     "5' 12\"", "1.5' 3\""],
)  # fmt: skip
def test_other_shapes_are_refused_with_one_fault_that_keeps_what_was_typed(text: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_length(text)
    (fault,) = refused.value.faults
    assert fault.read == text and fault.text.endswith((".", "?"))


def test_a_very_long_text_is_refused_before_anything_looks_at_it() -> None:
    with pytest.raises(InputRefused, match="at most 60 characters"):
        read_length("1" * 100_000)


SIGNS = "0123456789 ./,'\"-+−½¾⁄’”⅓²₄xXeEinftmcM°%\n\t٣\u200b"
units: st.SearchStrategy[Unit] = st.sampled_from(["in", "mm"])


@given(st.one_of(st.text(max_size=70), st.text(SIGNS, max_size=70)), units, st.booleans())
def test_any_text_gives_a_length_or_a_refusal(text: str, unit: Unit, signed: bool) -> None:
    match outcome(text, unit, signed):
        case InputRefused(faults=(fault,)):
            assert fault.where == "here" and fault.text
        case Length(exact_mm=mm):
            assert signed or mm >= 0
            assert abs(mm.numerator) < 2**63 and mm.denominator < 2**63  # the book keeps them as two 64-bit numbers
        case other:
            pytest.fail(f"{other!r} has not one fault")


def outcome(text: str, unit: Unit, signed: bool) -> Length | InputRefused:
    try:
        return read_length(text, unit, signed=signed, where="here")
    except InputRefused as refused:
        return refused


@given(st.integers(0, 9999), st.sampled_from([2, 4, 8, 16, 32, 64, 128]), st.data())
def test_a_number_and_a_fraction_is_their_sum(whole: int, under: int, data: st.DataObject) -> None:
    over = data.draw(st.integers(0, under - 1))
    join = data.draw(st.sampled_from([" ", "-", "+", "   "]))
    mark = data.draw(st.sampled_from(["", '"', " in", "”", "''"]))
    assert read_length(f"{whole}{join}{over}/{under}{mark}").exact_in == whole + Fraction(over, under)


@given(st.decimals(0, 9_999_999, places=7, allow_nan=False))
def test_a_decimal_is_read_to_its_last_digit(number: Decimal) -> None:
    assert read_length(f"{number:f}mm").exact_mm == Fraction(number)


@pytest.mark.parametrize("piece", ["1", " ", "1/", "1 ", "'", "-", "1-", ".", "½", "1/1 ", "in", "\u200b"])
def test_the_longest_text_is_answered_at_once(piece: str) -> None:
    text = (piece * 60)[:60]
    started = time.process_time()
    outcome(text, "in", signed=True)
    assert time.process_time() - started < 0.1  # thousands of times what it takes; a pattern that runs away takes hours
