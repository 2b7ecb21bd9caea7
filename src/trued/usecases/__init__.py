"""The use cases, one verb a file: the only door for every surface.

Here the core is told the features that the checks declare: loaded when the first of them is asked for.
"""

import os
from pathlib import Path

from trued.standing.catalogue import Catalogue
from trued.standing.feature import declare_by
from trued.usecases.files.folders import CHECKS_VARIABLE

_found: dict[str, Catalogue] = {}


def _declared() -> Catalogue:
    """The catalogue of the checks that are found now; asked for at every name, so looked up by the folders alone."""
    folders = os.environ.get(CHECKS_VARIABLE, "")
    if folders:  # a check that was dropped in a moment ago counts at once
        there = (Path(folder) for folder in folders.split(os.pathsep))
        folders += "".join(f" {path.stat().st_mtime_ns}" for path in there if path.is_dir())
    known = _found.get(folders)
    if known is None:
        from trued.usecases.shop.list_checks import catalogue

        known = _found[folders] = catalogue()
    return known


declare_by(_declared)
