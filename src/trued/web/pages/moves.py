"""What was really turned: the feature, which way, how far."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.errors import Fault, InputRefused
from trued.usecases.changes.adjustments import Adjustment, list_adjustments
from trued.usecases.changes.record_move import record_move
from trued.web.guard import device_of
from trued.web.page_context import answers_of, changing, key_of, new_key, page, see, text_of

NAMES = ("feature", "direction", "amount")


def show(request: Request, book: Path) -> Response:
    """The form, filled with what was advised."""
    given = {name: request.query_params.get(name, "") for name in NAMES}
    return _drawn(book, given, new_key(), ())


def send(request: Request, book: Path, form: FormData) -> Response:
    """Keep it, and go back to what stands; or show it again with what is wrong."""
    given = {name: text_of(form, name).strip() for name in NAMES}
    if changing(form):
        return _drawn(book, given, key_of(form), ())
    faults = _faults(given)
    if not faults:
        chosen = _chosen(list_adjustments(book), given)
        amount = chosen.typed(given["amount"]) if chosen is not None else given["amount"]
        try:
            record_move(
                given["feature"],
                given["direction"],
                amount,
                book,
                key=key_of(form),
                device=device_of(request),
                answers=answers_of(form),
            )
        except InputRefused as refused:
            faults = list(refused.faults)
    if faults:
        return _drawn(book, given, key_of(form), tuple(faults), 422)
    return see("/?turned=1")


def _chosen(adjustments: Sequence[Adjustment], given: dict[str, str]) -> Adjustment | None:
    return next((one for one in adjustments if one.feature == given["feature"]), None)


def _faults(given: dict[str, str]) -> list[Fault]:
    """What is not there at all, said together."""
    texts = {
        "feature": "Choose what you moved.",
        "direction": "Choose which way.",
        "amount": "Type how far.",
    }
    return [Fault(name, "", text) for name, text in texts.items() if not given[name]]


def _drawn(book: Path, given: dict[str, str], key: str, faults: tuple[Fault, ...], status: int = 200) -> Response:
    """The form of what was chosen; until then only what there is to choose from."""
    adjustments = list_adjustments(book)
    chosen = _chosen(adjustments, given)
    beside = {name: [fault.text for fault in faults if fault.where == name] for name in NAMES}
    return page(
        "moved.html",
        status,
        adjustments=adjustments,
        chosen=chosen,
        ways=list(zip(chosen.directions, chosen.orders, strict=True)) if chosen is not None else [],
        given=given | {"amount": _without_unit(given["amount"], chosen)},
        key=key,
        beside=beside,
        loose=[fault.text for fault in faults if chosen is None or fault.where not in NAMES],
    )


def _without_unit(amount: str, chosen: Adjustment | None) -> str:
    """What was advised, without the unit that stands beside the field."""
    return amount.removesuffix(chosen.unit) if chosen is not None else amount
