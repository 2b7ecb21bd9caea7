"""`trued checks`: what can be measured."""

from __future__ import annotations

import shlex

from tests.cli.calling import Call


def test_every_check_with_what_it_asks_and_an_example_that_runs(trued: Call) -> None:
    checks = trued("checks", "--json").json["checks"]
    ids = [check["id"] for check in checks]
    assert len(set(ids)) == len(ids) >= 5
    assert {"five-cut", "kerf", "stop-scale", "stop-repeat", "bar-play"} <= set(ids)
    assert list(checks[0]) == [
        *("id", "version", "title", "purpose", "minutes", "features", "ground", "asks", "facts", "example"),
    ]  # fmt: skip
    for check in checks:
        words = shlex.split(check["example"])[1:]
        assert trued(*words, "--json").status == 0, check["example"]


def test_one_line_each_for_people(trued: Call) -> None:
    out = trued("checks").out
    assert "five-cut          15 min  Five-cut: is the sled fence square?\n" in out
    assert out.endswith("How one is done: trued check ID --help\n")
    assert all(len(line) <= 100 for line in out.splitlines())
