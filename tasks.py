"""The project's own commands, on Python's standard library alone.

python3 tasks.py demo [ARG ...]     set up if needed, then run the main job on the invented shop
python3 tasks.py test [ARG ...]     set up if needed, then run every test (more words go to pytest)
python3 tasks.py gate [NAME ...]    every gate, or those named: format lint types contracts tests
python3 tasks.py bench NAME         one benchmark of benchmarks/
python3 tasks.py setup              set up only
python3 tasks.py lock [--upgrade]   write requirements.lock and the pins for uv (needs uv)
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

OLDEST = (3, 11)
ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
STAMP = VENV / "set-up-done"
STARTED = VENV / "set-up-started"  # there from the first moment of a set-up to its last
LOCK = ROOT / "requirements.lock"
PROJECT = ROOT / "pyproject.toml"
LOOK = """  # Has it pip, and is it of the Python that asks?
import importlib.util, sys
sys.exit(importlib.util.find_spec("pip") is None or sys.argv[1] != f"{sys.version_info[0]}.{sys.version_info[1]}")
"""
PINS = re.compile(r"^constraint-dependencies = \[.*?\]\n", re.DOTALL | re.MULTILINE)


# --- the environment


def place() -> str:
    """A folder that was moved, or another Python, makes an environment useless."""
    return f"{sys.version_info[0]}.{sys.version_info[1]}.{sys.version_info[2]} {ROOT}"


def content() -> str:
    """What is installed: the lock, and what pyproject.toml says of the project itself."""
    import tomllib

    project = tomllib.loads(PROJECT.read_text(encoding="utf-8"))
    told = json.dumps([project["build-system"], project["project"]], sort_keys=True)
    return hashlib.sha256(LOCK.read_bytes() + told.encode()).hexdigest()


def set_up() -> None:
    wanted = f"{place()}\n{content()}\n"
    found = STAMP.read_text(encoding="utf-8") if STAMP.exists() else ""
    if found == wanted and PYTHON.exists() and not STARTED.exists():
        return
    begin = time.monotonic()
    print(f"Setting up {VENV.name} (only this time; it takes about a minute) ...", flush=True)
    if not can_be_kept(found):
        make_environment()
    STARTED.touch()
    STAMP.unlink(missing_ok=True)
    install()
    STAMP.write_text(wanted, encoding="utf-8")
    STARTED.unlink()
    print(f"Set up in {time.monotonic() - begin:.0f} s.", flush=True)


def can_be_kept(found: str) -> bool:
    """An environment is brought up to date only if it is whole, and of this Python and place."""
    if STARTED.exists() or not PYTHON.exists():
        return False
    if found and found.split("\n", 1)[0] != place():
        return False
    return call([PYTHON, "-c", LOOK, f"{sys.version_info[0]}.{sys.version_info[1]}"]) == 0


def make_environment() -> None:
    if importlib.util.find_spec("venv") is None or importlib.util.find_spec("ensurepip") is None:
        sys.exit("Python cannot make an environment here: install the package python3-venv, then run this again.")
    shutil.rmtree(VENV, ignore_errors=True)
    VENV.mkdir(exist_ok=True)
    STARTED.touch()
    if call([sys.executable, "-m", "venv", VENV]) != 0:
        sys.exit("The environment .venv could not be made, for the reason above; put it right and run this again.")


def install() -> None:
    # Python compiles each module when it is first used; compiling all of them here would take half as long again.
    pip: list[str | Path] = [PYTHON, "-m", "pip", "--disable-pip-version-check", "--quiet", "install", "--no-compile"]
    # The lock is whole. Left to look for dependencies, pip takes `coverage[toml]` for another package than the pinned
    # `coverage`, and asks for the newest.
    locked = [*pip, "--no-deps", "--require-hashes", "--requirement", LOCK]
    itself = [*pip, "--no-deps", "--no-build-isolation", "--editable", ROOT]
    if call(locked) != 0 or call(itself) != 0:
        sys.exit("The packages could not be installed, for the reason above; put it right and run this again.")


def call(words: Sequence[str | Path], folder: Path | None = None) -> int:
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return subprocess.run([str(word) for word in words], cwd=folder, env=environment, check=False).returncode


# --- the commands


def demo(words: list[str]) -> int:
    set_up()
    return call([PYTHON, "-m", "trued", "demo", *words])


def test(words: list[str]) -> int:
    set_up()
    return call([PYTHON, "-m", "pytest", "-n", "auto", *words], ROOT)


GATES: dict[str, list[str | Path]] = {
    "format": [PYTHON, "-m", "ruff", "format", "--check", "."],
    "lint": [PYTHON, "-m", "ruff", "check", "."],
    "types": [PYTHON, "-m", "mypy"],
    "contracts": [BIN / "lint-imports"],
    "tests": [PYTHON, "-m", "pytest", "-n", "auto", "--cov"],  # the docs check is one of the tests
}


def gate(words: list[str]) -> int:
    unknown = [word for word in words if word not in GATES]
    if unknown:
        print(f"There is no gate {', '.join(unknown)}; the gates are {', '.join(GATES)}.", file=sys.stderr)
        return 2
    set_up()
    failed = [name for name in words or GATES if not passes(name)]
    print(f"\nFailed: {', '.join(failed)}." if failed else "\nEvery gate passed.", flush=True)
    return 1 if failed else 0


def passes(name: str) -> bool:
    print(f"\n--- {name}", flush=True)
    return call(GATES[name], ROOT) == 0


def bench(words: list[str]) -> int:
    known = sorted(path.stem for path in (ROOT / "benchmarks").glob("*.py"))
    if not words or words[0] not in known:
        print(f"Say which benchmark: {', '.join(known)}.", file=sys.stderr)
        return 2
    set_up()
    return call([PYTHON, ROOT / "benchmarks" / f"{words[0]}.py", *words[1:]], ROOT)


def setup(_words: list[str]) -> int:
    set_up()
    print(f"{VENV.name} is ready.")
    return 0


# --- the lock: one resolution, written down twice (for pip with hashes, for uv as pins)


def lock(words: list[str]) -> int:
    uv = shutil.which("uv") or shutil.which("uv", path=str(BIN))
    if uv is None:
        print("The lock is made with uv: install it (pip install uv), then run this again.", file=sys.stderr)
        return 1
    before = PROJECT.read_text(encoding="utf-8"), LOCK.read_text(encoding="utf-8") if LOCK.exists() else ""
    try:
        first = export(uv, [] if "--upgrade" in words else pins(before[1]))
        second = export(uv, pins(first))
    except (subprocess.CalledProcessError, ValueError) as fault:
        PROJECT.write_text(before[0], encoding="utf-8")
        print(f"Nothing was changed: {fault}", file=sys.stderr)
        return 1
    LOCK.write_text(second, encoding="utf-8", newline="\n")
    print(f"{LOCK.name}: {len(pins(second))} pins, the same in {PROJECT.name}.")
    return 0


def export(uv: str, held: list[str]) -> str:
    """The lock's text when uv must keep to the pins held; uv.lock names registry hosts, so it is never kept."""
    write_pins(held)
    (ROOT / "uv.lock").unlink(missing_ok=True)
    command = [uv, "export", "--quiet", "--format", "requirements.txt", "--no-emit-project", "--no-header"]
    done = subprocess.run([*command, "--extra", "dev"], cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True)
    (ROOT / "uv.lock").unlink(missing_ok=True)
    if "://" in done.stdout:
        raise ValueError("the lock would name a registry host.")
    return done.stdout


