"""The page of the library is true: its examples run and print what stands there, they are typed, its table is whole."""

from __future__ import annotations

import contextlib
import io
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import trued

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "docs" / "library.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```python\n(.*?)^```\n\n```text\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)


def test_every_example_stands_with_what_it_prints() -> None:
    assert len(BLOCKS) == PAGE.count("```python") >= 4


def test_the_examples_print_what_the_page_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One after the other, in an empty folder that holds the examples alone."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    printed = []
    for code, _ in BLOCKS:
        with contextlib.redirect_stdout(io.StringIO()) as out:
            exec(compile(code, "docs/library.md", "exec"), names)  # noqa: S102 - the page is ours
        printed.append(out.getvalue())
    assert printed == [said for _, said in BLOCKS]


@pytest.mark.timeout(600)
def test_the_examples_are_typed(tmp_path: Path) -> None:
    """mypy, strict, on the page itself; and it sees a wrong one."""
    wrong = "trued.open_book(1)\nbook.run('five-cut', 0.5)\nbook.standing().lines[0].standing.value\n"
    page, faults = tmp_path / "page.py", tmp_path / "faults.py"
    page.write_text("\n".join(code for code, _ in BLOCKS), encoding="utf-8")
    faults.write_text(f"import trued\n\nbook = trued.open_book('a')\n{wrong}", encoding="utf-8")
    command = [sys.executable, "-m", "mypy", "--strict", "--follow-imports=silent", "--config-file=", str(page)]
    command += [str(faults), f"--cache-dir={tmp_path / 'cache'}"]
    done = subprocess.run(command, cwd=ROOT / "src", capture_output=True, text=True, check=False)
    said = [line for line in done.stdout.splitlines() if "error:" in line]
    assert [line for line in said if "page.py" in line] == [], done.stdout
    assert re.findall(r"\[([\w-]+)\]$", "\n".join(said), re.MULTILINE) == ["arg-type", "arg-type", "attr-defined"], said


def test_the_table_names_all_that_is_promised_and_nothing_else() -> None:
    table = PAGE[PAGE.index("## Names") : PAGE.index("Every value is frozen")]
    cells = [row.split("|")[1] for row in table.splitlines() if row.startswith("| `")]
    named = [name for cell in cells for name in re.findall(r"`(\w+)`", cell)]
    assert sorted(named) == sorted(trued.__all__)
    calls = re.findall(r"`open_book`, `Book` \| a book: (.*?) \|", table)
    assert set(re.findall(r"`(\w+)`", *calls)) == {name for name in vars(trued.Book) if not name.startswith("_")} - {
        "path"
    }
