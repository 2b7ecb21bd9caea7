"""Is my saw true, can it make this job, and did the parts come out?

The library: about twenty names, each loaded when it is first used (docs/library.md).
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING

__version__ = "0.1.0"

if TYPE_CHECKING:
    from trued.checks import all_checks, find_check
    from trued.equipment.file.read_shop import read_shop
    from trued.errors import Asks, BookRefused, InputRefused, TruedError
    from trued.job.file.read import read_job
    from trued.measure.decision import Conformity, ToleranceLimits, decide
    from trued.measure.estimate import ErrorSource, UncertainValue, interval
    from trued.procedure import examine, take
    from trued.units import Length, read_angle, read_length, show_angle, show_length
    from trued.usecases.plan.plan_job import plan_job
    from trued.usecases.runs.run_check import run_check
    from trued.usecases.saved.inspect_parts import prove_job
    from trued.usecases.standing.shop_verdict import shop_verdict
    from trued.usecases.standing.standing import what_stands

__all__ = [
    "Asks",
    "BookRefused",
    "Conformity",
    "ErrorSource",
    "InputRefused",
    "Length",
    "ToleranceLimits",
    "TruedError",
    "UncertainValue",
    "all_checks",
    "decide",
    "examine",
    "find_check",
    "interval",
    "plan_job",
    "prove_job",
    "read_angle",
    "read_job",
    "read_length",
    "read_shop",
    "run_check",
    "shop_verdict",
    "show_angle",
    "show_length",
    "take",
    "what_stands",
]

_PLACES = {
    "checks": ("all_checks", "find_check"),
    "errors": ("Asks", "BookRefused", "InputRefused", "TruedError"),
    "procedure": ("examine", "take"),
    "job.file.read": ("read_job",),
    "measure.decision": ("Conformity", "ToleranceLimits", "decide"),
    "measure.estimate": ("ErrorSource", "UncertainValue", "interval"),
    "equipment.file.read_shop": ("read_shop",),
    "units": ("Length", "read_angle", "read_length", "show_angle", "show_length"),
    "usecases.plan.plan_job": ("plan_job",),
    "usecases.saved.inspect_parts": ("prove_job",),
    "usecases.runs.run_check": ("run_check",),
    "usecases.standing.shop_verdict": ("shop_verdict",),
    "usecases.standing.standing": ("what_stands",),
}
_HOME = {name: place for place, names in _PLACES.items() for name in names}


def __getattr__(name: str) -> object:
    """Load a name of the library from where it lies."""
    if name not in _HOME:
        raise AttributeError(f"module 'trued' has no attribute {name!r}")
    value: object = getattr(importlib.import_module(f"trued.{_HOME[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    """The library's names, loaded or not."""
    return sorted({*globals(), *__all__})
