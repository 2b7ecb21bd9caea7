"""The walk of the README, word for word."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest
from tests.cli.calling import ROOT, Call

LINES = re.findall(r"^trued (.+?)(?: +#.*)?$", (ROOT / "README.md").read_text(encoding="utf-8"), re.MULTILINE)


def test_every_line_of_the_readme_does_what_it_says(
    trued: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """But for `open`, which would wait for its Ctrl-C, and --help, which ends by itself."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    done = []
    for line in LINES:
        words = shlex.split(line)
        if words[0] == "open" or "--help" in words:
            continue
        said = trued(*words)
        assert (said.status, said.err) == (0, ""), line
        done.append(words[0])
    assert done == ["check", "shop", "next", "status", "check", "moved", "plan", "cut", "parts"]
    assert {path.name for path in tmp_path.iterdir()} == {"examples", "shop.trued", "sheets"}
