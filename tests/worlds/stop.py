"""A length stop with its scale and cursor as places along a fence; inches. Nothing of the product is used here.

Blade at 0, stop's face at `stop`: a part is as long as that. The mark m is printed at origin + m * stretch,
the cursor stands `lead` beyond the stop's face.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


def still(_sd: float) -> float:
    return 0.0


@dataclass
class Stop:
    origin: float = 0.0
    stretch: float = 1.0
    lead: float = 0.0
    seat_sd: float = 0.0
    noise: Callable[[float], float] = still
    stop: float = 0.0

    @property
    def offset(self) -> float:
        """What is wrong at the reading 0: true - reading."""
        return self.origin - self.lead

    @property
    def slope(self) -> float:
        return self.stretch - 1.0

    @property
    def reading(self) -> float:
        return (self.stop + self.lead - self.origin) / self.stretch

    def set_to(self, reading: float) -> None:
        self.stop = self.origin + reading * self.stretch - self.lead

    def cut(self) -> float:
        """Length of the next part, seated with scatter."""
        return self.stop + self.noise(self.seat_sd)

    def move_cursor_until(self, reading: float) -> None:
        """With the stop left alone, the cursor is moved on it until the scale is read so."""
        self.lead += (reading - self.reading) * self.stretch

    def move_scale_until(self, reading: float) -> None:
        """With stop and cursor left alone, the scale is slid until it is read so."""
        self.origin -= (reading - self.reading) * self.stretch
