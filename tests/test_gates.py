"""Each import contract is broken on purpose in a copy and seen to bite; and what no tracked file may hold."""

from __future__ import annotations

import ast
import re
import shutil
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
SRC = ROOT / "src" / "trued"
LINTER = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
CONTRACTS = {contract["id"]: contract for contract in LINTER["contracts"]}


@dataclass(frozen=True, slots=True)
class Fault:
    """Files that break one contract: the path in src/trued, and what to append to it."""

    contract: str
    story: str
    files: tuple[tuple[str, str], ...]


FAULTS = (
    Fault("rooms", "a lower room imports a higher one", (("measure/bad.py", "import trued.standing\n"),)),
    Fault("rooms", "what is known asks what to do", (("standing/bad.py", "import trued.advice\n"),)),
    Fault("rooms", "the two surfaces know each other", (("web/bad.py", "import trued.cli\n"),)),
    Fault("rooms", "the library needs a page", (("library/bad.py", "import trued.web\n"),)),
    Fault("rooms", "words ask the book", (("words/bad.py", "import trued.store\n"),)),
    Fault("rooms", "a check words an answer", (("checks/bad.py", "import trued.words\n"),)),
    Fault("rooms", "planning knows the checks", (("plan/bad.py", "import trued.checks\n"),)),
    Fault("rooms", "a room that no row names", (("attic/__init__.py", ""),)),
    Fault(
        "checks",
        "a new check imports a new check",
        (("checks/bad_one.py", "import trued.checks.bad_two\n"), ("checks/bad_two.py", "")),
    ),
    Fault("door", "the command line opens the book", (("cli/bad.py", "import trued.store\n"),)),
    Fault("door", "a page reaches for the measuring", (("web/bad.py", "import trued.measure\n"),)),
    Fault("door", "the library plans behind the use cases' back", (("library/bad.py", "import trued.plan\n"),)),
    Fault("pure", "a check reads a file", (("checks/bad.py", "import pathlib\n"),)),
    Fault("pure", "planning asks the clock", (("plan/bad.py", "from time import monotonic\n"),)),
    Fault("pure", "a sentence looks at the clock", (("words/bad.py", "import time\n"),)),
    Fault("pure", "a size is logged", (("job/bad.py", "import logging\n"),)),
    Fault("pure", "the shop asks the database", (("standing/bad.py", "import sqlalchemy\n"),)),
    Fault(
        "circles",
        "two files need each other",
        (("job/bad_one.py", "import trued.job.bad_two\n"), ("job/bad_two.py", "import trued.job.bad_one\n")),
    ),
)


