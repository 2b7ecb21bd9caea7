"""A shop: the saw with its blade, the fixtures, the instruments of the person's own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.equipment.fixture import Fixture, Wing
from trued.equipment.saw import Blade, Hand, Saw, Side
from trued.errors import InputRefused
from trued.measure.instrument import Instrument
from trued.units import Unit
from trued.units.nearest import nearest

_SIDES: dict[str, Side] = {"keeper": "keeper", "offcut": "offcut", "operator": "operator", "far": "far"}


@dataclass(frozen=True, slots=True)
class Shop:
    """`unit` is what a bare number of the person's means. No two fixtures, and no two instruments, share an id."""

    name: str = ""
    unit: Unit = "in"
    saw: Saw | None = None
    blade: Blade | None = None
    fixtures: tuple[Fixture, ...] = ()
    instruments: tuple[Instrument, ...] = ()

    def __post_init__(self) -> None:
        _once("fixtures", [fixture.id for fixture in self.fixtures])
        _once("instruments", [instrument.id for instrument in self.instruments])

    def fixture(self, id: str) -> Fixture:
        """The fixture of that id, retired or not; InputRefused names the nearest when there is none."""
        for fixture in self.fixtures:
            if fixture.id == id:
                return fixture
        ids = tuple(fixture.id for fixture in self.fixtures)
        hint = nearest(id, ids) if ids else "The shop has no fixture yet; describe one in its file."
        raise InputRefused.of("fixture", id, f"The shop has no fixture {id!r}. {hint}")

    @property
    def in_use(self) -> tuple[Fixture, ...]:
        """The fixtures that are not retired."""
        return tuple(fixture for fixture in self.fixtures if not fixture.retired)

    @property
    def sled(self) -> Fixture | None:
        """The first crosscut sled in use, else the first mitre gauge; None without either."""
        for kind in ("crosscut-sled", "mitre-gauge"):
            for fixture in self.in_use:
                if fixture.kind == kind:
                    return fixture
        return None

    @property
    def wings(self) -> tuple[Wing, ...]:
        """The wings in use whose side and size are known."""
        wings = (_wing(fixture) for fixture in self.in_use if fixture.kind == "wing")
        return tuple(wing for wing in wings if wing is not None)

    def table_edge(self, side: Side, keeper: Hand | None = None) -> float | None:
        """Distance in mm to the edge of the bare table on that side; None while it is not known.

        The keeper's hand is the sled's where none is given.
        """
        hand = keeper or (self.sled.keeper if self.sled is not None else None)
        if self.saw is None or (hand is None and side in ("keeper", "offcut")):
            return None
        return self.saw.table.edge(side, hand or "left")


def _wing(fixture: Fixture) -> Wing | None:
    side = _SIDES.get(fixture.word("side"))
    out, along = fixture.number("size_out"), fixture.number("size_along")
    if side is None or out is None or along is None:
        return None
    tested = fixture.word("load_tested") == "yes"
    because = fixture.word("counted_because")
    return Wing(fixture.id, side, out, along, fixture.number("low") or 0.0, tested, because, fixture.word("held"))


def _once(what: str, ids: Sequence[str]) -> None:
    twice = sorted({id for id in ids if ids.count(id) > 1})
    if twice:
        raise ValueError(f"{what} share an id: {', '.join(twice)}")
