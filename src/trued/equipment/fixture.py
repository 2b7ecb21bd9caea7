"""What is added to a saw: a sled, a gauge, a wing. Its facts are words, or numbers in mm, kg and rad."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from trued.equipment.fence_swing import Detents, detents_of
from trued.equipment.saw import Hand, Side

KINDS = ("crosscut-sled", "mitre-gauge", "wing")


@dataclass(frozen=True, slots=True)
class Fixture:
    """One fixture; which facts there are and what each means is in facts.py. A `retired` one is kept, but not used."""

    id: str
    kind: str
    facts: Mapping[str, str | float] = field(default_factory=dict)
    retired: bool = False

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"{self.id}: a fixture is one of {', '.join(KINDS)}, got {self.kind!r}")

    def __hash__(self) -> int:
        return hash((self.id, self.kind, frozenset(self.facts.items()), self.retired))

    def word(self, fact: str) -> str:
        """A fact that is a word; "" when it is not known."""
        value = self.facts.get(fact, "")
        return value if isinstance(value, str) else ""

    def number(self, fact: str) -> float | None:
        """A fact that is a number, in mm, kg or rad; None when it is not known."""
        value = self.facts.get(fact)
        return None if isinstance(value, str) else value

    @property
    def detents(self) -> Detents:
        """The angles at which its fence is held, by side; none where they are not named."""
        return detents_of(self.word("detents")) if self.word("detents") else Detents()

    @property
    def keeper(self) -> Hand | None:
        """The side of the blade on which the keeper lies."""
        word = self.word("keeper")
        return "left" if word == "left" else "right" if word == "right" else None


@dataclass(frozen=True, slots=True)
class Wing:
    """Support beside the table: how far it reaches out from the table's edge, and how long that edge is, in mm.

    An area that was not load-tested cold, with twice the weight meant for it, is not counted as support, unless the
    person says why it is (`counted_because`); the reason is shown with every result. held: what holds it, "" where
    that is not known.
    """

    id: str
    side: Side
    out_mm: float
    along_mm: float
    low_mm: float = 0.0
    load_tested: bool = False
    counted_because: str = ""
    held: str = ""
