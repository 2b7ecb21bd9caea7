"""Jobs with one fit each, and how each fit really comes out in a simulated shop: laid together, not reckoned."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from benchmarks.fitted.nature import Nature
from tests.worlds import assembly

INCH = 25.4
Set = Callable[[str, str], float]
"""What the scale was set to for a part's `length` or `width`: as the ticket says."""
Parts = Mapping[str, tuple[float, float, int]]


@dataclass(frozen=True)
class Kind:
    """Parts (length, width, copies; in), the fit as the job file writes it, and what it comes to at its places, mm.

    room: the last place is the room of the piece as a whole, which is held against the least alone.
    """

    parts: Callable[[float], Parts]
    fit: Callable[[float], str]
    comes: Callable[[Nature, Set, float], list[float]]
    room: bool = False

    def text(self, size: float) -> str:
        """The job file, with limits that are still to be put."""
        rows = ['[measured]\nt = { is = "0.742", instrument = "caliper" }\n']
        for id, (length, width, copies) in self.parts(size).items():
            rows.append(f'[[part]]\nid = "{id}"\nquantity = {copies}\nlength = "{length}"\nwidth = "{width}"\n')
            rows.append('thickness = "t"\n')
        return "".join(rows) + f'[[fit]]\nid = "f"\n{self.fit(size)}\nat_least = "-9"\nat_most = "9"\n'


def _lengths(nature: Nature, set_to: Set, part: str, copies: int) -> list[float]:
    """All copies of a part at one setting, along their reference edge."""
    setting = nature.one("setting")
    return [nature.length(set_to(part, "length"), setting) for _ in range(copies)]


def _far(nature: Nature, set_to: Set, part: str, copies: int, width: float) -> list[float]:
    return [nature.far_edge(length, width * INCH) for length in _lengths(nature, set_to, part, copies)]


def _shelves(nature: Nature, set_to: Set, _: float) -> list[float]:
    rails, shelves = (_far(nature, set_to, part, n, 3.5) for part, n in (("rail", 2), ("shelf", 4)))
    return [rail - shelf for rail in rails for shelf in shelves]


def _stack(nature: Nature, set_to: Set, size: float) -> list[float]:
    """One length of each of two parts, and two thicknesses of one board that was read with a caliper."""
    (a,), (b,) = (_far(nature, set_to, part, 1, 4.0) for part in "ab")
    board = 0.742 * INCH + nature.one("caliper") + nature.even(0.02) + nature.one("board")
    return [a + b + sum(board + nature.one("piece") for _ in range(2)) - (1.5 * size + 1.484) * INCH]


def _alike(nature: Nature, set_to: Set, _: float) -> list[float]:
    one, two = _far(nature, set_to, "a", 2, 4.0)
    return [one - two]


def _smallest(nature: Nature, set_to: Set, size: float) -> list[float]:
    return [min(_far(nature, set_to, "a", 3, 4.0)) - size * INCH]


def _board(nature: Nature, set_to: Set, size: float) -> list[float]:
    """A board 8 in wide between two faces: both edges, and corner to corner."""
    (length,) = _lengths(nature, set_to, "a", 1)
    width = nature.width(set_to("a", "width"), nature.one("rip setting"))
    piece = assembly.board(length, width, *nature.leans())
    opening = (size + 0.03125) * INCH
    return [*assembly.seen_gaps(opening, piece), assembly.room_between(opening, piece)]


def _diagonals(nature: Nature, set_to: Set, _: float) -> list[float]:
    """A flat frame left to its four joints."""
    across, up = (_lengths(nature, set_to, part, 2) for part in ("rail", "stile"))
    # The top is turned about: its ends come to the other corners. Joints at A, B, C, D.
    wants = [*nature.leans(), *nature.leans()]
    sides = across[0] + 4.0 * INCH, across[1] + 4.0 * INCH, up[0], up[1]
    return [assembly.settled(*sides, wants)]


