"""Put a copy back in the place of a book, and look through a book from end to end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from trued.errors import BookRefused, Fault, TruedError
from trued.usecases.shop.shop_now import shop_now


@dataclass(frozen=True, slots=True)
class RestoreView:
    """The book in place, the old files under their new names, and the rows of the copy, table by table."""

    path: Path
    aside: tuple[Path, ...]
    rows: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class VerifyView:
    """A book in which nothing is wrong. standings: how many could be worked out; None: of an older version, whose rows
    are looked at when it is brought up to date. left_out: runs that this program can no longer work out, and why."""

    path: Path
    version: int
    rows: tuple[tuple[str, int], ...]
    standings: int | None
    left_out: tuple[str, ...] = ()


def restore(copy: Path, book: Path) -> RestoreView:
    """BookRefused: the copy is not sound, or another program has the book open. The book is then as it was."""
    from trued.store.restoring import restore_book

    done = restore_book(copy, book, datetime.now(UTC))
    return RestoreView(done.path, done.aside, tuple(sorted(done.rows.items())))


def verify(book: Path) -> VerifyView:
    """Structure, what points where, every row, and the standings. BookRefused: all that is wrong, each fault named."""
    from trued.store.file.versions import REVISIONS
    from trued.store.opening import open_as_it_is

    kept, version = open_as_it_is(book)
    with kept:
        if version < len(REVISIONS):
            _refuse(book, kept.structure())
            return VerifyView(book, version, (), None)
        looked = kept.look_through()
    _refuse(book, looked.faults)
    standings, left_out = _standings(book)
    return VerifyView(book, version, tuple(sorted(looked.rows.items())), standings, left_out)


def _refuse(book: Path, faults: tuple[Fault, ...]) -> None:
    if not faults:
        return
    word = "fault was" if len(faults) == 1 else "faults were"
    text = f"{len(faults)} {word} found; nothing was changed. Put back a copy: trued restore COPY --book {book}"
    raise BookRefused(Fault(str(book), "", text), *faults)


def _standings(book: Path) -> tuple[int, tuple[str, ...]]:
    try:
        now = shop_now(book)
        return len(now.standings()), now.left_out
    except TruedError:
        raise
    except Exception as error:
        text = f"Every row can be read, but the standings cannot be computed ({type(error).__name__}: {error})."
        raise BookRefused.of(str(book), "", text) from error
