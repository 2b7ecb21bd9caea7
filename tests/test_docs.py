"""The pages keep up: a check, command, warning or exit status without its words fails here; so does a dead link."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
DOCS = ROOT / "docs"
SRC = ROOT / "src" / "trued"
PAGES = sorted([*ROOT.glob("*.md"), *DOCS.rglob("*.md")])
LINK = re.compile(r"(?<!!)\[[^\]]*\]\(([^)\s]+)\)")
HEADING = re.compile(r"^#+\s+(.*?)\s*$", re.MULTILINE)
CODE_BLOCK = re.compile(r"^```.*?^```", re.DOTALL | re.MULTILINE)


def words(page: Path) -> str:
    return page.read_text(encoding="utf-8")


def headings(text: str) -> list[str]:
    return [heading.replace("`", "") for heading in HEADING.findall(CODE_BLOCK.sub("", text))]


def anchor(heading: str) -> str:
    """How a heading is linked to: lower case, spaces as hyphens, other signs left out."""
    return re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")


def dead_links(page: Path) -> list[str]:
    dead = []
    for link in LINK.findall(CODE_BLOCK.sub("", words(page))):
        if re.match(r"[a-z]+:", link):
            continue
        name, _, part = link.partition("#")
        target = (page.parent / name).resolve() if name else page
        if not target.exists() or (part and part not in map(anchor, headings(words(target)))):
            dead.append(link)
    return dead


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_links_lead_somewhere(page: Path) -> None:
    assert dead_links(page) == []


def test_a_dead_link_is_seen(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text("# One\n[a](gone.md) [b](#one) [c](page.md#two)\n```\n[d](x.md)\n```\n", encoding="utf-8")
    assert dead_links(page) == ["gone.md", "page.md#two"]


def test_every_check_has_its_page_and_every_page_its_check() -> None:
    from trued.checks import check_ids

    assert check_ids()
    assert {path.stem for path in (DOCS / "checks").glob("*.md")} - {"index"} == set(check_ids())


def test_every_check_page_tells_what_the_check_asks_for() -> None:
    from trued.checks import all_checks

    missing = [
        f"{check.id}: {told}"
        for check in all_checks()
        for told in (check.title, *(ask.name for ask in check.asks))
        if told.lower() not in words(DOCS / "checks" / f"{check.id}.md").lower()
    ]
    assert missing == []


def warning_codes(source: Path) -> set[str]:
    """The codes that a file writes out: the first argument of each `Flag(...)`."""
    calls = [node for node in ast.walk(ast.parse(words(source))) if isinstance(node, ast.Call)]
    seen = [call for call in calls if isinstance(call.func, ast.Name) and call.func.id == "Flag"]
    firsts = [[*call.args, *(word.value for word in call.keywords if word.arg == "code")][0] for call in seen]
    return {str(first.value) for first in firsts if isinstance(first, ast.Constant)}


def test_every_warning_is_told_on_the_page_of_its_check_or_on_the_page_of_all() -> None:
    common = words(DOCS / "warnings.md")
    missing = []
    for source in (SRC / "checks").glob("*.py"):
        page = DOCS / "checks" / f"{source.stem.replace('_', '-')}.md"
        told = common + (words(page) if page.exists() else "")
        missing += [f"{page.name}: {code}" for code in warning_codes(source) if f"`{code}`" not in told]
    for source in (path for path in SRC.rglob("*.py") if path.parent.name != "checks"):
        missing += [f"warnings.md: {code}" for code in warning_codes(source) if f"`{code}`" not in common]
    assert missing == []


def test_warning_codes_are_found_in_a_file(tmp_path: Path) -> None:
    source = tmp_path / "check.py"
    source.write_text('Flag("ends-swapped", 1, "t")\nx = [Flag(code="unit-slip", act=2, text="t"), Other("no")]\n')
    assert warning_codes(source) == {"ends-swapped", "unit-slip"}
    assert warning_codes(SRC / "procedure" / "finding.py") != set()


def test_every_exit_status_of_an_error_is_told() -> None:
    from trued.errors import TruedError

    kinds: list[type[TruedError]] = [TruedError, *TruedError.__subclasses__()]
    assert len(kinds) >= 3
    text = words(DOCS / "commands.md")
    assert [kind.__name__ for kind in kinds if not re.search(rf"\b{kind.status}\b", text)] == []


def test_every_question_is_told() -> None:
    from trued.advice import slip_question
    from trued.usecases.changes import answer, odd_move
    from trued.usecases.questions import asking, clock
    from trued.usecases.runs import same_strip
    from trued.usecases.shop import measured_parts, untold_detents

    codes = (
        *(asking.FORM_AGAIN, answer.CONFIRM, clock.CLOCK_BACK, clock.ROWS_AHEAD, clock.LATE_ENTRY, slip_question.CODE),
        *(odd_move.UNLIKE, odd_move.AGAIN, same_strip.CODE),
        *(measured_parts.MIS_CUT, measured_parts.LOTS, untold_detents.CODE),
    )
    text = words(DOCS / "questions.md")
    assert [code for code in codes if f"`{code}" not in text] == []


def test_every_command_has_its_heading() -> None:
    from trued.cli.main import COMMANDS

    assert COMMANDS
    titles = [
        re.split(r"[ :(]", heading.removeprefix("trued "))[0] for heading in headings(words(DOCS / "commands.md"))
    ]
    assert [command for command in COMMANDS if command not in titles] == []


def test_every_page_but_those_of_the_checks_can_be_reached_from_the_index() -> None:
    reached, waiting = set(), [DOCS / "index.md"]
    while waiting:
        page = waiting.pop()
        reached.add(page)
        for link in LINK.findall(words(page)):
            target = (page.parent / link.partition("#")[0]).resolve()
            if target.suffix == ".md" and target.exists() and target not in reached:
                waiting.append(target)
    assert sorted(path.name for path in set(DOCS.rglob("*.md")) - set(DOCS.glob("checks/*.md")) - reached) == []