def _mitred(nature: Nature, set_to: Set, _: float) -> list[float]:
    across, up = (_lengths(nature, set_to, part, 2) for part in ("rail", "stile"))
    lengths = [across[0], up[0], across[1], up[1]]
    cuts = [nature.mitres() for _ in lengths]
    square = 0.7853981633974483
    begins, ends = ([square + cut[end] for cut in cuts] for end in (0, 1))
    return [assembly.mitred(lengths, begins, ends, 2.0 * INCH)[0]]


def _drawer(nature: Nature, set_to: Set, size: float) -> list[float]:
    opening, deep = (size + 2.03125) * INCH, 18.0 * INCH
    box = [length + 1.0 * INCH for length in _far(nature, set_to, "end", 2, 4.0)]
    racked = nature.one("askew")
    room = assembly.drawer_room((opening, opening), (box[0], box[1]), 0.5 * INCH, deep, racked)
    return [opening - box[0] - INCH, opening - box[1] - INCH, room]


def _row(nature: Nature, set_to: Set, _: float) -> list[float]:
    """Three slats laid with a spacer in an opening of 8 in; the last gap at both ends."""
    setting = nature.one("rip setting")
    slats = [nature.width(set_to("slat", "width"), setting) for _ in range(3)]
    pieces = [x for slat in slats for x in ((0.5 * INCH, 0.0), (slat, nature.taper))]
    begins, ends = assembly.stacked(pieces, 20.0 * INCH)
    return [8.0 * INCH - begins[1], 8.0 * INCH - ends[1]]


KINDS: dict[str, Kind] = {
    "shelves": Kind(
        lambda n: {"rail": (n, 3.5, 2), "shelf": (n - 1 / 64, 3.5, 4)},
        lambda _: 'of = "rail.length - shelf.length"',
        _shelves,
    ),
    "stack": Kind(
        lambda n: {"a": (n, 4, 1), "b": (n / 2, 4, 1)},
        lambda n: f'of = "a.length + b.length + a.thickness + b.thickness - {1.5 * n + 1.484}"',
        _stack,
    ),
    "alike": Kind(lambda n: {"a": (n, 4, 2)}, lambda _: 'of = "a@1.length - a@2.length"', _alike),
    "smallest": Kind(
        lambda n: {"a": (n, 4, 3)},
        lambda n: f'of = "min(a@1.length, a@2.length, a@3.length) - {n}"',
        _smallest,
    ),
    "board": Kind(
        lambda n: {"a": (n, 8, 1)},
        lambda n: f'kind = "clearance"\nopening = "{n + 0.03125}"\npart = "a"',
        _board,
        room=True,
    ),
    "diagonals": Kind(
        lambda n: {"rail": (n - 4, 2, 2), "stile": (n + 6, 2, 2)},
        lambda _: (
            'kind = "diagonals"\nsquared = "joints"\nlies = "flat"\n'
            'across = ["rail@1.length + 4", "rail@2.length + 4"]\nup = ["stile@1.length", "stile@2.length"]'
        ),
        _diagonals,
    ),
    "mitres": Kind(
        lambda n: {"rail": (n, 2, 2), "stile": (n + 6, 2, 2)},
        lambda _: 'kind = "mitres"\nsides = ["rail@1", "stile@1", "rail@2", "stile@2"]\nwidth = "2"',
        _mitred,
    ),
    "drawer": Kind(
        lambda n: {"end": (n, 4, 2)},
        lambda n: (
            f'kind = "drawer"\nopening = "{n + 2.03125}"\nbox = ["end@1.length + 1", "end@2.length + 1"]\n'
            'slide = "1/2"\ndeep = "18"'
        ),
        _drawer,
        room=True,
    ),
    "row": Kind(
        lambda _: {"slat": (20, 2, 3)},
        lambda _: (
            'kind = "row"\nopening = "8"\npieces = ["slat@1.width", "slat@2.width", "slat@3.width"]\n'
            'spacer = "1/2"\ndeep = "20"'
        ),
        _row,
    ),
}
