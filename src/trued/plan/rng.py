"""A small generator of repeatable chance: the same seed gives the same layout on every machine."""

_MASK = (1 << 64) - 1


class Rng:
    """SplitMix64 (Steele, Lea, Flood 2014): one 64-bit state, no library, no clock."""

    __slots__ = ("_state",)

    def __init__(self, seed: int) -> None:
        self._state = seed & _MASK

    def _next(self) -> int:
        self._state = (self._state + 0x9E3779B97F4A7C15) & _MASK
        z = self._state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & _MASK
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & _MASK
        return z ^ (z >> 31)

    def below(self, count: int) -> int:
        """A whole number from 0 up to, not with, `count`."""
        return self._next() % count

    def happens(self, percent: int) -> bool:
        """True so many times in a hundred."""
        return self.below(100) < percent

    def shuffle(self, things: list[int]) -> None:
        """Put a list in a chance order, in place."""
        for last in range(len(things) - 1, 0, -1):
            other = self.below(last + 1)
            things[last], things[other] = things[other], things[last]
