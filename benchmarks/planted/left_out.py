"""Sizes of nought, readings without their mates, words that contradict the numbers. Each shows always."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from benchmarks.planted.kind import Kind
from benchmarks.planted.typed import changed_world, mm, name_of, places, retyped, told, without
from tests.checks.ran import Simulated

Edit = Callable[[Simulated], Simulated]


def nought(name: str) -> Edit:
    """The first reading of that name typed as 0."""

    def edit(one: Simulated) -> Simulated:
        at = places(one.typed, name)[0]
        unit = "kg" if one.check == "support" else ""
        return replace(one, typed=[f"{name_of(t)}=0{unit}" if i == at else t for i, t in enumerate(one.typed)])

    return edit


def typed(**texts: str) -> Edit:
    """These are typed so."""
    return lambda one: retyped(one, **texts)


def left(*names: str) -> Edit:
    """These are left out."""
    return lambda one: without(one, *names)


def radii_of_nought(one: Simulated) -> Simulated:
    return retyped(one, flange_radius="0", plate_radius="110mm")


def scribed_elsewhere(one: Simulated) -> Simulated:
    """The straightedge was proven at another place."""
    return replace(one, typed=[t.replace("scribed@152.4mm", "scribed@100mm") for t in one.typed])


def two_places(one: Simulated) -> Simulated:
    """One place under several names."""
    kept = [t for t in one.typed if not t.startswith(("gap@", "scribed"))]
    return replace(one, typed=[*kept, "gap@0mm=0", "gap@10mm=0.1mm", "gap@1cm=0.1mm"])


def three_places(one: Simulated) -> Simulated:
    gone = ("gap@152.4mm", "gap@457.2mm", "scribed@152.4mm", "scribed@457.2mm")
    return without(one, *gone)


def line_left_out(one: Simulated) -> Simulated:
    return without(one, "hollow@keeper", "crown@keeper")


def both_at_once(one: Simulated) -> Simulated:
    return retyped(one, **{"hollow@far": "0.2mm", "crown@far": "0.2mm"})


def gap_at_none(one: Simulated) -> Simulated:
    """A gap, and `none` said of its place; where there was none, a place without a gap."""
    gap = max((mm(t) for t in one.typed if t.startswith("gap=") and not t.endswith("=0")), default=0.0)
    if gap:
        return retyped(one, where="none")
    place = {"flip": "away", "detent-angle": "inside"}[one.check]
    return retyped(one, where=place)


def tilt_gap_nowhere(one: Simulated) -> Simulated:
    if one.check == "tilt-45":
        return retyped(one, at="none", **{"gap@1": "0.3mm"})
    return retyped(one, at="none", gap="0.3mm")


def gap_at_both_ends(one: Simulated) -> Simulated:
    return retyped(one, **{"first@top": "0.2mm", "first@bottom": "0.1mm"})


def fewer_engagements(one: Simulated) -> Simulated:
    """Three from each side."""
    kept = [*places(one.typed, "reach"), *places(one.typed, "opening")[:3], *places(one.typed, "closing")[:3]]
    return replace(one, typed=[t for i, t in enumerate(one.typed) if i in kept])


def lower_and_higher(one: Simulated) -> Simulated:
    return retyped(one, **{"joint_low@middle": "0.2mm", "joint_high@middle": "0.2mm"})


def outer_left_out(place: str) -> Edit:
    return left(f"outer_low@{place}", f"outer_high@{place}")


def metal_in_path(one: Simulated) -> Simulated:
    """By the sizes of the shop file metal of the fence reaches to 0.1 in before the blade."""
    return told(one, pivot_beside="2in", metal_end="1.9in", metal_front="1.5in", metal_back="1.5in")


def middle_left_out(one: Simulated) -> Simulated:
    names = ("joint_low@middle", "joint_high@middle", "outer_low@middle", "outer_high@middle")
    return without(one, *names)


EDITS: tuple[tuple[str, str, str, Edit], ...] = (
    ("size of nought", "arbor", "no-size", radii_of_nought),
    ("size of nought", "bar-play", "nothing-engaged", nought("engaged")),
    ("size of nought", "blade-parallel", "no-size", nought("span")),
    ("size of nought", "caliper", "no-size", nought("known")),
    ("size of nought", "dado", "no-size", nought("shelf")),
    ("size of nought", "detent-angle", "no-size", nought("width")),
    ("size of nought", "detent-repeat", "no-size", nought("reach")),
    ("size of nought", "diagonals", "no-size", nought("width")),
    ("size of nought", "fence-upright", "no-size", nought("height")),
    ("size of nought", "five-cut", "no-size", nought("length")),
    ("size of nought", "flip", "no-size", nought("apart")),
    ("size of nought", "rip-fence", "no-size", nought("length")),
    ("size of nought", "rip-parallel", "no-size", nought("lead")),
    ("size of nought", "sight-line", "no-size", nought("to_mark")),
    ("size of nought", "stock", "no-size", nought("thickness")),
    ("size of nought", "stop-repeat", "no-size", nought("part")),
    ("size of nought", "stop-scale", "no-size", nought("measured")),
    ("size of nought", "support", "no-size", nought("weight@start")),
    ("size of nought", "tilt-45", "no-size", typed(thickness="0")),
    ("size of nought", "tilt-90", "no-size", nought("height")),
    ("mate left out", "arbor", "unpaired", typed(turned_high="0.1mm")),
    ("mate left out", "bar-play", "unpaired", left("engaged@end")),
    ("mate left out", "blade-parallel", "unpaired", typed(operator_tilted="0.1mm")),
    ("mate left out", "fence-straight", "scribed-elsewhere", scribed_elsewhere),
    ("mate left out", "knife", "knife-incomplete", left("gap_side")),
    ("mate left out", "rip-fence", "half-a-blade", left("blade_span")),
    ("mate left out", "stock", "unpaired", left("crook_length")),
    ("mate left out", "support", "unpaired", left("span@end")),
    ("mate left out", "table", "lines-missing", line_left_out),
    ("mate left out", "tilt-90", "unpaired", lambda one: without(typed(gap_turned="0.1mm")(one), "at_turned")),
    ("mate left out", "wing", "unpaired", outer_left_out("far")),
    ("mate left out", "wing", "load-not-at-middle", middle_left_out),
    ("contradiction", "detent-angle", "gap-without-place", gap_at_none),
    ("contradiction", "fence-upright", "both-ends", gap_at_both_ends),
    ("contradiction", "flip", "gap-without-place", gap_at_none),
    ("contradiction", "insert", "negative-rock", typed(rock="-0.1mm")),
    ("contradiction", "table", "hollow-and-crown", both_at_once),
    ("contradiction", "tilt-45", "gap-nowhere", tilt_gap_nowhere),
    ("contradiction", "tilt-90", "gap-nowhere", tilt_gap_nowhere),
    ("contradiction", "wing", "low-and-high", lower_and_higher),
    ("metal in the blade's way", "detent-angle", "metal-in-path", metal_in_path),
    ("metal in the blade's way", "stop-scale", "metal-in-path", metal_in_path),
    ("too little read", "detent-repeat", "few-engagements", fewer_engagements),
    ("too little read", "fence-straight", "same-place", two_places),
    ("too little read", "fence-straight", "few-places", three_places),
    ("too little read", "fence-straight", "straightedge-not-proven", left("scribed")),
    ("too little read", "rip-fence", "blade-not-read", left("blade_operator", "blade_far", "blade_span")),
    ("too little read", "stop-scale", "one-length", left("measured@12in", "measured@18in", "measured@24in")),
    ("too little read", "stop-scale", "two-lengths", left("measured@12in", "measured@18in")),
    ("too little read", "support", "by-hand-only", left("weight", "held", "span")),
    ("too little read", "table", "straightedge-not-proven", left("scribed")),
    ("too little read", "tilt-45", "tilt-side-unknown", typed(cut="rip-fence-left")),
    ("too little read", "wing", "straightedge-not-proven", left("edge_limit")),
    ("too little read", "wing", "load-not-read", left("loaded_low", "loaded_high")),
)


def always(edit: Edit) -> Callable[[np.random.Generator, Simulated], tuple[Simulated, bool]]:
    return lambda _rng, one: (edit(one), True)


def kinds() -> list[Kind]:
    """Every kind, by what is wrong and by check."""
    return [
        Kind(name, where, frozenset({code}), "always", changed_world(where, always(edit)))
        for name, where, code, edit in EDITS
    ]
