"""A plan that was worked out, as the document that terminal, page and paper show and that a book keeps."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import cast

from trued.codec import Plain, to_plain
from trued.job.groups import CutGroups
from trued.job.job import Job
from trued.job.part import Part
from trued.plan import document as doc
from trued.plan.layout.cut_tree import Cut, Used, Waste, cuts, offcuts, parts, walk
from trued.plan.layout.cut_tree import Part as Placed
from trued.plan.layout.pieces import Rect, to_mm
from trued.plan.layout.result import Layout
from trued.plan.order.order import Order
from trued.plan.support.support import CHECKED, NOT_CHECKED
from trued.plan.tickets.sled_support import TicketSupport
from trued.plan.tickets.ticket import Ticket, ticket_ids
from trued.units import Unit, show_length
from trued.usecases.plan.cutting import rough_length
from trued.usecases.plan.planned import FitView, PlanView
from trued.words.error_keys import error_key, keyed


def answer_of(plan: doc.PlanDocument) -> dict[str, Plain]:
    """The `plan … --json` object."""
    return cast("dict[str, Plain]", to_plain(plan))


def document_of(view: PlanView) -> doc.PlanDocument:
    """The plan as it is told."""
    order, whole = view.order, view.whole
    return doc.PlanDocument(
        job=view.job.name,
        seed=view.seed,
        problems=view.problems,
        parts=tuple(_part(part, view.unit) for part in view.job.parts),
        layout=None if view.layout is None else _layout(view.layout, view.job, view.order),
        order=tuple(_ticket(ticket) for ticket in view.tickets),
        settings=None if order is None else order.settings,
        settings_bound=None if order is None else order.bound,
        fits=tuple(_fit(fit) for fit in view.fits),
        true_first=view.true_first,
        do_not_bother=view.do_not_bother,
        support=None if view.support is None else tuple(_support(one, view.unit) for one in view.support),
        cautions=view.cautions,
        sheets=tuple(str(path) for path in view.sheets),
        job_chance=None if whole is None else whole.chance,
        job_chance_interval95=None if whole is None else whole.chance_interval,
        job_chance_with_test_pieces=None if view.first_parts is None else view.first_parts.chance,
        assemblies=tuple(doc.PlanAssembly(one.id, one.kind, tuple(one.said)) for one in view.job.assemblies),
        tolerances_needed=tuple(
            doc.PlanNeeded(
                one.part, one.side.value, one.tolerance_mm, one.fit, _finite(one.expected_mm), enough=one.enough
            )
            for one in view.needed
        ),
        cut_to_fit=tuple(
            doc.PlanCutToFit(one.part, one.side.value, one.fit, one.chance, one.then) for one in view.cut_to_fit
        ),
        safety=tuple(doc.PlanSafety(one.feature, one.decision, one.text, one.state) for one in view.safety),
        method=view.job.method.value,
        kerf=doc.PlanKerf(float(view.kerf.mm), view.kerf.source, view.kerf.assumed),
        walks=None if order is None else order.walks,
        assumed=view.assumed,
        stale=view.stale,
        left_out=view.left_out,
        support_checked=CHECKED,
        support_not_checked=NOT_CHECKED,
        plan=view.kept or None,
        version=view.version or None,
        format=doc.FORMAT,
        unit=view.unit,
        made=view.made,
        shop=view.shop is not None,
        not_made=view.not_made,
        groups=_groups(view.groups),
    )


def size_text(part: Part, unit: Unit) -> str:
    """`13 3/8 (+0.0004) × 3 1/2 × 0.742 in`; what is held back shows as `…`."""
    sides = (size for _, size in part.sizes())
    sizes = " × ".join("…" if size is None else show_length(size.exact_mm, unit) for size in sides)
    return sizes if unit == "mm" else f"{sizes} in"


def _part(part: Part, unit: Unit) -> doc.PlanPart:
    length, width, thickness = (None if size is None else size.mm for size in (part.length, part.width, part.thickness))
    return doc.PlanPart(part.id, part.quantity, length, width, thickness, size_text(part, unit), part.held_back)


def _layout(layout: Layout, job: Job, order: Order | None) -> doc.PlanLayout:
    numbers = {} if order is None else ticket_ids(order)
    done = () if order is None else order.cuts
    materials = {line.id: line.material for line in job.stock}
    return doc.PlanLayout(
        cost=(layout.cost, layout.unit),
        bound=layout.bound,
        gap=layout.gap,
        ended=layout.ended,
        tried=layout.tried,
        stock=tuple(
            board_document(
                used,
                materials[used.stock.id],
                {one.task.cut: numbers[one.index] for one in done if one.task.used is used},
            )
            for used in layout.used
        ),
    )


def board_document(used: Used, material: str, tickets: Mapping[Cut, str]) -> doc.PlanBoard:
    """One stock piece; tickets: the id of each cut's ticket, where there is an order."""
    return doc.PlanBoard(
        id=used.stock.id,
        copy=used.copy,
        material=material,
        length=to_mm(used.stock.length),
        width=to_mm(used.stock.width),
        placements=tuple(_placed(part) for part in parts(used.tree)),
        offcuts=tuple(doc.PlanRect(*_rect(left.piece)) for left in offcuts(used.tree)),
        waste=tuple(doc.PlanRect(*_rect(leaf.piece)) for leaf in walk(used.tree) if isinstance(leaf, Waste)),
        defects=tuple(doc.PlanRect(*_rect(mark)) for mark in used.stock.defects),
        cuts=tuple(_cut(cut, tickets.get(cut)) for cut in cuts(used.tree)),
    )


