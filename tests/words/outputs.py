"""Real outputs for each row of the word budgets, on three books made on the spot, in inches or in millimeters.

The books: *empty* (the shop is described, nothing was found), *half-known* (kerf, insert and fence checked, then the
saw was carried), *full* (every check done once by its own example). The rack is planned in the empty one, where the saw
may still be used. All is asked as a person asks: by the command line, and by the pages.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from tests.web.asking import Site
from tests.words.bench import Answer, Bench, examples, rack, trued
from tests.words.seen import Page, paragraphs, warnings_of, word_count

TERMINAL, PAGE, PAPER = "terminal", "page", "paper"


def _strip(fence_end: float, middle: float, free_end: float) -> tuple[str, ...]:
    """A five-cut strip read twice at each spot, the second time half a thousandth more; 15 in long."""
    spots = {"fence_end": fence_end, "middle": middle, "free_end": free_end}
    twice = (f"{name}={width + more:.4f}" for name, width in spots.items() for more in (0, 0.0005))
    return (*twice, "length=15")


OUT = _strip(1.0120, 1.0270, 1.0420)
LESS, LESS_AGAIN = _strip(1.0120, 1.0220, 1.0320), _strip(1.0110, 1.0210, 1.0310)
TRUE, TRUE_AGAIN = _strip(1.0120, 1.0125, 1.0135), _strip(1.0121, 1.0125, 1.0136)
NEAR = _strip(1.0120, 1.0167, 1.0215)
BAD = _strip(1.0120, 1.0490, 1.0420)
CARRIED, THINNER = "saw-carried", "blade-thinner"
HISTORY = "/standing/sled.fence-angle@0"


@dataclass(frozen=True, slots=True)
class Output:
    """`row` names the budget; `text` is what is seen, `warned` what of it warns, `more` the same with --more."""

    row: str
    place: str
    unit: str
    text: str
    warned: str = ""
    more: str = ""
    pages: int = 0
    """Of paper; of the cut sheets, the cuts."""
    orders: bool = False
    """A check that orders a move, by what it answers to a script."""
    html: str = field(default="", repr=False)

    @property
    def words(self) -> int:
        return word_count(self.text)

    @property
    def warning_words(self) -> int:
        return word_count(self.warned)

    @property
    def lines(self) -> int:
        return len(self.text.splitlines())

    @property
    def unbroken(self) -> str:
        """The text with its paragraphs in one line each."""
        return "\n".join(paragraphs(self.text)) if self.place == TERMINAL else self.text


@dataclass
class Books:
    """The books of one unit, and the outputs that were taken while they were made."""

    unit: str
    folder: Path
    outputs: list[Output] = field(default_factory=list)

    def terminal(self, row: str, answer: Answer, more: Answer | None = None, *, orders: bool = False) -> None:
        """Keep what a command said, and what it says with --more where there is such an option."""
        told = more.text if more is not None and more.status != 2 else ""
        warned = warnings_of(answer.text)
        self.outputs.append(Output(row, TERMINAL, self.unit, answer.text, warned, told, orders=orders))

    def page(self, row: str, html: str) -> None:
        """Keep what is seen on a page."""
        page = Page(html)
        self.outputs.append(Output(row, PAGE, self.unit, page.text, page.warned, html=html))

    def of(self, row: str, place: str = TERMINAL) -> list[Output]:
        """The outputs whose row begins so, in order."""
        return [output for output in self.outputs if output.row.startswith(row) and output.place == place]


def taken(unit: str, folder: Path, *, full: bool = True) -> Books:
    """Every output of one unit; without the full book and the forms it takes half of the time."""
    books = Books(unit, folder)
    empty = Bench.described(folder, unit)
    _helps(books, empty)
    _standing(books, "standing, empty", empty)
    _fence(books, empty)
    _refusals(books, empty)
    half = _half_known(books, empty)
    _plan(books, empty)
    _pages(books, empty, half)
    if full:
        _forms(books, empty)
        _full(books, empty)
    return books


def _with_more(bench: Bench, call: Callable[[Bench, tuple[str, ...]], Answer]) -> tuple[Answer, Answer]:
    """What a command that records says with --more, asked of a copy first so that the book gets one row."""
    copy = bench.copy("more")
    try:
        more = call(copy, ("--more",))
    except AssertionError:  # it has no such option
        more = Answer(2, "")
    return call(bench, ()), more


def _check(books: Books, row: str, bench: Bench, id: str, readings: tuple[str, ...]) -> None:
    told = json.loads(bench.copy("json").check(id, *readings, "--json").text)
    answer, more = _with_more(bench, lambda on, option: on.check(id, *readings, *option))
    books.terminal(row, answer, more, orders=bool(told["moves"]))


def _standing(books: Books, row: str, bench: Bench) -> None:
    books.terminal(row, bench.must("status"), bench.call("status", "--more"))


def _helps(books: Books, bench: Bench) -> None:
    """With the book's shop known, as a person at this saw asks."""
    for id in examples():
        answer = trued("check", id, "--help", "--book", bench.book)
        books.terminal(f"check help, {id}", answer, trued("check", id, "--help", "all", "--book", bench.book))


