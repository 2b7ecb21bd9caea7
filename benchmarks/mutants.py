"""Mutation testing: the measuring sums and seven checks changed in one small place at a time; do their tests notice?

python3 tasks.py bench mutants [FILE ...] [--sample N] [--seed N] [--workers N] [--flips]

A changed file runs the tests that touch the changed line, and its own.
Without --sample every change is tried; --flips tries only those that turn a sign, an end, a direction or two branches.
Goal: 85 of 100 noticed, and none of those that turn something left, but for those that benchmarks/mutated/explained.py
shows to change no result. It needs a system that can fork.
"""

from __future__ import annotations

import argparse
import os
import random
import re
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict, deque
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path[0:1] = [str(ROOT), str(ROOT / "src")]  # not this folder, which has a coverage.py of its own
for one in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[one] = "1"  # a child of a process with threads may hang
os.environ["CI"] = "1"  # the same examples for every change

# ruff: noqa: E402 -- the places and settings above come first
import pytest
from benchmarks.mutated.explained import explained
from benchmarks.mutated.forked import Trial, fresh, grafted, loaded
from benchmarks.mutated.mutate import FLIPS, Mutant, mutants, neutral

CHECKS = ("five_cut", "flip", "stop_repeat", "stop_scale", "detent_repeat", "detent_angle", "support")
TESTS = (
    "tests/measure",
    *(f"tests/checks/test_{name}.py" for name in (*CHECKS, "asked", "every_check")),
    "tests/procedure/test_angle_limits.py",
)
GOAL = 0.85
LEFT = ("survived", "untouched", "broken")
SECONDS = 300.0  # for all tests of a file in a new pytest; more is a change that makes a loop endless


def files() -> list[Path]:
    """The files under test."""
    source = ROOT / "src" / "trued"
    measure = sorted(path for path in (source / "measure").glob("*.py") if path.stem != "__init__")
    return [*measure, *(source / "checks" / f"{name}.py" for name in CHECKS)]


@dataclass(frozen=True)
class Tests:
    """By file and line, the tests that run it; under line 0 all tests that run any of the file.

    `at_load`: by file the lines that run when the file is loaded. `seconds`: of those tests that take long. `every`:
    all tests.
    """

    touching: Mapping[str, Mapping[int, frozenset[str]]]
    at_load: Mapping[str, frozenset[int]]
    seconds: Mapping[str, float]
    every: frozenset[str] = frozenset()

    def of(self, path: Path, line: int) -> list[str]:
        """Those that run the line, then the others of its own; of each the quick ones first.

        When no test runs the line (a line of a table), all that run the file, and all that stand beside one of these.
        """
        lines = self.touching[path.name]
        near = lines.get(line) or frozenset()
        names = (path.stem, "asked") if path.parent.name == "checks" else (path.stem,)
        own = {test for test in self.every if any(f"/test_{name}.py" in test for name in names)}
        places = {test.partition("::")[0] for test in lines[0] if path.parent.name in test}
        beside = {test for test in self.every if test.partition("::")[0] in places}

        def order(test: str) -> tuple[bool, float, bool, str]:
            return test not in near, self.seconds.get(test, 0.0), test not in own, test

        return sorted(own | (near or lines[0] | beside), key=order)


def touched() -> Tests:
    """One run of all these tests with nothing changed."""
    import coverage

    options = (
        "--cov=trued.measure",
        "--cov=trued.checks",
        "--cov-context=test",
        "--cov-report=",
        "--cov-fail-under=0",
        "-p",
        "no:cacheprovider",
    )
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder) / "data"
        command = [sys.executable, "-m", "pytest", "-q", "--durations=0", *options, *TESTS]
        environment = os.environ | {"COVERAGE_FILE": str(data)}
        done = subprocess.run(command, cwd=ROOT, env=environment, check=False, stdout=subprocess.PIPE, text=True)
        if done.returncode != 0:
            sys.exit(f"{done.stdout}\nThe tests fail without any change; mend them first.")
        read = coverage.CoverageData(basename=str(data))
        read.read()
        found = {path.name: read.contexts_by_lineno(str(path)) for path in files()}
    return Tests(
        {name: _by_line(lines) for name, lines in found.items()},
        {name: frozenset(line for line, some in lines.items() if "" in some) for name, lines in found.items()},
        {test: float(s) for s, test in re.findall(r"^([0-9.]+)s call +(.*)$", done.stdout, re.MULTILINE)},
    )