def pins(text: str) -> list[str]:
    """`name==version ; marker`, one for each package of a lock."""
    return [line.removesuffix("\\").strip() for line in text.splitlines() if re.match(r"[A-Za-z0-9]", line)]


def write_pins(held: list[str]) -> None:
    rows = "".join(f"    {json.dumps(pin)},\n" for pin in held)
    text = PROJECT.read_text(encoding="utf-8")
    wanted = f"constraint-dependencies = [\n{rows}]\n" if held else "constraint-dependencies = []\n"
    PROJECT.write_text(PINS.sub(lambda _: wanted, text, count=1), encoding="utf-8", newline="\n")


COMMANDS: dict[str, Callable[[list[str]], int]] = {
    "demo": demo,
    "test": test,
    "gate": gate,
    "bench": bench,
    "setup": setup,
    "lock": lock,
}


def main(words: list[str]) -> int:
    if sys.version_info[:2] < OLDEST:
        sys.exit(f"trued needs Python {OLDEST[0]}.{OLDEST[1]} or later; this is {sys.version.split()[0]}.")
    if not words or words[0] not in COMMANDS:
        print(__doc__.strip(), file=sys.stderr if words else sys.stdout)
        return 2
    try:
        return COMMANDS[words[0]](words[1:])
    except KeyboardInterrupt:
        return 130
    except OSError as fault:
        sys.exit(f"{fault.strerror or fault}: {fault.filename or ROOT}.")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