def _fence(books: Books, empty: Bench) -> None:
    """The fence through all its verdicts."""
    out = empty.copy("out")
    _check(books, "check, order, first time", out, "five-cut", OUT)
    _standing(books, "standing, one out", out)
    amount = "0.0085" if books.unit == "in" else "0.216"
    move = ("moved", "fence-angle", "open", amount)
    books.terminal("move recorded", *_with_more(out, lambda on, more: on.record(*move, *more)))
    true = out.copy("true")
    out.check("five-cut", *LESS)
    _check(books, "check, order, moved before", out, "five-cut", LESS_AGAIN)
    true.check("five-cut", *TRUE)
    _check(books, "check, in tolerance", true, "five-cut", TRUE_AGAIN)
    _standing(books, "standing, one in", true)
    _check(books, "check, not known yet", empty.copy("near"), "five-cut", NEAR)
    _check(books, "check, bad run", empty.copy("bad"), "five-cut", BAD)
    _check(books, "check, no limit", empty.copy("kerf"), "kerf", examples()["kerf"])
    for id in ("insert", "wing", "stop-repeat"):
        _check(books, f"check, several features, {id}", empty.copy(id), id, examples()[id])


def _refusals(books: Books, empty: Bench) -> None:
    too_long = empty.typed("kerf", ("whole=13.376", "keeper_piece=2.4", "offcut_piece=2.5"))
    for words in (
        ("check", "kerf", *too_long),
        ("check", "five-cut", "fence_end=1,012", "free_end=1.03"),
        ("check", "five-cuts"),
        ("moved", "fense-angle", "open", "0.01"),
        ("moved", "sled.fense", "open", "0.01"),
        ("moved", "fence-angle", "sideways", "0.01"),
        ("moved", "fence-angle", "open", "-0.01"),
        ("moved", "fence-angle", "open", "900"),
        ("event", "saw-caried"),
        ("undo", "0"),
    ):
        answer = empty.call(*words)
        assert answer.status == 2, words
        books.terminal("refusal", answer)


def _half_known(books: Books, empty: Bench) -> Bench:
    half = empty.copy("half")
    for id, readings in (("kerf", examples()["kerf"]), ("insert", examples()["insert"]), ("five-cut", OUT)):
        half.check(id, *readings)
    books.terminal("event", *_with_more(half, lambda on, more: on.record("event", CARRIED, *more)))
    books.terminal("event", half.copy("thinner").record("event", THINNER))
    _standing(books, "standing, half-known", half)
    return half


def _forms(books: Books, empty: Bench) -> None:
    site = Site.of(empty.book)
    for id in examples():
        books.page(f"check page (form), {id}", site.get(f"/checks/{id}").text)


def _full(books: Books, empty: Bench) -> None:
    full = empty.copy("full")
    for id, readings in examples().items():
        books.terminal(f"check, {id}", full.check(id, *readings))
    _standing(books, "standing, full", full)
    site = Site.of(full.book)
    books.page("home page, full", site.get("/").text)
    books.page("history page", site.get(HISTORY).text)


