"""Each line of the threat model names a test that attacks it, and that test is there."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "threats.md"
NAMED = re.compile(r"`(tests/[\w/]+\.py)(?:::(\w+))?`")


def promises(text: str) -> list[str]:
    """The lines of the tables, without their heads."""
    rows = [line for line in text.splitlines() if line.startswith("|")]
    return [row for row in rows if not row.startswith(("| threat ", "| --- "))]


def lacking(text: str, root: Path) -> list[str]:
    """Lines without a test, and tests that are not there."""
    found = [row for row in promises(text) if not NAMED.search(row.rsplit("|", 2)[1])]
    for file, test in NAMED.findall(text):
        path = root / file
        tests = _tests(path) if path.exists() else set()
        if not tests or (test and test not in tests):
            found.append(f"{file}::{test}")
    return found


def _tests(file: Path) -> set[str]:
    nodes = ast.walk(ast.parse(file.read_text(encoding="utf-8")))
    return {node.name for node in nodes if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")}


def test_every_promise_is_attacked_by_a_test_that_is_there() -> None:
    text = PAGE.read_text(encoding="utf-8")
    assert len(promises(text)) > 20
    assert lacking(text, ROOT) == []


def test_what_is_not_promised_is_said() -> None:
    text = PAGE.read_text(encoding="utf-8")
    _, _, rest = text.partition("## What is not promised")
    assert rest.count("\n- **") >= 5 and not promises(rest)


@pytest.mark.parametrize(
    "line",
    ["| a | b | none |", "| a | b | `tests/gone.py` |", "| a | b | `tests/test_it.py::test_gone` |"],
)
def test_a_line_without_its_test_is_seen(line: str, tmp_path: Path) -> None:
    (tmp_path / "tests").mkdir()
    (tmp_path / "tests" / "test_it.py").write_text("def test_here() -> None: ...\n")
    good = "| threat | promised | attacked by |\n| --- | --- | --- |\n| a | b | `tests/test_it.py::test_here` |\n"
    assert lacking(good, tmp_path) == []
    assert len(lacking(good + line, tmp_path)) == 1
