"""Tests run on a changed module in children of one process, which has loaded the tests once for all.

Two ways. `grafted`, the quick one: the code of the changed function goes into the function that is there, and a changed
table is made anew in its place. `fresh`, the thorough one: a new pytest that loads all of the product from the start.
"""

from __future__ import annotations

import ast
import importlib.abc
import importlib.machinery
import os
import signal
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from types import CodeType, FunctionType, ModuleType

import pytest

# pytest warns of libraries that were loaded before it, and the project makes every warning an error.
_WARNS = "ignore::pytest.PytestAssertRewriteWarning"
QUIET = ("-q", "-q", "--tb=no", "-p", "no:cacheprovider", "-p", "no:xdist", "-W", _WARNS)


LEAST_SECONDS = 3.0  # of processor for one test, and five times what it usually takes; more is an endless loop
Tests = Sequence[tuple[pytest.Item, float]]
"""With what each usually takes, in seconds."""


class Changed(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Finds one module, with the text given instead of that of its file."""

    def __init__(self, module: str, path: Path, text: str) -> None:
        self._module, self._path, self._text = module, path, text

    def find_spec(
        self, fullname: str, _path: Sequence[str] | None, _target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        """Only for this one."""
        if fullname != self._module:
            return None
        return importlib.machinery.ModuleSpec(fullname, self, origin=str(self._path))

    def exec_module(self, module: ModuleType) -> None:
        """Run the changed text."""
        module.__file__ = str(self._path)
        exec(compile(self._text, str(self._path), "exec"), module.__dict__)  # noqa: S102 -- our own text, changed


class Picked:
    """A plugin that runs these tests alone, in this order.

    pytest is given their files: a test that is named and cannot be loaded is for it a mistake of the person.
    """

    def __init__(self, tests: Sequence[str]) -> None:
        self._place = {test: i for i, test in enumerate(tests)}

    @property
    def files(self) -> list[str]:
        """Where they stand."""
        return list(dict.fromkeys(test.partition("::")[0] for test in self._place))

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Leave out the others."""
        mine = [item for item in items if item.nodeid in self._place]
        items[:] = sorted(mine, key=lambda item: self._place[item.nodeid])


class Instead:
    """A plugin that does something else than to run the tests that were found."""

    def __init__(self, do: Callable[[pytest.Session], None]) -> None:
        self._do = do

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Of pytest's own name."""
        if session.testsfailed:
            sys.exit("A test file cannot be loaded; mend it first.")
        self._do(session)
        return True


def loaded(files: Sequence[str], do: Callable[[pytest.Session], None]) -> None:
    """Load the tests of these files and do something with them, nothing being captured."""
    pytest.main([*QUIET, "-s", *files], [Instead(do)])


class Trial:
    """A child at work."""

    def __init__(self, seconds: float, run: Callable[[], str]) -> None:
        self._end = time.monotonic() + seconds
        sys.stdout.flush()
        self._child = os.fork()
        if self._child == 0:
            self._run(run)

    def came(self) -> str | None:
        """What it told; `broken` when it told nothing, `timeout`, None while it is at work."""
        done, status = os.waitpid(self._child, os.WNOHANG)
        if done:
            ends = dict(enumerate(TOLD)) | {-signal.SIGVTALRM: "timeout"}
            return ends.get(os.waitstatus_to_exitcode(status), "broken")
        if time.monotonic() < self._end:
            return None
        os.kill(self._child, signal.SIGKILL)
        os.waitpid(self._child, 0)
        return "timeout"

    @staticmethod
    def _run(run: Callable[[], str]) -> None:
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, 1)
        os.dup2(nothing, 2)
        code = len(TOLD)
        try:
            code = TOLD.index(run())
        finally:
            os._exit(code)


TOLD = ("survived", "killed", "not so")  # the last: the change cannot be tried in this way


def fresh(module: str, path: Path, text: str, tests: Sequence[str]) -> str:
    """All of the product is loaded from the start, and the tests with it."""
    for name in [name for name in sys.modules if name.partition(".")[0] in ("trued", "tests")]:
        del sys.modules[name]
    sys.meta_path.insert(0, Changed(module, path, text))
    picked = Picked(tests)
    code = int(pytest.main([*QUIET, "-x", *picked.files], [picked]))
    return {0: "survived", 1: "killed", 2: "killed"}[code]  # 2: they could not be loaded; any other: none was run


