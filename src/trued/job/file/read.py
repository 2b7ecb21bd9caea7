"""Reading a job file: TOML 1.0 in, a `Job` out, or every fault of it at once."""

from __future__ import annotations

from typing import cast

from trued.errors import Faults, InputRefused
from trued.job.assembly.expand import expand
from trued.job.expression.targets import Targets, reckon
from trued.job.file.definitions import Definitions, define
from trued.job.file.read_fit import read_fit
from trued.job.file.read_part import read_part
from trued.job.file.read_stock import read_stock
from trued.job.file.sizing import Sizing
from trued.job.job import Job, Method, Named, judge_whole
from trued.toml.table import Table, load
from trued.units import Unit

VERSION = 1
_KEYS = ("trued", "name", "unit", "method", "rough", "kerf", "measured", "sizes", "stock", "part", "fit", "assembly")


def read_job(text: str, *, unit: Unit | None = None) -> Job:
    """The job that a file describes.

    text: TOML 1.0 as in docs/job-file.md; unit: of bare numbers where the file does not say (else inch).
    Raises `InputRefused` with all its faults, each with its place: `[[part]] "shelf", length, column 11`.
    """
    faults = Faults()
    top = Table(load(text), "", faults)
    own = _judged(top, unit or "in")
    expanded, whole = expand(top), top.has("assembly")  # what is wrong with an assembly is told by itself
    top = expanded.top
    written = define(top, own, expanded.sizes)
    targets = reckon(written.sizes, written.copies, faults)
    sizing = Sizing(own, targets)
    parts = tuple(part for row in top.rows("part") if (part := read_part(row, written.sizes, sizing)))
    stock = tuple(line for row in top.rows("stock") if (line := read_stock(row, sizing)))
    fits = tuple(fit for row in top.rows("fit") if (fit := read_fit(row, sizing)))
    rough, kerf = sizing.size(top, "rough"), sizing.size(top, "kerf")
    method = Method(top.word("method", tuple(Method), Method.CONTINUOUS))
    judge_whole(faults, has_parts=top.has("part") or whole, has_rough=top.has("rough"), method=method)
    name = top.text("name")
    if len(faults):
        raise InputRefused(*dict.fromkeys(faults))  # a key that is looked at twice is told once
    named = _named(written, targets)
    return Job(name, own, parts, stock, fits, named, method, rough, kerf, expanded.assemblies)


def _judged(top: Table, unit: Unit) -> Unit:
    """The unit of the file, after its keys, its version and the ids of its tables were looked at."""
    top.only(_KEYS)
    if top.whole("trued", VERSION) != VERSION:
        top.fault("trued", f"This program reads job files of version {VERSION}: trued = {VERSION}.")
    for key in ("part", "stock", "fit", "assembly"):
        seen: set[str] = set()
        for row in top.rows(key):
            if (id := row.text("id")) in seen and id:
                row.fault("id", "This id is there more than once; give each its own.", read=id)
            seen.add(id)
    return cast("Unit", top.word("unit", ("in", "mm"), unit))


def _named(written: Definitions, targets: Targets) -> tuple[Named, ...]:
    return tuple(
        Named(name, targets.values[name], given.text, given.of, written.instruments.get(name, ""), name in written.cut)
        for name in written.names
        if (given := written.sizes[name]) is not None
    )
