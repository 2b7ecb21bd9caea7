"""Taking back what was typed wrong: what was kept last, and one of it with the button."""

from __future__ import annotations

from pathlib import Path

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from trued.usecases.changes.undo import last_kept, one_kept, take_back
from trued.web.page_context import answers_of, key_of, new_key, page
from trued.web.saying import clock

_WORDS = {"run": "Found", "move": "Turned", "event": "Happened", "answer": "Answered"}


def show_all(request: Request, book: Path) -> Response:
    """The list to pick from."""
    del request
    rows = [(f"/withdraw/{one.id}", _WORDS[one.kind], clock(one.at), one.text) for one in last_kept(book)]
    return page("withdraw_list.html", rows=rows)


def show(request: Request, book: Path) -> Response:
    """One of it, and the button."""
    one = one_kept(request.path_params["id"], book)
    return page(
        "withdraw.html", word=_WORDS[one.kind], when=clock(one.at), text=one.text, id=one.id, done=False, key=new_key()
    )


def send(request: Request, book: Path, form: FormData) -> Response:
    """It counts no more."""
    one = take_back(request.path_params["id"], book, key=key_of(form), answers=answers_of(form))
    return page("withdraw.html", word=_WORDS[one.kind], when=clock(one.at), text=one.text, id=one.id, done=True, key="")