def _cut(cut: Cut, ticket: str | None) -> doc.PlanCut:
    return doc.PlanCut(ticket, cut.axis, *_rect(cut.piece), position=to_mm(cut.position), kerf=to_mm(cut.kerf))


def _placed(part: Placed) -> doc.PlanPlaced:
    return doc.PlanPlaced(part.want, part.copy, *_rect(part.piece), turned=part.turned)


def _rect(rect: Rect) -> tuple[float, float, float, float]:
    return to_mm(rect.x), to_mm(rect.y), to_mm(rect.length), to_mm(rect.width)


def _ticket(ticket: Ticket) -> doc.PlanTicket:
    return doc.PlanTicket(
        id=ticket.id,
        station=ticket.station,
        setting=ticket.setting or None,
        setting_mm=ticket.setting_mm,
        scale_text=ticket.scale_text or None,
        piece=ticket.piece,
        parts=ticket.parts,
        after=ticket.after,
        face=ticket.face,
        edge=ticket.edge,
        first=ticket.first,
        cautions=ticket.cautions,
        text=ticket.text,
        wanted_mm=ticket.wanted_mm,
        wanted_text=ticket.wanted_text or None,
        remainder_mm=None if ticket.setting_mm is None else ticket.remainder_mm,
        new_setting=ticket.new_setting,
        work=ticket.work,
        blade_mm=ticket.blade_mm,
        before=ticket.before,
        waits=ticket.waits,
        unchecked=ticket.unchecked,
    )


def _fit(fit: FitView) -> doc.PlanFit:
    found = fit.expected
    return doc.PlanFit(
        name=fit.name,
        mean_mm=fit.meant_mm if found is None else found.mean_mm,
        sd_mm=None if found is None else _finite(found.sd_mm),
        chance=None if found is None else found.chance,
        chance_interval95=None if found is None else found.chance_interval,
        interval95_mm=None if found is None or not all(map(math.isfinite, found.interval_mm)) else found.interval_mm,
        shares=None if found is None else keyed(found.shares),
        total_shares=None if found is None else keyed(found.totals),
        method=None if found is None else found.method,
        draws=None if found is None else found.draws,
        worst_at=None if found is None else ", ".join(word for word in (found.copies, found.place) if word) or None,
        assumed=None if found is None else tuple(error_key(label) for label in found.assumed),
        limits_mm=fit.limits_mm,
        meant_mm=fit.meant_mm,
    )


def _support(one: TicketSupport, unit: Unit) -> doc.PlanSupport:
    found = one.finding
    if found is None:
        return doc.PlanSupport(one.ticket, None, None, None, None, one.lacks)
    length = rough_length(unit)
    return doc.PlanSupport(
        ticket=one.ticket,
        moment=found.worst.stage.value,
        margin_mm=_finite(found.worst.margin_mm),
        ok=found.nothing_found,
        mend=found.mend_words(length) or None,
        text=found.short_words(length) or "No problem found in these checks.",
    )


def _groups(groups: CutGroups | None) -> tuple[doc.PlanGroup, ...]:
    return () if groups is None else tuple(doc.PlanGroup(part, copy, groups[part, copy]) for part, copy in groups)


def _finite(x: float) -> float | None:
    """JSON has no infinite number: nothing is known there."""
    return x if math.isfinite(x) else None
