"""A kept JSON text is read by name and kind, and what is missing is nothing."""

from __future__ import annotations

from trued.usecases.json_node import Node


def test_what_is_there_and_what_is_not() -> None:
    node = Node.parsed('{"a": [1, "two", null, true, {"b": 2.5}], "c": "x"}')
    assert node["a"][0].number == 1.0 and node["a"][1].text == "two" and node["a"][-1]["b"].number == 2.5
    assert node["a"].texts == ("two",) and node["a"][3].true and not node["a"][0].true
    assert node["a"][3].number is None and node["c"].number is None and node["a"][0].text == ""
    assert not node["z"] and not node["a"][9] and not node["c"]["d"] and not node["c"][0] and node["c"]
    assert list(node["c"]) == [] and list(node["a"].items()) == []
    assert [name for name, _ in node.items()] == ["a", "c"]
