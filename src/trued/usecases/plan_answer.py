"""A plan as plain values for scripts, and for the book: the `plan … --json` object of the command contract."""

from __future__ import annotations

from collections.abc import Mapping

from trued.job.job import Job
from trued.job.part import Part
from trued.plan.pieces import to_mm
from trued.plan.result import Layout
from trued.plan.sled_support import TicketSupport
from trued.plan.support import CHECKED, NOT_CHECKED
from trued.plan.ticket import Ticket
from trued.plan.tree import Offcut, Used, offcuts, parts
from trued.plan.tree import Part as Placed
from trued.units import Unit, show_length
from trued.usecases.plan_cutting import rough_length
from trued.usecases.plan_view import FitView, PlanView

Plain = None | bool | int | float | str | list["Plain"] | dict[str, "Plain"]


def answer_of(view: PlanView) -> dict[str, Plain]:
    """The keys in the order of the contract; what is not known is None."""
    order = view.order
    return {
        "job": view.job.name,
        "seed": view.seed,
        "problems": [{"code": p.code, "about": p.about, "text": p.text} for p in view.problems],
        "parts": [_part(part, view.unit) for part in view.job.parts],
        "layout": None if view.layout is None else _layout(view.layout, view.job),
        "order": [_ticket(ticket) for ticket in view.tickets],
        "settings": None if order is None else order.settings,
        "settings_bound": None if order is None else order.bound,
        "fits": [_fit(fit) for fit in view.fits],
        "true_first": [
            {
                "feature": one.feature,
                "check": one.check,
                "minutes": one.minutes,
                "chance_gain": one.chance_gain,
                "fit": one.fit,
                "job_gain": one.job_gain,
                "how": one.how,
            }
            for one in view.true_first
        ],
        "do_not_bother": list(view.do_not_bother),
        "support": None if view.support is None else [_support(one, view.unit) for one in view.support],
        "cautions": list(view.cautions),
        "sheets": [str(path) for path in view.sheets],
        "job_chance": None if view.whole is None else view.whole.chance,
        "job_chance_interval95": _both(None if view.whole is None else view.whole.chance_interval),
        "job_chance_with_test_pieces": None if view.first_parts is None else view.first_parts.chance,
        "assemblies": [{"id": one.id, "kind": one.kind, "said": list(one.said)} for one in view.job.assemblies],
        "tolerances_needed": [
            {
                "part": one.part,
                "side": one.side.value,
                "tolerance_mm": one.tolerance_mm,
                "fit": one.fit,
                "expected_mm": one.expected_mm,
                "enough": one.enough,
            }
            for one in view.needed
        ],
        "cut_to_fit": [
            {"part": one.part, "side": one.side.value, "fit": one.fit, "chance": one.chance, "then": one.then}
            for one in view.cut_to_fit
        ],
        "safety": [{"feature": s.feature, "decision": s.decision, "text": s.text} for s in view.safety],
        "method": view.job.method.value,
        "kerf": {"mm": float(view.kerf.mm), "source": view.kerf.source, "assumed": view.kerf.assumed},
        "walks": None if order is None else order.walks,
        "assumed": list(view.assumed),
        "stale": list(view.stale),
        "left_out": list(view.left_out),
        "support_checked": list(CHECKED),
        "support_not_checked": list(NOT_CHECKED),
        "plan": view.kept or None,
        "version": view.version or None,
        "not_made": [],
    }


def size_text(part: Part, unit: Unit) -> str:
    """`13 3/8 (+0.0004) × 3 1/2 × 0.742 in`; what is held back shows as `…`."""
    sides = (size for _, size in part.sizes())
    sizes = " × ".join("…" if size is None else show_length(size.exact_mm, unit) for size in sides)
    return sizes if unit == "mm" else f"{sizes} in"


def _part(part: Part, unit: Unit) -> Plain:
    return {
        "id": part.id,
        "quantity": part.quantity,
        "length_mm": None if part.length is None else part.length.mm,
        "width_mm": None if part.width is None else part.width.mm,
        "thickness_mm": None if part.thickness is None else part.thickness.mm,
        "text": size_text(part, unit),
        "held_back": part.held_back,
    }


