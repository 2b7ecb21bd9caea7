"""The words that a person reads, held against the rules of wording; room by room, down to none.

The rules are the project's own. "WARNING" for what can maim, and never "safe": ANSI Z535.6 (from memory).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.words import user_text
from tests.words.user_text import RATCHET, Text, counts, differences, faults, shown, write, written

MENDED = "say it as the rules do (python -m tests.words.user_text -v ROOM names file, line and rule)"
WRITE = "well done: python -m tests.words.user_text --write keeps it so"


@pytest.fixture(scope="module")
def texts() -> list[Text]:
    return list(shown())


def test_a_number_only_falls_and_is_written_down_when_it_does(texts: list[Text]) -> None:
    rose, fell = differences(counts(texts), written())
    assert not rose, f"{MENDED}: {rose}"
    assert not fell, f"{WRITE}: {fell}"


def test_the_counts_are_of_all_the_house(texts: list[Text]) -> None:
    """A reader that overlooked a room would count nothing there."""
    folders = {path.name for path in user_text.SOURCE.iterdir() if path.is_dir() and any(path.glob("**/*.py"))}
    assert set(written()) <= folders | {"trued"}
    assert {"checks", "cli", "plan", "standing", "usecases", "web"} <= {text.room for text in texts}
    assert {Path(text.path).suffix for text in texts} == {".py", ".html", ".typ"}
    assert len(texts) > 2000


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("The fence is true, sure enough.", "banned"),
        ("about 37 times in 100", "banned"),
        ("a chance of 37 %", "banned"),
        ("angle of the fence", "banned"),
        ("It is safe to cut.", "banned"),
        ("all the millimetres", "banned"),
        ("one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen", "long"),
    ],
)
def test_what_is_wrong_is_found(text: str, kind: str) -> None:
    assert [fault.kind for fault in faults(text)] == [kind]


@pytest.mark.parametrize(
    "text",
    [
        "Move the left end of the fence away from you, 0.0085 in at the screw.",
        "77% likely in (repeatability assumed).",
        "13 words stand here and 4 numbers: 1 2 3 4",
        "Fence angle  0.0060 in/ft tight, ±0.0016 (0.029°)    limit ±0.0024",
        "safety first",
        "shelves alike",
    ],
)
def test_what_is_right_is_left_alone(text: str) -> None:
    assert list(faults(text, on_page=True)) == []


def test_command_words_and_long_ids_stay_off_pages() -> None:
    for text in ("Type trued moved", "give --kerf", "a TOML file", f"run {'0f' * 16}"):
        assert not list(faults(text)), "fit for a terminal"
        assert [fault.kind for fault in faults(text, on_page=True)] == ["banned"]


def test_what_nobody_reads_is_not_counted(tmp_path: Path) -> None:
    room = tmp_path / "room"
    room.mkdir()
    (room / "code.py").write_text(
        '''"""Docstring that is worked out."""
import re
A = re.compile("nought is worked out")
B = Check(sources=("common sense is worked out",), title="seen worked out")
def f(x: "Literal['give or take']"):
    """Give or take."""
    raise TypeError("cannot tell it")
C = f"{x} times in 100, {'sure enough' if x else 'ok'}"
D = "SELECT what stands FROM here"
raise ValueError("the caller cannot tell")
raise ValueError("You cannot tell")
''',
        encoding="utf-8",
    )
    found = [(text.line, fault.said) for text in shown(tmp_path) for fault in faults(text.text)]
    assert sorted(found) == [(4, "worked out"), (8, "sure enough"), (8, "times in 100"), (11, "cannot tell")]


def test_a_template_is_read_as_a_person_reads_it(tmp_path: Path) -> None:
    (tmp_path / "page.html").write_text(
        """{# a note: worked out #}
{% set here = "checks" %}
<p class="worked out">One <strong>two</strong> three four {{ five|said("nought or more") }}
six seven eight nine ten {% if x %}eleven twelve{% endif %} thirteen fourteen fifteen sixteen</p>
<p>one two three four five six seven eight</p><p>nine ten eleven twelve thirteen fourteen fifteen</p>
<a aria-label="Turn nothing here">{{ "What stands" if x else "now" }}</a>
<p>Type trued moved</p>
""",
        encoding="utf-8",
    )
    found = {(text.line, fault.kind) for text in shown(tmp_path) for fault in faults(text.text, on_page=text.on_page)}
    assert found == {(3, "long"), (3, "banned"), (6, "banned"), (7, "banned")}


def test_the_command_refuses_to_raise(
    texts: list[Text], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / RATCHET.name
    monkeypatch.setattr(user_text, "RATCHET", kept)
    monkeypatch.setattr(user_text, "shown", lambda: texts)
    now = counts(texts)
    room = next(iter(now))
    write({**now, room: {**now[room], "banned": now[room]["banned"] - 1}})
    before = kept.read_text(encoding="utf-8")
    assert user_text.main(["--write"]) == 1
    assert kept.read_text(encoding="utf-8") == before and room in capsys.readouterr().err
    write({**now, room: {**now[room], "banned": now[room]["banned"] + 1}})
    assert user_text.main(["--write"]) == 0
    assert written() == now
