"""Every file of test data says where it comes from and under which licence; so does what the wheel ships."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
DATA = ROOT / "tests" / "data"
ROW = re.compile(r"^\| `([^`]+)` \|([^|]*)\|([^|]*)\|$", re.MULTILINE)


def rows(text: str) -> list[tuple[str, str, str]]:
    """File, origin and licence of each line of the table."""
    return [(name, origin.strip(), licence.strip()) for name, origin, licence in ROW.findall(text)]


def faults(text: str, files: set[str]) -> list[str]:
    """What the table lacks, names twice or names though it is not there."""
    found = rows(text)
    named = Counter(name for name, _, _ in found)
    return [
        *(f"{name}: no line" for name in sorted(files - set(named))),
        *(f"{name}: no such file" for name in sorted(set(named) - files)),
        *(f"{name}: {count} lines" for name, count in named.items() if count > 1),
        *(f"{name}: no origin or licence" for name, origin, licence in found if not (origin and licence)),
    ]


def data_files() -> set[str]:
    return {path.relative_to(DATA).as_posix() for path in DATA.rglob("*") if path.is_file()} - {"README.md"}


def test_every_file_of_test_data_has_its_line() -> None:
    assert faults((DATA / "README.md").read_text(encoding="utf-8"), data_files()) == []


@pytest.mark.parametrize(
    ("table", "fault"),
    [
        ("", "a.csv: no line"),
        ("| `a.csv` | x | y |\n| `b.csv` | x | y |\n", "b.csv: no such file"),
        ("| `a.csv` | x | y |\n| `a.csv` | x | y |\n", "a.csv: 2 lines"),
        ("| `a.csv` | x |  |\n", "a.csv: no origin or licence"),
    ],
)
def test_a_gap_in_the_table_is_found(table: str, fault: str) -> None:
    assert faults(table, {"a.csv"}) == [fault]


def test_the_licence_of_the_font_stands_in_the_metadata() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["license"] == "Apache-2.0 AND OFL-1.1"
    texts = {name: (ROOT / name).read_text(encoding="utf-8") for name in project["license-files"]}
    assert "Apache License" in texts["LICENSE"]
    assert sum("SIL OPEN FONT LICENSE Version 1.1" in text for text in texts.values()) == 1
    fonts = ROOT / "src" / "trued" / "render" / "fonts"
    beside = {path.relative_to(ROOT).as_posix() for path in fonts.glob("LICENSE*")}
    assert beside == set(texts) - {"LICENSE"}


def test_no_data_and_no_licence_is_a_program() -> None:
    """A file that is only read is not marked to be run."""
    read_only = [*DATA.rglob("*"), *(ROOT / "src" / "trued" / "render" / "fonts").iterdir()]
    assert [path.name for path in read_only if path.is_file() and path.stat().st_mode & 0o111] == []


GENERIC = {"system-ui", "sans-serif", "ui-monospace", "monospace", "inherit"}


def families(style: str) -> set[str]:
    """The names in each list of `font-family`."""
    lists = re.findall(r"font-family:\s*([^;}]+)", style)
    return {name.strip(" \"'\n") for names in lists for name in names.split(",")}


def test_style_sheets_name_generic_families_of_type_only() -> None:
    styles = [path.read_text(encoding="utf-8") for path in (ROOT / "src").rglob("*.css")]
    assert sum("font-family" in style for style in styles) >= 2
    assert set().union(*map(families, styles)) <= GENERIC
    assert families('a { font-family: "A Face", serif }') == {"A Face", "serif"}