def grafted(module: str, path: Path, text: str, session: pytest.Session, tests: Tests, at_load: bool) -> str:
    """The change put into the module that is there; not so where it is in a class or in what a function takes.

    at_load: the changed line runs when the module is loaded, so its tables are made anew in any case.
    """
    here = sys.modules[module].__dict__
    try:
        was, now = _functions_of(here, module), _functions_of(_run_apart(module, path, text), module)
    except Exception:  # noqa: BLE001 -- whatever it is, a file that cannot be loaded is noticed
        return "killed"
    changed = [name for name in was if name in now and not _alike(was[name].__code__, now[name].__code__)]
    tables = _tables(text)
    rerun = (at_load and bool(changed)) or ast.dump(tables) != ast.dump(_tables(path.read_text(encoding="utf-8")))
    if not changed and not rerun:
        return "not so"
    for name in changed:
        was[name].__code__ = now[name].__code__
    if rerun and not _exchanged(module, path, tables):
        return "killed"
    _forget()
    return _passed(session, tests)


def _tables(text: str) -> ast.Module:
    """A module's own statements, without its functions and classes."""
    tree = ast.parse(text)
    tree.body = [one for one in tree.body if not isinstance(one, ast.FunctionDef | ast.ClassDef)]
    return tree


def _exchanged(module: str, path: Path, tables: ast.Module) -> bool:
    """Run a module's own statements with its functions and classes as they are; put what they give where it was.

    False when they cannot be run.
    """
    here = sys.modules[module].__dict__
    new = dict(here)
    try:
        exec(compile(tables, str(path), "exec"), new)  # noqa: S102 -- our own text, changed
    except Exception:  # noqa: BLE001 -- a file that cannot be loaded is noticed
        return False
    others = [m for name, m in sys.modules.items() if name.partition(".")[0] in ("trued", "tests")]
    for name in [n for n in here if not n.startswith("__") and new[n] is not here[n]]:
        old = here[name]
        for other in others:
            if name in vars(other) and vars(other)[name] is old:
                setattr(other, name, new[name])
    return True


def _forget() -> None:
    """What was worked out with the old code while the tests were loaded."""
    for module in [m for name, m in sys.modules.items() if name.startswith("trued.")]:
        for thing in vars(module).values():
            if hasattr(thing, "cache_clear"):
                thing.cache_clear()


def _run_apart(module: str, path: Path, text: str) -> dict[str, object]:
    names: dict[str, object] = {"__name__": module, "__file__": str(path)}
    exec(compile(text, str(path), "exec"), names)  # noqa: S102 -- our own text, changed
    return names


def _passed(session: pytest.Session, tests: Tests) -> str:
    for item, usual in tests:
        signal.setitimer(signal.ITIMER_VIRTUAL, LEAST_SECONDS + 5.0 * usual)  # of processor; its signal ends the child
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
        if session.testsfailed:
            return "killed"
    return "survived"


def _functions_of(names: Mapping[str, object], module: str) -> dict[str, FunctionType]:
    return dict(_functions(names, module, ""))


def _functions(names: Mapping[str, object], module: str, within: str) -> Iterator[tuple[str, FunctionType]]:
    for name, thing in names.items():
        if isinstance(thing, type) and thing.__module__ == module and not within:
            yield from _functions(dict(vars(thing)), module, f"{name}.")
            continue
        for one in (thing, *(getattr(thing, a, None) for a in ("fget", "__func__", "__wrapped__"))):
            if isinstance(one, FunctionType) and one.__module__ == module:
                yield f"{within}{name}", one
                break


def _alike(a: CodeType, b: CodeType) -> bool:
    """Whether they do the same; where it stands in the file does not count."""
    if (a.co_code, a.co_names, a.co_varnames) != (b.co_code, b.co_names, b.co_varnames):
        return False
    pairs = list(zip(a.co_consts, b.co_consts, strict=False))
    return len(a.co_consts) == len(b.co_consts) and all(
        _alike(x, y) if isinstance(x, CodeType) and isinstance(y, CodeType) else repr(x) == repr(y) for x, y in pairs
    )
