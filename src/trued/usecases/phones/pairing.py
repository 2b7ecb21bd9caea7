"""The code that lets one phone in: on the computer's screen for five minutes, once, dead after five wrong tries."""

from __future__ import annotations

import secrets
import threading
from collections import deque
from dataclasses import dataclass
from datetime import datetime, timedelta

LIVES = timedelta(minutes=5)
WRONG_TRIES = 5
"""With six figures a guesser has 5 in a million before the code is dead."""
TRIES_A_MINUTE = 5

PLAIN_WIFI = (
    "Someone on your network can read and change what a phone shows, numbers too. "
    "Use your own wifi with a password. In a shared shop use this computer's screen."
)
"""What a door without a certificate means, said before it is opened."""
ROLES = {"member": "may measure, cut and plan", "reader": "may only look"}
"""What a phone may do, in words."""


@dataclass(frozen=True, slots=True)
class PairingCode:
    """`secret`: 128 bits in hex, for the camera; `figures`: six, to be said aloud and typed. Either lets a phone in."""

    secret: str
    figures: str
    role: str
    until: datetime


class Pairing:
    """One code at a time. Every call says what time it is; calls may come from several threads."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._code: PairingCode | None = None
        self._wrong = 0
        self._tries: deque[datetime] = deque(maxlen=TRIES_A_MINUTE)

    def new(self, role: str, now: datetime) -> PairingCode:
        """A fresh code; the one before it is dead."""
        if role not in ROLES:
            raise ValueError(f"no role {role!r}")
        with self._lock:
            self._wrong = 0
            self._code = PairingCode(secrets.token_hex(16), f"{secrets.randbelow(10**6):06d}", role, now + LIVES)
            return self._code

    def code(self, now: datetime) -> PairingCode | None:
        """The code that lives now."""
        with self._lock:
            return self._living(now)

    def end(self) -> None:
        """No code lives any more."""
        with self._lock:
            self._code = None

    def too_often(self, now: datetime) -> bool:
        """Whether the codes of the last minute were tried so often that this try is not looked at; it counts as one."""
        with self._lock:
            full = len(self._tries) == TRIES_A_MINUTE and now - self._tries[0] < timedelta(minutes=1)
            if not full:
                self._tries.append(now)
            return full

    def use(self, typed: str, now: datetime) -> PairingCode | None:
        """The code that was meant, now used up; None for a wrong one, and five of those kill the right one."""
        with self._lock:
            code = self._living(now)
            if code is None:
                return None
            given = "".join(typed.split()).lower()
            right = [secrets.compare_digest(given.encode(), one.encode()) for one in (code.secret, code.figures)]
            if any(right):
                self._code = None
                return code
            self._wrong += 1
            if self._wrong >= WRONG_TRIES:
                self._code = None
            return None

    def give_back(self, code: PairingCode) -> None:
        """It let nobody in after all; it lives again, unless there is a newer one."""
        with self._lock:
            self._code = self._code or code

    def _living(self, now: datetime) -> PairingCode | None:
        if self._code is not None and not self._code.until - LIVES <= now < self._code.until:
            self._code = None  # over, or the clock was set back: five minutes are not told by such a clock
        return self._code
