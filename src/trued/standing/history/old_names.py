"""Names that were others once: what a book holds under an old name is read as the new one for ever.

A row is one line of `OLD_NAMES`. Nothing in a book is changed: its reader (`store/kept/renamed.py`) puts the new
name in place of the old one. What is typed is read the same way until version 1.0.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from trued.standing.feature import named

Kind = Literal["feature", "direction", "check", "event", "reading", "place", "fact"]


@dataclass(frozen=True, slots=True)
class OldName:
    """`old` is `new` now.

    of:         for a direction the bare feature, for a reading, place or fact the check, by its new name; "" for any.
    facts:      what a run of an old check said by its name alone, as (fact, value) of the new check.
    first_book: only in rows of a book of version 1; typed, or in a later row, the name means what it says.

    A feature is named barely (`tilt-90`), or with its angle where that alone is meant (`detent-angle@0`). The new name
    may bring a thing and an angle of its own (`bevel@45`); else those of the old full name stay.
    """

    kind: Kind
    old: str
    new: str
    of: str = ""
    facts: tuple[tuple[str, str], ...] = ()
    first_book: bool = False


OLD_NAMES: tuple[OldName, ...] = (
    OldName("feature", "tilt-90", "bevel@0"),
    OldName("feature", "tilt-45", "bevel@45"),
    OldName("feature", "sight-line", "sight-line@0"),
    OldName("feature", "stop-shift", "stop-offset@0"),  # one cursor went by two names
    OldName("feature", "rip-pinch", "rip-fence-angle"),
    # A detent's angle was not asked for in the first books: each was kept as if it were the square one.
    OldName("feature", "detent-angle@0", "detent-angle@?", first_book=True),
    OldName("feature", "detent-repeat@0", "detent-repeat@?", first_book=True),
    OldName("feature", "detent-backlash@0", "detent-backlash@?", first_book=True),
)
"""Every name that was ever stored and is another one now. None is ever taken out; a new name is no old one."""


def table_of(names: Iterable[OldName]) -> Mapping[tuple[Kind, str, str], OldName]:
    """By kind, what it belongs to, and the old name."""
    return {(name.kind, name.of, name.old): name for name in names}


_TABLE = table_of(OLD_NAMES)


def now_called(kind: Kind, name: str, of: str = "", *, first_book: bool = False) -> str:
    """The name of today; a name that was never another one as it is. For a feature any full name will do."""
    if kind == "feature":
        return _feature(name, first_book=first_book)
    found = renamed(kind, name, of, first_book=first_book)
    return name if found is None else found.new


def renamed(kind: Kind, name: str, of: str = "", *, first_book: bool = False) -> OldName | None:
    """The line of the table for an old name; None for a name of today."""
    found = _TABLE.get((kind, of, name)) or _TABLE.get((kind, "", name))
    return None if found is None or (found.first_book and not first_book) else found


def once_called(kind: Kind, name: str) -> tuple[str, ...]:
    """The name of today and every older one of it."""
    return (name, *(old.old for old in _TABLE.values() if old.kind == kind and old.new == name))


def reading_typed(check: str, typed: str) -> str:
    """`name[@place][:instrument]=value` with the names of today."""
    left, equals, value = typed.partition("=")
    what, colon, instrument = left.partition(":")
    name, at, place = what.partition("@")
    name = now_called("reading", name.strip(), check) if name.strip() else name
    place = now_called("place", place.strip(), check) if place.strip() else place
    return f"{name}{at}{place}{colon}{instrument}{equals}{value}"


def _feature(name: str, *, first_book: bool) -> str:
    parts = named(name)
    whole = f"{parts.feature}@{parts.angle}" if parts.angle else parts.feature
    found = renamed("feature", whole, first_book=first_book)
    if found is None and parts.angle:
        bare = renamed("feature", parts.feature, first_book=first_book)
        found = bare if bare is not None and not named(bare.new).angle else None
    if found is None:
        return name
    new = named(found.new)
    thing, angle = (new.thing or parts.thing), (new.angle or parts.angle)
    return f"{thing}{'.' if thing else ''}{new.feature}{'@' if angle else ''}{angle}"
