"""The command line as a whole: what it lists, how it refuses, what it never does."""

from __future__ import annotations

import contextlib
import io
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.cli.calling import ROOT, STRIP, Call, Said

from trued import __version__
from trued.cli.lines import example as example_line
from trued.cli.lines import wrapped
from trued.cli.main import COMMANDS, main
from trued.cli.result import dump

HEAVY = (
    "numpy",
    "sqlalchemy",
    "alembic",
    "typst",
    "starlette",
    "uvicorn",
    "jinja2",
    "scipy",
    "trued.web",
    "trued.store",
)


def test_the_overview_names_every_command(trued: Call) -> None:
    out = trued().out
    assert out == trued("--help").out == trued("help").out
    assert [line.split()[1] for line in out.splitlines() if line.startswith("  trued ")] == list(COMMANDS)
    assert all(len(line) <= 100 for line in out.splitlines())
    assert trued("--version").out == f"trued {__version__}\n"


@pytest.mark.parametrize("command", COMMANDS)
def test_help_of_each(command: str, trued: Call, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as done:
        trued(command, "--help")
    out = capsys.readouterr().out
    assert done.value.code == 0 and out.startswith(f"usage: trued {command}") and "--json" in out
    assert all(len(line) <= 100 for line in out.splitlines())


def test_a_command_that_is_not_there(trued: Call) -> None:
    said = trued("demmo", "--json")
    assert said.status == 2 and "There is no command 'demmo'" in said.faults[0]
    people = trued("demmo")
    assert (people.status, people.out) == (2, "") and people.err.count("\n") == 1


def test_usage_is_refused_as_all_bad_input_is(trued: Call) -> None:
    for words in (("plan",), ("checks", "--nothing"), ("check", "five-cut", "--unit", "furlong")):
        said = trued(*words, "--json")
        assert said.status == 2 and "--help" in said.faults[0]


WORDS = st.one_of(
    st.sampled_from([
        *COMMANDS, "five-cut", "kerf", "fence_end=1", "free_end=1,500", "length=0", "x=", "=", "@", "--fence", "far",
        "--book", "--readings", "nowhere", "--unit", "mm", "--at", "2026-05-04T10:00", "--strict", "--tolerance",
        "sled.fence-angle@45", "open", "1/24turn", "saw-carried", "--seed", "--", "-", "--out", "\x00", "9" * 400,
    ]),
    st.text(max_size=12),
)  # fmt: skip


@settings(max_examples=150)
@given(words=st.lists(WORDS, max_size=7))
@example(words=["check", "five-cut", "fence_end=1e999", "free_end=9" * 3, "length=1/0"])
@example(words=["check", "kerf", "whole=\ud800", "--tolerance", "-0"])
@example(words=["moved", "fence-angle", "open", "1/0turn"])
@example(words=["shop", "\x00", "--book", "\x00"])
def test_no_words_make_it_stumble(words: list[str]) -> None:
    """Whatever is typed: one object on standard output, an exit status of the contract, no trace of a fault of ours."""
    if words[:1] in (["open"], ["demo"]) or {"-h", "--help", "help", "--version"} & set(words) or not words:
        return
    done = called([*words, "--json"])
    assert done.status in (0, 2, 3), done.out
    answer = json.loads(done.out)
    assert isinstance(answer, dict) and done.err == ""
    assert ("error" in answer) == (done.status > 0)


def called(words: list[str]) -> Said:
    """In a folder of its own, so that nothing is written beside the tests; abbreviations of --help leave by exit."""
    out, err = io.StringIO(), io.StringIO()
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        try:
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                status = main(words)
        except SystemExit:
            return Said(0, "{}", "")
    return Said(status, out.getvalue(), err.getvalue())


def test_a_fault_of_ours_is_a_sentence_and_a_place(
    trued: Call, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def broken() -> None:
        raise ZeroDivisionError("nought")

    monkeypatch.setattr("trued.cli.commands.checks.list_checks", broken)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    said = trued("checks", "--json")
    assert said.status == 70 and "fault of trued, not of yours" in said.faults[0]
    (log,) = tmp_path.glob("trued-fault-*.txt")
    assert "nought" in log.read_text(encoding="utf-8") and str(log) in said.faults[0]
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "none"))
    people = trued("checks")
    assert people.status == 70 and "could not be written down" in people.err and "Traceback" not in people.err


