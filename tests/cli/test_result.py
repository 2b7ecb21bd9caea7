"""Questions on the command line: asked with status 2, answered with a word, kept as a row."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.calling import STRIP, Call

from trued.errors import Question
from trued.usecases.changes import open_questions, record_event
from trued.usecases.questions.asking import settle

ASKED = Question("sure", "", "Was it carried far?", (("yes", "Over a step or kerb"), ("no", "Only across the shop")))


@pytest.fixture
def asking(monkeypatch: pytest.MonkeyPatch) -> None:
    """An event that asks one thing first, as a use case does that has a question."""
    monkeypatch.setattr(record_event, "settle", lambda questions, given: settle([*questions, ASKED], given))


@pytest.mark.usefixtures("asking")
def test_a_question_keeps_nothing_and_is_answered_by_its_word(trued: Call, book: Path) -> None:
    asked = trued("event", "saw-carried", "--book", book, "--json")
    assert asked.status == 2
    (fault,) = asked.json["error"]["faults"]
    assert (fault["code"], fault["question"], fault["about"], fault["text"]) == ("asks", "sure", None, ASKED.text)
    assert fault["choices"][0] == {"word": "yes", "text": "Over a step or kerb"}
    told = trued("event", "saw-carried", "--book", book)
    assert (told.status, told.out) == (2, "")
    assert told.err.splitlines() == [
        "Was it carried far?",
        "  --answer yes  Over a step or kerb",
        "  --answer no   Only across the shop",
    ]
    assert trued("withdraw", "--book", book, "--json").json["kept"] == []
    wrong = trued("event", "saw-carried", "--answer", "maybe", "--book", book, "--json")
    assert wrong.status == 2 and "the answers are: yes, no" in wrong.faults[0]
    kept = trued("event", "saw-carried", "--answer", "no", "--book", book, "--json").json
    rows = trued("withdraw", "--book", book, "--json").json["kept"]
    assert {row["kind"] for row in rows} == {"event", "answer"} and kept["event"] in {row["id"] for row in rows}


def test_a_run_is_confirmed_and_that_is_taken_back(trued: Call, book: Path) -> None:
    run = trued("check", "five-cut", *STRIP, "--book", book, "--json").json["run"]
    answer = trued("confirm", run[:8], "--book", book, "--json").json
    assert (answer["about"], answer["question"], answer["word"]) == (run, "confirm", "yes")
    assert "Kept: It was read and typed right: it counts." in trued("confirm", run, "--book", book).out
    back = trued("withdraw", answer["answer"][:8], "--book", book)
    assert back.status == 0 and "confirm: yes" in back.out
    assert trued("confirm", "ffffff", "--book", book).status == 2


def test_the_standing_asks_and_is_answered(trued: Call, book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    run = trued("check", "five-cut", *STRIP, "--book", book, "--json").json["run"]
    asked = Question("touched", run, "Did you turn the screw?", (("turned", "I did"), ("left", "I did not")))
    monkeypatch.setattr(open_questions, "SOURCES", (lambda _: [asked],))
    out = trued("standing", "--book", book).out
    assert f"Did you turn the screw?\n  trued answer {run[:8]} turned  I did\n" in out
    (told,) = trued("standing", "--book", book, "--json").json["asks"]
    assert (told["question"], told["about"]) == ("touched", run)
    assert trued("answer", run[:8], "left", "--book", book).status == 0
    assert trued("standing", "--book", book, "--json").json["asks"] == []
