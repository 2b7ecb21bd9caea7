"""A file that costs more to read than it can be worth is seen before it is read; a person's file never is.

The limit of time is the breaker's measure: 20,000 dots took 3.3 s, 60,000 more than 30 s.
"""

from __future__ import annotations

import time
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.equipment.file.read_shop import read_shop
from trued.errors import InputRefused
from trued.job.file.read import read_job
from trued.toml.text import DEEPEST, LONGEST, TooMuch, toml_tables

DOTS = 60_000
BOMBS = {
    "a key": "a" + ".a" * DOTS + " = 1",
    "a key of empty names": '""' + '.""' * DOTS + " = 1",
    "a key of quoted names": "'a'" + " . 'a.b'" * DOTS + " = 1",
    "a table": "[a" + ".a" * DOTS + "]",
    "a list of tables": "[[a" + ".a" * DOTS + "]]",
    "within braces": "x = {y = '''it''''', a" + ".a" * DOTS + " = 1}",
    "after a text that ends in quotes": 'x = {y = """it"""", a' + ".a" * DOTS + " = 1}",
    "after a text of three lines": 'x = """\n# a\n\\""" # """\n\n' + "a" + ".a" * DOTS + " = 1",
    "lists in lists": "a = " + "[" * 100_000,
    "braces in braces": "a = " + "{a=" * 100_000,
    "a number without an end": "a = " + "9" * 100_000,
    "lines of quotes that never close": '"""' + '\\"""\n' * 150_000 + "a" + ".a" * 20,
    "one long line of quotes": "'" * 900_001 + "." * 20,
    "backslashes": 'a = "' + "\\" * 900_001 + "." * 20,
    "dots": "." * 900_000,
    "long names between dots": ("." + "a" * 50_000) * 16,
    "spaces between dots": ("." + " " * 50_000) * 18,
}


@pytest.mark.parametrize("bomb", BOMBS.values(), ids=BOMBS.keys())
def test_a_bomb_is_refused_at_once(bomb: str) -> None:
    for read in (read_job, read_shop):
        before = time.process_time()
        with pytest.raises(InputRefused):
            read(bomb)
        assert time.process_time() - before < 30.0  # what runs away takes many minutes; this is no measure of speed


def test_what_is_said_of_it() -> None:
    with pytest.raises(InputRefused, match="more than 16 dots"):
        read_job(BOMBS["a key"])
    with pytest.raises(InputRefused, match="more than 16 dots"):
        read_shop(BOMBS["within braces"])
    with pytest.raises(InputRefused, match="longer than a million"):
        read_shop("# " + "a" * LONGEST)


NOT_DEEP = (
    'name = "' + "." * 40 + '"',
    "name = '" + "a." * 40 + "'",
    'name = """\n' + "a.b." * 40 + '\n"""',
    "# " + "a.b." * 40,
    "numbers = [" + "1.5, " * 40 + "]",
    'a = "\\"" # ' + "." * 40,
    "a" + ".a" * DEEPEST + " = 1",
)


@pytest.mark.parametrize("text", NOT_DEEP)
def test_dots_elsewhere_are_no_names(text: str) -> None:
    assert toml_tables(text) == tomllib.loads(text)


def test_one_dot_more_is_too_much() -> None:
    with pytest.raises(TooMuch):
        toml_tables("a" + ".a" * (DEEPEST + 1) + " = 1")


@given(st.text(alphabet="ab.\"'\\#\n= {},[]", max_size=60))
def test_what_tomllib_reads_is_read_the_same_or_is_deep(text: str) -> None:
    """Against Python's own reader: nothing that it reads is refused, but for a key with so many dots in it."""
    try:
        expected = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert toml_tables(text) == expected or _depth(expected) > DEEPEST


def _depth(value: object) -> int:
    return 1 + max(map(_depth, value.values()), default=0) if isinstance(value, dict) else 0