def broken_contracts(folder: Path, fault: Fault | None) -> tuple[set[str], str]:
    """The ids of the contracts that lint-imports finds broken in a copy of src with that fault."""
    shutil.copytree(ROOT / "src", folder / "src", ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    for name, text in fault.files if fault else ():
        path = folder / "src" / "trued" / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    program = "import sys; sys.path.insert(0, 'src'); from importlinter.cli import lint_imports_command as lint; lint()"
    command = [sys.executable, "-c", program, "--no-cache", "--config", "pyproject.toml"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    said = done.stdout + done.stderr
    broken = {id for id, contract in CONTRACTS.items() if f"{contract['name']} BROKEN" in said}
    kept = {id for id, contract in CONTRACTS.items() if f"{contract['name']} KEPT" in said}
    assert broken | kept == set(CONTRACTS), said
    assert (done.returncode == 0) == (not broken), said
    return broken, said


def test_every_contract_is_kept(tmp_path: Path) -> None:
    broken, said = broken_contracts(tmp_path, None)
    assert not broken, said


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: f"{fault.contract}: {fault.story}")
def test_a_contract_bites(tmp_path: Path, fault: Fault) -> None:
    broken, said = broken_contracts(tmp_path, fault)
    up = {"circles"} if fault.contract == "rooms" else set()  # an arrow up closes a circle wherever one leads down
    assert broken - up == {fault.contract}, said


def test_each_contract_is_broken_once_on_purpose() -> None:
    assert {fault.contract for fault in FAULTS} == set(CONTRACTS)


def test_the_door_shuts_on_every_room_but_the_five_that_surfaces_may_use() -> None:
    rooms = {f"trued.{name}" for layer in CONTRACTS["rooms"]["layers"] for name in layer.split(" | ")}
    may_use = {"trued.usecases", "trued.render", "trued.words", "trued.units", "trued.errors"}
    surfaces = {"trued.cli", "trued.web", "trued.library", "trued.(__main__)"}
    assert set(CONTRACTS["door"]["forbidden_modules"]) == rooms - may_use - surfaces


def test_the_core_is_every_room_below_the_book_and_the_sheets() -> None:
    layers = CONTRACTS["rooms"]["layers"]
    below = layers[layers.index("words") :]
    assert set(CONTRACTS["pure"]["source_modules"]) == {
        f"trued.{name}" for layer in below for name in layer.split(" | ")
    }


def calls_of(source: str, names: set[str]) -> list[str]:
    """The plain calls of these built-in functions in a source text."""
    called = [node.func for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    return [func.id for func in called if isinstance(func, ast.Name) and func.id in names]


def test_the_core_calls_no_built_in_that_reads_or_prints() -> None:
    """No import shows these, so the contract cannot see them."""
    rooms = [name.removeprefix("trued.") for name in CONTRACTS["pure"]["source_modules"]]
    files = [path for room in rooms for path in (*SRC.glob(f"{room}.py"), *SRC.glob(f"{room}/**/*.py"))]
    banned = {"open", "print", "input", "breakpoint", "exec", "eval"}
    assert len(files) > len(rooms)
    assert [f"{path.name}: {hit}" for path in files for hit in calls_of(path.read_text("utf-8"), banned)] == []
    assert calls_of("x = open('a')", banned) == ["open"]


def test_the_coverage_gate_measures_the_whole_core() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    report = project["tool"]["coverage"]["report"]
    measured = {Path(name).relative_to("src/trued").parts[0].removesuffix(".py") for name in report["include"]}
    assert {f"trued.{name}" for name in measured} == set(CONTRACTS["pure"]["source_modules"])
    assert report["fail_under"] >= 95


def test_a_quick_command_loads_no_heavy_library() -> None:
    heavy = ("alembic", "jinja2", "numpy", "sqlalchemy", "starlette", "typst", "uvicorn")
    words = "['check', 'kerf', 'whole=24.000', 'keeper_piece=11.874', 'offcut_piece=12.001', '--json']"
    program = (
        f"import sys; from trued.cli.main import main\ntry: main({words})\nexcept SystemExit: pass\n"
        f"print(*[name for name in {heavy!r} if name in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT / "src", capture_output=True, text=True, check=True)
    assert '"estimates"' in done.stdout
    assert done.stderr.split() == []


# --- what no tracked file may hold

# A folder of one person's machine, or the address of a package registry: true here and nowhere else.
MACHINE_PATH = re.compile(r"(?<![\w.~/-])/(?:work|root|home|opt|Users|tmp)/\w+[\w./-]*")
REGISTRY = re.compile(r"\b(?:pypi\.org|pythonhosted\.org|npmjs\.(?:org|com)|proxy\.golang\.org|deb\.debian\.org)\b")


def tracked() -> list[Path]:
    """The files that git keeps; without git (an unpacked archive) every file outside the folders that tools make."""
    if (ROOT / ".git").exists() and shutil.which("git"):
        command = ["git", "-c", "safe.directory=*", "ls-files", "-z"]
        names = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
        return [path for name in names.split("\0") if name and (path := ROOT / name).is_file()]
    made = {"__pycache__", "build", "dist", "htmlcov", "trued-demo"}
    return [
        path
        for path in ROOT.rglob("*")
        if path.is_file()
        and not any(
            part in made or part.endswith(".egg-info") or (part.startswith(".") and part != ".ci")
            for part in path.relative_to(ROOT).parts
        )
    ]


def texts() -> list[tuple[str, str]]:
    found = [(path.relative_to(ROOT).as_posix(), path.read_bytes()) for path in tracked()]
    assert any(name == "pyproject.toml" for name, _ in found)
    return [(name, data.decode("utf-8")) for name, data in found if b"\0" not in data]


def test_no_tracked_file_names_a_path_of_a_machine_or_a_registry() -> None:
    faults = [
        f"{name}: {hit.group(0)}"
        for name, text in texts()
        for pattern in (MACHINE_PATH, REGISTRY)
        for hit in pattern.finditer(text)
    ]
    assert faults == []


@pytest.mark.parametrize(
    "text", ["see /" + "work/x.py", "'/" + "home/ann/book.trued'", "https://" + "pypi." + "org/simple"]
)
def test_the_search_finds_what_it_looks_for(text: str) -> None:
    assert MACHINE_PATH.search(text) or REGISTRY.search(text)


def test_no_lock_that_names_hosts_is_kept() -> None:
    names = {path.name for path in tracked()}
    assert not names & {"uv.lock", "pylock.toml", "package-lock.json"}


def test_the_lock_holds_a_hash_for_every_package_and_the_same_pins_as_for_uv() -> None:
    lock = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    packages = re.split(r"^(?=[A-Za-z0-9])", lock, flags=re.MULTILINE)[1:]
    assert packages
    assert [text.splitlines()[0] for text in packages if "--hash=sha256:" not in text] == []
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    pins = [text.splitlines()[0].removesuffix("\\").strip() for text in packages]
    assert pins == project["tool"]["uv"]["constraint-dependencies"]


def test_no_source_file_is_longer_than_500_lines() -> None:
    long = {path.name: count for path in SRC.rglob("*.py") if (count := len(path.read_bytes().splitlines())) > 500}
    assert long == {}