def _layout(layout: Layout, job: Job) -> Plain:
    lines = {line.id: line for line in job.stock}
    return {
        "cost": [layout.cost, layout.unit],
        "bound": layout.bound,
        "gap": layout.gap,
        "ended": layout.ended.value,
        "tried": layout.tried,
        "stock": [_used(used, lines[used.stock.id].material) for used in layout.used],
    }


def _used(used: Used, material: str) -> Plain:
    return {
        "id": used.stock.id,
        "copy": used.copy,
        "material": material,
        "length": to_mm(used.stock.length),
        "width": to_mm(used.stock.width),
        "placements": [_placed(part) for part in parts(used.tree)],
        "offcuts": [_rect(left) for left in offcuts(used.tree)],
    }


def _placed(part: Placed) -> Plain:
    where: dict[str, Plain] = {"part": part.want, "copy": part.copy}
    return where | _rect(part) | {"turned": part.turned}


def _rect(leaf: Placed | Offcut) -> dict[str, Plain]:
    """As it lies in the stock: x from its reference end along the length, y from its reference edge."""
    rect = leaf.piece
    return {"x": to_mm(rect.x), "y": to_mm(rect.y), "length": to_mm(rect.length), "width": to_mm(rect.width)}


def _ticket(ticket: Ticket) -> Plain:
    return {
        "id": ticket.id,
        "station": ticket.station,
        "setting": ticket.setting or None,
        "setting_mm": ticket.setting_mm,
        "scale_text": ticket.scale_text or None,
        "piece": ticket.piece,
        "parts": list(ticket.parts),
        "after": list(ticket.after),
        "face": ticket.face,
        "edge": ticket.edge,
        "first": ticket.first,
        "cautions": list(ticket.cautions),
        "text": ticket.text,
        "wanted_mm": ticket.wanted_mm,
        "wanted_text": ticket.wanted_text or None,
        "remainder_mm": None if ticket.setting_mm is None else ticket.remainder_mm,
        "new_setting": ticket.new_setting,
        "work": {
            "length_mm": ticket.work.length_mm,
            "width_mm": ticket.work.width_mm,
            "thickness_mm": ticket.work.thickness_mm,
            "run": ticket.work.run,
            "at_mm": ticket.work.at_mm,
        },
        "blade_mm": ticket.blade_mm,
        "before": list(ticket.before),
        "waits": ticket.waits,
        "unchecked": list(ticket.unchecked),
    }


def _fit(fit: FitView) -> Plain:
    found = fit.expected
    shares: Mapping[str, float] | None = None if found is None else found.shares
    low, high = fit.limits_mm
    return {
        "name": fit.name,
        "mean_mm": fit.meant_mm if found is None else found.mean_mm,
        "sd_mm": None if found is None else found.sd_mm,
        "chance": None if found is None else found.chance,
        "chance_interval95": _both(None if found is None else found.chance_interval),
        "interval95_mm": None if found is None else list(found.interval_mm),
        "shares": None if shares is None else dict(shares),
        "total_shares": None if found is None else dict(found.totals),
        "method": None if found is None else found.method,
        "draws": None if found is None else found.draws,
        "worst_at": None if found is None else ", ".join(word for word in (found.copies, found.place) if word) or None,
        "assumed": None if found is None else list(found.assumed),
        "limits_mm": [low, high],
        "meant_mm": fit.meant_mm,
    }


def _both(ends: tuple[float, float] | None) -> Plain:
    return None if ends is None else list(ends)


def _support(one: TicketSupport, unit: Unit) -> Plain:
    found = one.finding
    if found is None:
        return {"ticket": one.ticket, "moment": None, "margin_mm": None, "ok": None, "mend": None, "text": one.lacks}
    length = rough_length(unit)
    return {
        "ticket": one.ticket,
        "moment": found.worst.stage.value,
        "margin_mm": found.worst.margin_mm,
        "ok": found.nothing_found,
        "mend": found.mend_words(length) or None,
        "text": found.short_words(length) or "No problem found in these checks.",
    }
