"""The measuring procedures, one a file, found by looking into the folder.

`five_cut.py` holds the check `five-cut` as its `CHECK`. Nothing else names the checks, so that adding one is one
file. Further folders (a person's own checks) are looked into after this one.
"""

from __future__ import annotations

import importlib
import importlib.util
import pkgutil
from collections.abc import Sequence
from functools import cache, partial

from trued.errors import InputRefused
from trued.procedure import Check
from trued.procedure.reading import nearest
from trued.standing.catalogue import Catalogue, Declared
from trued.standing.feature import declare_by

__all__ = ["all_checks", "catalogue", "check_ids", "find_check"]


def check_ids(folders: Sequence[str] = ()) -> tuple[str, ...]:
    """The ids of all checks, sorted; no check is loaded for it."""
    return tuple(sorted(_id(name) for name in _places(folders)))


def all_checks(folders: Sequence[str] = ()) -> tuple[Check, ...]:
    """Every check, sorted by id."""
    return tuple(find_check(id, folders) for id in check_ids(folders))


def catalogue(folders: tuple[str, ...] = ()) -> Catalogue:
    """The features that the checks declare: those of this folder first, of them those that are loaded already."""
    places = _places(folders)
    names = sorted(places, key=lambda name: (places[name] is not None, name not in globals(), name))
    return Catalogue([partial(_declared, _id(name), folders) for name in names])


def _declared(id: str, folders: Sequence[str]) -> Declared:
    check = find_check(id, folders)
    return check.id, check.minutes, check.features


def find_check(id: str, folders: Sequence[str] = ()) -> Check:
    """The check of that id, loading its file alone; InputRefused when there is none."""
    places = _places(folders)
    name = id.replace("-", "_")
    if name not in places or _id(name) != id:
        raise InputRefused.of("check", id, f"There is no check {id!r}. {nearest(id, check_ids(folders))}")
    folder = places[name]
    if folder is None:
        module = importlib.import_module(f"{__name__}.{name}")
    else:
        spec = importlib.util.spec_from_file_location(f"trued_own_check_{name}", f"{folder}/{name}.py")
        if spec is None or spec.loader is None:
            raise InputRefused.of("check", id, f"The file of the check {id!r} in {folder} cannot be loaded.")
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
    check = getattr(module, "CHECK", None)
    if not isinstance(check, Check) or check.id != id:
        raise InputRefused.of("check", id, f"The file {name}.py must hold one CHECK with the id {id!r}.")
    return check


def _places(folders: Sequence[str]) -> dict[str, str | None]:
    """Module name -> the further folder that it lies in, or None for this one; this folder wins."""
    places: dict[str, str | None] = {m.name: folder for folder in folders for m in pkgutil.iter_modules([folder])}
    places.update(dict.fromkeys(_own()))
    return {name: folder for name, folder in places.items() if not name.startswith("_")}


@cache
def _own() -> tuple[str, ...]:
    """The files of this folder, looked for once: a long history asks for a check once a run."""
    return tuple(module.name for module in pkgutil.iter_modules(__path__))


def _id(name: str) -> str:
    return name.replace("_", "-")


declare_by(cache(catalogue), usual=True)
