"""The set-up: nothing to do is quick, a broken one is begun again, and what Python lacks is named in one sentence."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parent.parent
Calls = list[list[str]]


@pytest.fixture
def tasks(tmp_path: Path) -> ModuleType:
    """`tasks.py` as if it lay in an empty folder with the project's lock."""
    for name in ("tasks.py", "requirements.lock", "pyproject.toml"):
        (tmp_path / name).write_bytes((ROOT / name).read_bytes())
    spec = importlib.util.spec_from_file_location("tasks_in_a_folder", tmp_path / "tasks.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def pretend(tasks: ModuleType, monkeypatch: pytest.MonkeyPatch, answer: Callable[[list[str]], int]) -> Calls:
    """No process is started: each call is noted, and an environment that it asks for appears as a file."""
    calls: Calls = []

    def call(words: Sequence[str | Path], folder: Path | None = None) -> int:
        calls.append([str(word) for word in words])
        if "venv" in calls[-1]:
            tasks.PYTHON.parent.mkdir(parents=True)
            tasks.PYTHON.touch()
        return answer(calls[-1])

    monkeypatch.setattr(tasks, "call", call)
    return calls


def test_the_first_run_sets_up_and_the_second_does_nothing(tasks: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    calls = pretend(tasks, monkeypatch, lambda _: 0)
    tasks.set_up()
    assert [("venv" in words, "--require-hashes" in words, "--editable" in words) for words in calls] == [
        (True, False, False),
        (False, True, False),
        (False, False, True),
    ]
    calls.clear()
    tasks.set_up()
    assert calls == []


def test_a_set_up_that_was_broken_off_is_begun_again(tasks: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    pretend(tasks, monkeypatch, lambda words: int("--require-hashes" in words))
    with pytest.raises(SystemExit, match="could not be installed"):
        tasks.set_up()
    half = tasks.VENV / "half-written"
    half.touch()
    calls = pretend(tasks, monkeypatch, lambda _: 0)
    tasks.set_up()
    assert "venv" in calls[0]
    assert not half.exists()
    assert not tasks.STARTED.exists()


def test_another_lock_is_installed_into_the_same_environment(
    tasks: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    pretend(tasks, monkeypatch, lambda _: 0)
    tasks.set_up()
    tasks.LOCK.write_text("jinja2==3.1.6\n", encoding="utf-8")
    calls = pretend(tasks, monkeypatch, lambda _: 0)
    tasks.set_up()
    assert any("--require-hashes" in words for words in calls)
    assert not any("venv" in words for words in calls)


def test_a_moved_folder_or_another_python_begins_again(tasks: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    pretend(tasks, monkeypatch, lambda _: 0)
    tasks.set_up()
    monkeypatch.setattr(tasks, "place", lambda: "3.99.0 elsewhere")
    calls = pretend(tasks, monkeypatch, lambda _: 0)
    tasks.set_up()
    assert "venv" in calls[0]


def test_a_missing_package_of_the_system_is_named(tasks: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tasks.importlib.util, "find_spec", lambda _: None)
    with pytest.raises(SystemExit, match="install the package python3-venv, then run this again"):
        tasks.set_up()
    assert not tasks.VENV.exists()


def test_an_old_python_is_told_apart(tasks: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 10, 2, "final", 0))
    with pytest.raises(SystemExit, match=r"needs Python 3\.11 or later"):
        tasks.main(["test"])


@pytest.mark.parametrize("words", [[], ["polish"], ["gate", "polish"], ["bench"]])
def test_a_wrong_word_shows_the_right_ones(tasks: ModuleType, words: list[str]) -> None:
    assert tasks.main(words) == 2


def test_the_pins_for_uv_are_replaced_and_nothing_else(tasks: ModuleType) -> None:
    before = tasks.PROJECT.read_text(encoding="utf-8")
    tasks.write_pins([])
    assert "constraint-dependencies = []\n" in tasks.PROJECT.read_text(encoding="utf-8")
    tasks.write_pins(tasks.pins(tasks.LOCK.read_text(encoding="utf-8")))
    assert tasks.PROJECT.read_text(encoding="utf-8") == before


def test_the_lock_is_whole() -> None:
    """It is installed as it stands, so what a package of it needs must be in it."""
    done = subprocess.run([sys.executable, "-m", "pip", "check"], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout
