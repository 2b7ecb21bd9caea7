"""The estimated widths hold against the font that is printed with, read from its own tables."""

from importlib.resources import files
from pathlib import Path

import pytest
from tests.render.font_file import widths

from trued.render.picture.text_width import PRINT, width_of, wrapped

FONTS = Path(str(files("trued.render"))) / "fonts"
TEXTS = (
    "keep",
    "A1",
    "13 25/64",
    "340.12 mm",
    "open the fence, 0.0054 in at the screw",
    "WIDE WORDS MMM",
    "the left end away from the operator",
    "±0.004 × 2 ½ … – “quoted”",
    "#$%&@ [x] {y} \\ ~",
)


@pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])
@pytest.mark.parametrize("text", TEXTS)
def test_the_estimate_is_never_too_small_and_not_far_too_large(text: str, *, bold: bool) -> None:
    real = widths(FONTS / f"SourceSansPro-{'Bold' if bold else 'Regular'}.otf")(text)
    assert real <= width_of(text, 1.0, bold=bold, share=PRINT) <= 1.6 * real


def test_a_width_grows_with_the_size() -> None:
    assert width_of("shelf", 26) == pytest.approx(2 * width_of("shelf", 13))


def test_lines_are_filled_and_none_is_too_wide() -> None:
    lines = wrapped("the end that lay against the fence", 110, 13)
    assert " ".join(lines) == "the end that lay against the fence"
    assert len(lines) > 1 and all(width_of(line, 13) <= 110 for line in lines)


def test_a_size_is_never_parted() -> None:
    assert [line.replace("\u00a0", " ") for line in wrapped("set 13 3/8 in", 70, 13)] == ["set", "13 3/8 in"]


def test_a_word_that_is_too_wide_is_broken() -> None:
    lines = wrapped("x" * 40, 100, 13)
    assert "".join(lines) == "x" * 40 and all(width_of(line, 13) <= 100 for line in lines)


def test_no_words_are_one_empty_line() -> None:
    assert wrapped(" \n ", 100, 13) == ("",)


def test_a_percentage_is_not_parted() -> None:
    assert wrapped("setting the stop 90 %", 19 * 13 * 0.6, 13.0)[-1].endswith("90\u00a0%")