def _by_line(contexts: Mapping[int, Iterable[str]]) -> dict[int, frozenset[str]]:
    lines = {line: frozenset(c.rpartition("|")[0] for c in some if c) for line, some in contexts.items()}
    return lines | {0: frozenset[str]().union(*lines.values())}


class Bench:
    """What is loaded once: the tests as pytest found them, and what each touches."""

    def __init__(self, tests: Tests, session: pytest.Session) -> None:
        self._items = {item.nodeid: item for item in session.items}
        self._tests, self._session = replace(tests, every=frozenset(self._items)), session

    def ways(self, path: Path, line: int, text: str, most: int | None = None, turns: bool = True) -> list[Way]:
        """The ways to try a text, the quick one first; none when no test touches the file. `most` tests at the most.

        A table that is made anew in its place does not reach what others made of it when they were loaded: what turns
        something there is tried in the thorough way as well, and any other change counts as not noticed.
        """
        names = self._tests.of(path, line)[:most]
        if not names:
            return []
        module = ".".join(path.relative_to(ROOT / "src").with_suffix("").parts)
        items = [(self._items[name], self._tests.seconds.get(name, 0.0)) for name in names]
        at_load = line in self._tests.at_load[path.name]
        quick = Way(partial(grafted, module, path, text, self._session, items, at_load), sure=not (at_load and turns))
        return [quick, Way(partial(fresh, module, path, text, names))]


@dataclass(frozen=True)
class Way:
    """One way to try a text; where it is not sure, what survives it is tried by the next as well."""

    run: Callable[[], str]
    sure: bool = True


@dataclass
class Work:
    """One change, and the ways that were not tried yet."""

    path: Path
    mutant: Mutant
    ways: list[Way]
    trial: Trial | None = None
    sure: bool = True

    def came(self) -> str | None:
        """What came of it; None while one is at work."""
        if self.trial is None:
            if not self.ways:
                return "untouched"
            way = self.ways.pop(0)
            self.trial, self.sure = Trial(SECONDS, way.run), way.sure
        what = self.trial.came()
        if what == "not so" or (what == "survived" and not self.sure):
            self.trial, what = None, None
        return what


def unchanged_pass(bench: Bench, paths: Sequence[Path]) -> None:
    """No figure means anything unless tests pass, whatever the way, when nothing is changed but the writing.

    Twenty for each file show it: that all of them pass is known from the run before.
    """
    for path in paths:
        text = path.read_text(encoding="utf-8")
        for one in neutral(text):
            text = one.applied(text)
        seen = [waited(way.run) for way in bench.ways(path, 0, text + "\n# a remark\n", 20)]
        if set(seen) - {"survived", "not so"} or "survived" not in seen:
            sys.exit(f"{path.name}: its tests with nothing changed: {', '.join(seen)}.")
    broken = waited(bench.ways(paths[-1], 0, "raise RuntimeError\n", 20)[1].run)
    if broken != "killed":
        sys.exit(f"{paths[-1].name}: a file that cannot be loaded: {broken}.")


def waited(run: Callable[[], str]) -> str:
    """What came of it in a child."""
    trial = Trial(10 * SECONDS, run)
    while (what := trial.came()) is None:
        time.sleep(0.01)
    return what


