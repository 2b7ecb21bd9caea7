"""The command line called as a person or a script calls it."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from trued.__main__ import main

ROOT = Path(__file__).parents[2]
SHOP = ROOT / "examples" / "shop.toml"
RACK = ROOT / "examples" / "rack.toml"
STRIP = ("fence_end=1.0120", "free_end=1.0500", "length=15")


@dataclass(frozen=True, slots=True)
class Said:
    """What a call printed, and its exit status."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The one object on standard output, without its format; nothing may stand on standard error beside it."""
        assert self.err == ""
        answer = json.loads(self.out)
        assert next(iter(answer)) == "format" and answer.pop("format") == 2
        return answer

    @property
    def faults(self) -> list[str]:
        """The sentences of a refusal that was asked for with --json."""
        error = self.json["error"]
        assert error["status"] == self.status
        assert all({"where", "read", "text"} <= set(fault) for fault in error["faults"])
        return [fault["text"] for fault in error["faults"]]


Call = Callable[..., Said]


def caller(capsys: pytest.CaptureFixture[str]) -> Call:
    """A function that runs one command."""

    def call(*words: object) -> Said:
        capsys.readouterr()
        status = main([str(word) for word in words])
        told = capsys.readouterr()
        return Said(status, told.out, told.err)

    return call