def _plan(books: Books, empty: Bench) -> None:
    job = books.folder / f"rack-{books.unit}.toml"
    job.write_text(rack(books.unit), encoding="utf-8")
    planned = empty.copy("planned")
    sheets = books.folder / f"sheets-{books.unit}"
    answer = planned.must("plan", job, "--out", sheets)
    books.terminal("plan summary", _without(answer, str(books.folder)), empty.copy("more").call("plan", job, "--more"))
    cuts = _cuts(planned)
    for number in range(1, cuts + 1):
        books.terminal("one ticket", planned.must("cut", f"T{number}"), planned.call("cut", f"T{number}", "--more"))
    _sheets(books, sheets, cuts)
    _job_pages(books, planned, cuts)
    measured = _measured(books.unit)
    books.terminal("parts check", *_with_more(planned, lambda on, more: on.must("parts", job, *measured, *more)))


def _job_pages(books: Books, planned: Bench, cuts: int) -> None:
    site = Site.of(planned.book)
    job = f"/jobs/{planned.json('cut')['plan']}"
    books.page("job page", site.get(job).text)
    for number in range(1, cuts + 1):
        place = f"{job}/cut/{number}"
        page = site.get(place).text
        if 'value="ready"' in page:
            books.page("one ticket, before the number", page)
            site.post(place, [("what", "ready")])
            page = site.get(place).text
        books.page("one ticket", page)


def _without(answer: Answer, folder: str) -> Answer:
    """Without the lines that name a folder of this run."""
    return Answer(answer.status, "\n".join(line for line in answer.text.splitlines() if folder not in line))


def _cuts(bench: Bench) -> int:
    found = re.search(r"cut \d+ of (\d+)", bench.must("cut").text)
    assert found is not None
    return int(found[1])


def _measured(unit: str) -> tuple[str, ...]:
    """Shelf 3 came out short by 0.021 in."""
    inches = {"side.width@1": 3.497, "side.width@2": 3.498, "shelf@1:rule-1": 13.375, "shelf@2:rule-1": 13.376}
    inches |= {"shelf@3:rule-1": 13.354, "rail@1:rule-1": 12.89, "rail@2:rule-1": 12.891}
    return tuple(f"{name}={value if unit == 'in' else round(value * 25.4, 2)}" for name, value in inches.items())


def _sheets(books: Books, folder: Path, cuts: int) -> None:
    """The PDF as text, where poppler's tool is installed."""
    tool = shutil.which("pdftotext")
    if tool is None:
        return
    for pdf in sorted(folder.glob("*.pdf")):
        command = [tool, "-layout", str(pdf), "-"]
        text = subprocess.run(command, capture_output=True, check=True, timeout=60).stdout.decode("utf-8")
        pages = text.rstrip("\f").split("\f")
        books.outputs.append(Output("whole PDF", PAPER, books.unit, text, warnings_of(text), pages=len(pages)))
        first = next(at for at, page in enumerate(pages) if re.search(r"^ {0,4}1 {2,}\S", page, re.MULTILINE))
        tickets = "\n".join(pages[first:])
        books.outputs.append(Output("cut sheets", PAPER, books.unit, tickets, warnings_of(tickets), pages=cuts))


def _pages(books: Books, empty: Bench, half: Bench) -> None:
    site, known = Site.of(empty.book), Site.of(half.book)
    books.page("home page, empty", site.get("/").text)
    books.page("home page, half-known", known.get("/").text)
    books.page("checks list page", known.get("/checks").text)
    books.page("history page", known.get(HISTORY).text)
    books.page("move page", known.get("/moved").text)
    books.page("event", known.get(f"/changed/{THINNER}").text)
    for row, readings in {"order": OUT, "not known yet": NEAR, "bad run": BAD}.items():
        run = empty.copy(f"page-{row.replace(' ', '-')}")
        id = run.json("check", "five-cut", *run.typed("five-cut", readings))["run"]
        books.page(f"result page, {row}", Site.of(run.book).get(f"/runs/{id}").text)
