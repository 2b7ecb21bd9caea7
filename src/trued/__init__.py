"""Is my saw true, can it make this job, and did the parts come out?

The library, whole: `__all__` is what is promised (docs/library.md). Each name is loaded when it is first used.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING

__version__ = "0.1.0"

if TYPE_CHECKING:
    from trued.drawing.shapes import Drawing
    from trued.equipment.file.read_shop import read_shop
    from trued.equipment.fixture import Fixture, Wing
    from trued.equipment.saw import Blade, Saw
    from trued.equipment.shop import Shop
    from trued.errors import Asks, BookRefused, Fault, InputRefused, Question, TruedError
    from trued.job.assembly.made import Assembled
    from trued.job.file.read import read_job
    from trued.job.fits.fit import FitResult, JobResult
    from trued.job.fits.tolerance_allocation import AllocatedTolerance, CutToFit
    from trued.job.geometry.fit_spec import FitSpec
    from trued.job.groups import CutGroups
    from trued.job.job import Job, Method, Named
    from trued.job.part import Part
    from trued.job.proof.part_inspection import Inspection, PartResult
    from trued.job.size import Size
    from trued.job.stock import StockLine
    from trued.library.as_typed import Number, Readings, Value, Values
    from trued.library.book import Book, open_book
    from trued.library.without_book import all_checks, evaluate, find_check, plan_job, prove_job
    from trued.measure.decision import Conformity, ToleranceLimits, decide
    from trued.measure.estimate import ErrorSource, UncertainValue, interval
    from trued.measure.instrument import Instrument
    from trued.measure.series.dominant_error import DominantError
    from trued.plan.check_priority import CheckPriority
    from trued.plan.layout.result import Layout
    from trued.plan.not_made import NotMade
    from trued.plan.order.order import Order
    from trued.plan.problem import Problem
    from trued.plan.tickets.job_cautions import Safety
    from trued.plan.tickets.sled_support import TicketSupport
    from trued.plan.tickets.ticket import Ticket
    from trued.procedure import (
        Check,
        Estimate,
        Example,
        FeatureResult,
        Finding,
        Flag,
        IntermediatePrecision,
        Move,
        Reading,
        ReadingSpec,
        RunInput,
        SetupFact,
        Step,
    )
    from trued.standing.amounts.hand import Hand
    from trued.standing.declared import Feature
    from trued.standing.feature_status import FeatureStatus, NextAction
    from trued.standing.history.event import Event
    from trued.standing.stop_model import Cuts
    from trued.units import Length, Unit, read_angle, read_length, show_angle, show_length
    from trued.usecases.changes.answer import AnswerView
    from trued.usecases.changes.record_event import EventView
    from trued.usecases.changes.record_move import MoveView
    from trued.usecases.changes.undo import Kept
    from trued.usecases.plan.planned import FitView, KerfUsed, PlanView
    from trued.usecases.questions.mis_cuts import MisCuts
    from trued.usecases.runs.taking import CheckRun
    from trued.usecases.runs.verdict import Verdict
    from trued.usecases.saved.inspect_parts import ForecastRecord, ProofView
    from trued.usecases.shop.describe_shop import ShopView
    from trued.usecases.standing.shop_verdict import ShopVerdict
    from trued.usecases.standing.standing import Line, StandingView, Unchecked

__all__ = [
    "AllocatedTolerance",
    "AnswerView",
    "Asks",
    "Assembled",
    "Blade",
    "Book",
    "BookRefused",
    "Check",
    "CheckPriority",
    "CheckRun",
    "Conformity",
    "CutGroups",
    "CutToFit",
    "Cuts",
    "DominantError",
    "Drawing",
    "ErrorSource",
    "Estimate",
    "Event",
    "EventView",
    "Example",
    "Fault",
    "Feature",
    "FeatureResult",
    "FeatureStatus",
    "Finding",
    "FitResult",
    "FitSpec",
    "FitView",
    "Fixture",
    "Flag",
    "ForecastRecord",
    "Hand",
    "InputRefused",
    "Inspection",
    "Instrument",
    "IntermediatePrecision",
    "Job",
    "JobResult",
    "Kept",
    "KerfUsed",
    "Layout",
    "Length",
    "Line",
    "Method",
    "MisCuts",
    "Move",
    "MoveView",
    "Named",
    "NextAction",
    "NotMade",
    "Number",
    "Order",
    "Part",
    "PartResult",
    "PlanView",
    "Problem",
    "ProofView",
    "Question",
    "Reading",
    "ReadingSpec",
    "Readings",
    "RunInput",
    "Safety",
    "Saw",
    "SetupFact",
    "Shop",
    "ShopVerdict",
    "ShopView",
    "Size",
    "StandingView",
    "Step",
    "StockLine",
    "Ticket",
    "TicketSupport",
    "ToleranceLimits",
    "TruedError",
    "UncertainValue",
    "Unchecked",
    "Unit",
    "Value",
    "Values",
    "Verdict",
    "Wing",
    "all_checks",
    "decide",
    "evaluate",
    "find_check",
    "interval",
    "open_book",
    "plan_job",
    "prove_job",
    "read_angle",
    "read_job",
    "read_length",
    "read_shop",
    "show_angle",
    "show_length",
]

_PLACES = {
    "drawing.shapes": ("Drawing",),
    "equipment.file.read_shop": ("read_shop",),
    "equipment.fixture": (
        "Fixture",
        "Wing",
    ),
    "equipment.saw": (
        "Blade",
        "Saw",
    ),
    "equipment.shop": ("Shop",),
    "errors": (
        "Asks",
        "BookRefused",
        "Fault",
        "InputRefused",
        "Question",
        "TruedError",
    ),
    "job.assembly.made": ("Assembled",),
    "job.file.read": ("read_job",),
    "job.fits.fit": (
        "FitResult",
        "JobResult",
    ),
    "job.fits.tolerance_allocation": (
        "AllocatedTolerance",
        "CutToFit",
    ),
    "job.geometry.fit_spec": ("FitSpec",),
    "job.groups": ("CutGroups",),
    "job.job": (
        "Job",
        "Method",
        "Named",
    ),
    "job.part": ("Part",),
    "job.proof.part_inspection": (
        "Inspection",
        "PartResult",
    ),
    "job.size": ("Size",),
    "job.stock": ("StockLine",),
    "library.as_typed": (
        "Number",
        "Readings",
        "Value",
        "Values",
    ),
    "library.book": (
        "Book",
        "open_book",
    ),
    "library.without_book": (
        "all_checks",
        "evaluate",
        "find_check",
        "plan_job",
        "prove_job",
    ),
    "measure.decision": (
        "Conformity",
        "ToleranceLimits",
        "decide",
    ),
    "measure.estimate": (
        "ErrorSource",
        "UncertainValue",
        "interval",
    ),
    "measure.instrument": ("Instrument",),
    "measure.series.dominant_error": ("DominantError",),
    "plan.check_priority": ("CheckPriority",),
    "plan.layout.result": ("Layout",),
    "plan.not_made": ("NotMade",),
    "plan.order.order": ("Order",),
    "plan.problem": ("Problem",),
    "plan.tickets.job_cautions": ("Safety",),
    "plan.tickets.sled_support": ("TicketSupport",),
    "plan.tickets.ticket": ("Ticket",),
    "procedure": (
        "Check",
        "Estimate",
        "Example",
        "FeatureResult",
        "Finding",
        "Flag",
        "IntermediatePrecision",
        "Move",
        "Reading",
        "ReadingSpec",
        "RunInput",
        "SetupFact",
        "Step",
    ),
    "standing.amounts.hand": ("Hand",),
    "standing.declared": ("Feature",),
    "standing.feature_status": (
        "FeatureStatus",
        "NextAction",
    ),
    "standing.history.event": ("Event",),
    "standing.stop_model": ("Cuts",),
    "units": (
        "Length",
        "Unit",
        "read_angle",
        "read_length",
        "show_angle",
        "show_length",
    ),
    "usecases.changes.answer": ("AnswerView",),
    "usecases.changes.record_event": ("EventView",),
    "usecases.changes.record_move": ("MoveView",),
    "usecases.changes.undo": ("Kept",),
    "usecases.plan.planned": (
        "FitView",
        "KerfUsed",
        "PlanView",
    ),
    "usecases.questions.mis_cuts": ("MisCuts",),
    "usecases.runs.taking": ("CheckRun",),
    "usecases.runs.verdict": ("Verdict",),
    "usecases.saved.inspect_parts": (
        "ForecastRecord",
        "ProofView",
    ),
    "usecases.shop.describe_shop": ("ShopView",),
    "usecases.standing.shop_verdict": ("ShopVerdict",),
    "usecases.standing.standing": (
        "Line",
        "StandingView",
        "Unchecked",
    ),
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
