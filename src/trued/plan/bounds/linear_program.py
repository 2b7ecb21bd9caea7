"""The linear-programming library, made quiet and repeatable. Imported only where boards are laid out: it is large."""

from __future__ import annotations

import highspy


class Program(highspy.Highs):
    """A linear or integer program that prints nothing and gives the same answer every time."""

    def enableCallbacks(self) -> None:  # noqa: N802 -- the library's name
        # Called while the library makes itself ready, and the first to print; so it is silenced here.
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]
        self.setOptionValue("threads", 1)
        self.setOptionValue("random_seed", 0)