def chosen(paths: Iterable[Path], sample: int, seed: int, flips: bool) -> list[tuple[Path, Mutant]]:
    """All changes, or as many drawn from them."""
    every = [(path, m) for path in paths for m in mutants(path.read_text(encoding="utf-8"))]
    every = [(path, m) for path, m in every if not flips or m.kind in FLIPS]
    if not sample or sample >= len(every):
        return every
    drawn = random.Random(seed).sample(every, sample)  # noqa: S311 -- a benchmark, not a secret
    return sorted(drawn, key=lambda pair: (str(pair[0]), pair[1].start))


def tried(
    bench: Bench, work: Iterable[tuple[Path, Mutant]], workers: int
) -> tuple[dict[str, Counter[str]], list[tuple[Path, Mutant]]]:
    """What became of each, by file, and those that no test noticed."""
    waiting, busy = deque(work), list[Work]()
    came: dict[str, Counter[str]] = defaultdict(Counter)
    left: list[tuple[Path, Mutant]] = []
    while waiting or busy:
        while waiting and len(busy) < workers:
            path, mutant = waiting.popleft()
            text = mutant.applied(path.read_text(encoding="utf-8"))
            busy.append(Work(path, mutant, bench.ways(path, mutant.line, text, turns=mutant.kind in FLIPS)))
        for one in list(busy):
            what = one.came()
            if what is None:
                continue
            busy.remove(one)
            came[one.path.name][what] += 1
            if what in LEFT:
                left.append((one.path, one.mutant))
                print(_said(one.path, one.mutant, what), flush=True)
        time.sleep(0.005)
    return came, left


def turned(path: Path, mutant: Mutant) -> bool:
    """Whether it turns something, and no reason is known why that changes no result."""
    line = path.read_text(encoding="utf-8").splitlines()[mutant.line - 1]
    return mutant.kind in FLIPS and not explained(path.name, line, mutant.told)


def _said(path: Path, mutant: Mutant, what: str) -> str:
    turns = " TURNS" if turned(path, mutant) else " (explained)" if mutant.kind in FLIPS else ""
    return f"{path.name}:{mutant.line} {mutant.kind}{turns}: {mutant.told}{'' if what == 'survived' else f' ({what})'}"


def read(words: list[str]) -> argparse.Namespace:
    """The words of the command."""
    parser = argparse.ArgumentParser(prog="mutants", description=__doc__)
    parser.add_argument("names", nargs="*", metavar="FILE", help="as five_cut or line; all when none is named")
    parser.add_argument("--sample", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--flips", action="store_true")
    args = parser.parse_args(words)
    unknown = set(args.names) - {path.stem for path in files()}
    if unknown:
        parser.error(f"no such file: {', '.join(sorted(unknown))}; known are {', '.join(p.stem for p in files())}")
    return args


def main(words: list[str]) -> int:
    args, begin = read(words), time.monotonic()
    paths = [path for path in files() if not args.names or path.stem in args.names]
    work = chosen(paths, args.sample, args.seed, args.flips)
    tests, good = touched(), list[bool]()

    def run(session: pytest.Session) -> None:
        bench = Bench(tests, session)
        unchanged_pass(bench, paths)
        print(f"{len(work)} changes, seed {args.seed}\n", flush=True)
        came, left = tried(bench, work, args.workers)
        print_table(came, left)
        good.append(len(work) - len(left) >= GOAL * len(work) and not any(turned(*one) for one in left))
        print(f"\n{time.monotonic() - begin:.0f} s with {args.workers} at a time", flush=True)

    loaded(TESTS, run)
    return 0 if good == [True] else 1


def print_table(came: Mapping[str, Counter[str]], left: Iterable[tuple[Path, Mutant]]) -> None:
    turns = Counter(path.name for path, mutant in left if turned(path, mutant))
    print("\n| file | tried | noticed | share | left that turn something |\n| --- | --- | --- | --- | --- |")
    for name, counts in [*came.items(), ("all", sum(came.values(), Counter()))]:
        n = counts.total()
        noticed = n - sum(counts[what] for what in LEFT)
        bad = turns.total() if name == "all" else turns[name]
        print(f"| {name} | {n} | {noticed} | {noticed / n:.1%} | {bad} |")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
