"""The hidden truth of the demo workshop, and the readings that its owner would type. Invented throughout.

Strips, parts and gaps are worked out from the truth directly, not by the sums of the checks: a fifth cut after four
quarter turns shows the corner's error four times, a stop cut is reading + offset + slope + scatter.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

INCH = 25.4


@dataclass(slots=True)
class Truth:
    """What nobody in the workshop knows. Angles in rad (positive: corner tight), lengths in mm."""

    random: Random
    fence_rad: float
    response: float
    settling_rad: float
    seating_rad: float
    caliper_s: float
    stop_offset: float
    stop_slope: float
    stop_s: float
    kerf: float
    rip_offset: float
    play: float

    @classmethod
    def drawn(cls, seed: int) -> Truth:
        """A workshop for a seed: the same seed is the same workshop, and the same hand."""
        draw = Random(seed)  # noqa: S311 -- a made-up workshop, not a secret
        side = draw.choice((-1.0, 1.0))
        return cls(
            random=draw,
            fence_rad=side * draw.uniform(4e-4, 1.2e-3),
            response=draw.uniform(0.75, 1.25),
            settling_rad=2e-5,
            seating_rad=4e-5,
            caliper_s=0.0006 * INCH,
            stop_offset=draw.uniform(-0.008, 0.008) * INCH,
            stop_slope=draw.uniform(-1e-4, 1e-4),
            stop_s=0.0008 * INCH,
            kerf=draw.uniform(0.094, 0.098) * INCH,
            rip_offset=draw.uniform(-0.003, 0.003) * INCH,
            play=draw.uniform(0.0015, 0.0035) * INCH,
        )

    def caliper(self, mm: float) -> str:
        """A caliper reading of something, as its display shows it: to 0.0005 in."""
        inches = (mm + self.random.gauss(0.0, self.caliper_s)) / INCH
        return f"{round(inches * 2000) / 2000:.4f}"

    def strip(self, length_mm: float = 12.0 * INCH) -> list[str]:
        """Readings of the fifth strip of a panel, each end twice and the middle once."""
        seated = self.fence_rad + self.random.gauss(0.0, self.seating_rad)
        wide = (1.0 + self.random.uniform(-0.05, 0.05)) * INCH
        taper = length_mm * 4.0 * seated
        ends = {"fence_end": wide, "free_end": wide + taper}
        read = [f"{name}={self.caliper(at)}" for name, at in ends.items() for _ in range(2)]
        return [*read, f"middle={self.caliper(wide + taper / 2.0)}", f"length={length_mm / INCH:g}"]

    def turn(self, opened_rad: float) -> None:
        """The fence is turned by what a hand was told; what arrives is another matter."""
        self.fence_rad -= self.response * opened_rad + self.random.gauss(0.0, self.settling_rad)

    def part(self, set_mm: float) -> float:
        """Length of a part cut with the stop set to a reading."""
        return set_mm * (1.0 + self.stop_slope) + self.stop_offset + self.random.gauss(0.0, self.stop_s)

    def ripped(self, set_mm: float) -> float:
        """Width of a part ripped with the fence set to a reading."""
        return set_mm + self.rip_offset + self.random.gauss(0.0, 0.002 * INCH)

    def scale(self, at_inches: tuple[float, ...]) -> list[str]:
        """Parts cut along the scale, each read once against a stick of known length."""
        return [f"measured@{r:g}:stick={self.caliper(self.part(r * INCH))}" for r in at_inches]

    def repeats(self, set_inches: float, copies: int) -> list[str]:
        """Parts cut at one setting without touching the stop."""
        return [f"set={set_inches:g}", *(f"part={self.caliper(self.part(set_inches * INCH))}" for _ in range(copies))]

    def kerf_cut(self) -> list[str]:
        """A short piece before and after one cut."""
        whole, keeper = 5.0 * INCH, 2.4 * INCH
        rest = whole - keeper - self.kerf
        return [
            f"{name}={self.caliper(mm)}"
            for name, mm in (("whole", whole), ("keeper_piece", keeper), ("offcut_piece", rest))
            for _ in range(3)
        ]

    def bar(self) -> list[str]:
        """Play of the bar along its travel, read with an indicator, and how much of the bar is in the slot."""
        read = []
        for place, engaged in (("start", 11.0), ("middle", 20.0), ("end", 12.0)):
            play = abs(self.play + self.random.gauss(0.0, 0.0002 * INCH)) / INCH
            read += [f"play@{place}={round(play * 2000) / 2000:.4f}", f"engaged@{place}={engaged:g}"]
        return read