@pytest.mark.skipif(not hasattr(os, "getuid"), reason="rights of files are told otherwise here")
def test_the_details_of_a_fault_overwrite_nothing_and_are_the_persons_own(
    trued: Call, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The file once had one fixed name: a link of that name, laid in the temporary folder, was written through."""
    victim, folder = tmp_path / "victim.txt", tmp_path / "for-all"
    victim.write_text("mine")
    folder.mkdir()
    (folder / "trued-fault.txt").symlink_to(victim)
    monkeypatch.setattr("trued.cli.commands.checks.list_checks", lambda: 1 // 0)
    monkeypatch.setattr("tempfile.tempdir", str(folder))
    assert trued("checks").status == trued("checks").status == 70
    logs = list(folder.glob("trued-fault-*.txt"))
    assert victim.read_text() == "mine" and len(logs) == 2
    assert [log.stat().st_mode & 0o777 for log in logs] == [0o600, 0o600]


def test_an_interrupted_call(trued: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped() -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("trued.cli.commands.checks.list_checks", stopped)
    said = trued("checks")
    assert (said.status, said.out, said.err) == (130, "", "Stopped before it was done.\n")


def test_a_reader_that_goes_away_early() -> None:
    """`trued checks | head -0`: nothing is said of it."""
    command = [sys.executable, "-c", "import sys; from trued.__main__ import main; sys.exit(main(['checks']))"]
    done = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT / "src")
    assert done.stdout is not None and done.stderr is not None
    done.stdout.close()
    assert b"Traceback" not in done.stderr.read()
    done.stderr.close()
    assert done.wait(60) in (0, 120, 130)


PROGRAM = "import sys; from trued.__main__ import main; sys.exit(main(sys.argv[1:]))"


@pytest.mark.parametrize("words", [["check", "kerf", "whole=x", "--json"], ["checks", "--json"], ["demmo", "--json"]])
def test_a_refusal_that_nobody_reads_ends_without_a_trace(words: list[str]) -> None:
    """`trued check kerf whole=x --json | true` once ended in a traceback."""
    done = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT / "src"
    )
    assert done.stdout is not None and done.stderr is not None
    done.stdout.close()
    assert done.stderr.read() == b""
    done.stderr.close()
    assert done.wait(60) in (2, 130)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full disk to try")
@pytest.mark.parametrize("form", [[], ["--json"]])
def test_an_answer_that_cannot_be_written_names_what_is_kept(form: list[str], book: Path) -> None:
    """On a full disk the run is kept and its answer is lost: it once said that nothing was recorded."""
    command = [sys.executable, "-c", PROGRAM]
    words = ["event", "saw-carried", "--book", str(book), *form]
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run([*command, *words], stdout=full, stderr=subprocess.PIPE, check=False, cwd=ROOT / "src")
        refused = [*command, "check", "kerf", "whole=x", *form]
        assert subprocess.run(refused, stdout=full, stderr=full, check=False, cwd=ROOT / "src").returncode == 2
    from trued.usecases.shop.shop_now import opened

    with opened(book) as kept:
        (event,) = kept.events()
    said = done.stderr.decode()
    assert done.returncode == 74 and f"event {event.id}" in said and "do not enter it again" in said
    assert "Traceback" not in said and said.count("\n") == 1


def test_a_check_without_a_book_loads_nothing_heavy() -> None:
    """What a cold start pays for; how long it takes is printed by `tasks.py bench cold`."""
    words = ["check", "five-cut", *STRIP, "--fence", "far", "--keeper", "left", "--json"]
    program = f"import sys; from trued.__main__ import main; main({words!r}); print(*sys.modules, file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=ROOT / "src")
    assert json.loads(done.stdout)["check"] == "five-cut"
    loaded = set(done.stderr.split())
    assert "trued.checks.five_cut" in loaded and "trued.checks.kerf" not in loaded
    assert loaded.isdisjoint(HEAVY)


def test_signs_that_a_terminal_does_not_know() -> None:
    """An old code page, and a word that was no text: still a sentence, and still JSON."""
    program = "import sys; from trued.__main__ import main; sys.exit(main(sys.argv[1:]))"
    for words in (["check", b"kerf\xff", "--json"], ["check", b"kerf\xff"], ["check", "five-cut", "fence_end=½ ▒"]):
        done = subprocess.run(
            [sys.executable, "-c", program, *words],
            capture_output=True,
            check=False,
            cwd=ROOT / "src",
            env={**os.environ, "PYTHONIOENCODING": "ascii"},
        )
        assert done.returncode == 2, done
        assert b"Traceback" not in done.stderr and (json.loads(done.stdout) if done.stdout else done.stderr)


def test_json_has_plain_numbers() -> None:
    assert dump({"a": [float("inf"), float("nan"), 1.5], "b": {"c": -float("inf")}, "d": "½"}) == (
        '{"a": [null, null, 1.5], "b": {"c": null}, "d": "\\u00bd"}'
    )


def test_lines_keep_numbers_with_their_units() -> None:
    text = "x" * 92 + " 12 25.5 in and 13 3/8 in, fence-angle"
    assert wrapped(text).splitlines() == ["x" * 92 + " 12", "    25.5 in and 13 3/8 in, fence-angle"]
    assert example_line("diagonals", ("diagonal_1=38 3/8",)) == "trued check diagonals 'diagonal_1=38 3/8'"
