"""The page of the commands names every key of every answer, and every option."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from tests.cli.calling import RACK, ROOT, SHOP, STRIP, Call

from trued.cli.main import COMMANDS

PAGE = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
SECTIONS = dict(zip(*[iter(re.split(r"^## (\w+)$", PAGE, flags=re.MULTILINE)[1:])] * 2, strict=True))


def named(section: str) -> set[str]:
    return set(re.findall(r"`([\w-]+)`", section))


def keys(value: Any) -> set[str]:
    """The names of an answer; those that are data themselves (labels, tables) are left out."""
    if isinstance(value, list):
        return set().union(*(keys(item) for item in value)) if value else set()
    if not isinstance(value, dict):
        return set()
    own = {key for key in value if key not in ("shares", "total_shares", "rows", "kerf")}
    return own.union(*(keys(value[key]) for key in own)) if own else set()


def test_every_command_has_its_section() -> None:
    assert set(COMMANDS) <= set(SECTIONS)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_option_is_told(command: str, trued: Call, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        trued(command, "--help")
    options = set(re.findall(r"--[a-z]+", capsys.readouterr().out.partition("options:")[2]))
    common = {"--help", "--json", "--book", "--strict", "--at", "--unit", "--answer"}
    told = set(re.findall(r"--[a-z]+", SECTIONS[command]))
    assert options - common - {"--fixture", "--paper"} <= told


def test_every_key_is_told(trued: Call, book: Path, tmp_path: Path) -> None:
    """Each command once with a book; keys of an answer stand in its section, or in that of the standing it hands on."""
    run = trued("check", "five-cut", *STRIP, "--book", book, "--at", "2026-05-04T09:00", "--json").json["run"]
    calls: dict[str, tuple[object, ...]] = {
        "shop": (SHOP,),
        "check": ("five-cut", *STRIP, "--at", "2026-05-04T09:20", "--answer", "anew"),
        "moved": ("fence-angle", "open", "0.01"),
        "event": ("saw-carried",),
        "plan": (RACK, "--out", tmp_path / "sheets"),
        "cut": (),
        "next": (),
        "due": (),
        "parts": (RACK, "shelf@1:rule=13.377"),
        "answer": (run, "yes"),
        "confirm": (run,),
        "status": (),
        "undo": (),
        "backup": (tmp_path / "copy.trued",),
    }
    missing = {}
    for command, words in calls.items():
        answer = trued(command, *words, "--book", book, "--json").json
        told = named(SECTIONS[command]) | named(SECTIONS["status"])
        ids = {"id", "kind", "copy", "text", "mm", "station", "name", "typed", "instrument", "label", "u", "source"}
        missing[command] = keys(answer) - told - ids - _SMALL.get(command, set())
    assert not {command: names for command, names in missing.items() if names}
    one = trued("status", "fence-angle", "--book", book, "--json").json
    assert keys(one) <= named(SECTIONS["status"])
    assert keys(trued("checks", "--json").json) <= named(SECTIONS["checks"])


# Parts and stock pieces as the job file has them.
_SMALL = {
    "plan": {"length_mm", "width_mm", "thickness_mm", "quantity", "held_back", "stock", "material", "turned", "part"},
}
