"""What a person sees of an output without opening a fold, and how many of its words warn."""

from __future__ import annotations

import re
from html.parser import HTMLParser

WIDTH = 100
"""Of the terminal: a line that could have held the next word was ended on purpose."""

_NEVER = {"script", "style", "nav", "head", "title", "desc"}
_VOID = {"input", "br", "hr", "img", "link", "meta", "path", "line", "rect", "circle", "use", "col", "source", "wbr"}
_BLOCKS = {
    *(
        "address",
        "article",
        "aside",
        "blockquote",
        "button",
        "dd",
        "details",
        "div",
        "dl",
        "dt",
        "fieldset",
        "figcaption",
    ),
    *(
        "figure",
        "footer",
        "form",
        "h1",
        "h2",
        "h3",
        "h4",
        "header",
        "label",
        "legend",
        "li",
        "main",
        "ol",
        "option",
        "p",
    ),
    *("pre", "section", "summary", "table", "tbody", "td", "text", "th", "tspan", "thead", "tr", "ul", "br"),
}
_WARNS = re.compile(r"caution|warning|danger")
_SIGNAL = re.compile(r"^\s*(WARNING|CAUTION|NOTICE|Warning|Caution|Take care\.)")


class Page(HTMLParser):
    """Blocks of text as they are seen, one a line; `warned` those under a warning, `folded` the warnings in a fold."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self._open: list[tuple[str, bool, bool]] = []  # tag, hidden by it or what is round it, a warning
        self._lines: list[str] = [""]
        self._warned: list[str] = [""]
        self._folded: list[str] = [""]
        self.feed(html)
        self.close()

    @property
    def text(self) -> str:
        """What is seen."""
        return _joined(self._lines)

    @property
    def warned(self) -> str:
        """The part of it that warns."""
        return _joined(self._warned)

    @property
    def folded(self) -> str:
        """Warnings that nobody sees before a fold is opened."""
        return _joined(self._folded)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """A closed fold hides all but its summary."""
        given = {name: value or "" for name, value in attrs}
        classes = given.get("class", "").split()
        if tag in _BLOCKS or "button" in classes:
            self._break()
        if tag in _VOID:
            return
        hidden = self._hidden or tag in _NEVER or "hidden" in given or bool({"skip", "unseen"} & set(classes))
        folded = tag != "summary" and bool(self._open) and self._open[-1][0] == "details:closed"
        kind = "details:closed" if tag == "details" and "open" not in given else tag
        warns = self._warns or any(_WARNS.search(name) for name in classes)
        self._open.append((kind, hidden or folded, warns))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """A drawing's shape holds no text."""

    def handle_endtag(self, tag: str) -> None:
        """Close what was opened last under that name."""
        for at in range(len(self._open) - 1, -1, -1):
            if self._open[at][0].partition(":")[0] == tag:
                del self._open[at:]
                break
        if tag in _BLOCKS:
            self._break()

    def handle_data(self, data: str) -> None:
        """Text that is seen."""
        if not self._hidden:
            self._lines[-1] += data
            if self._warns:
                self._warned[-1] += data
        elif self._warns:
            self._folded[-1] += data

    @property
    def _hidden(self) -> bool:
        return bool(self._open) and self._open[-1][1]

    @property
    def _warns(self) -> bool:
        return bool(self._open) and self._open[-1][2]

    def _break(self) -> None:
        self._lines.append("")
        self._warned.append("")
        self._folded.append("")


def _joined(lines: list[str]) -> str:
    return "\n".join(line for line in (" ".join(part.split()) for part in lines) if line)


def paragraphs(text: str) -> list[str]:
    """The lines of a terminal's answer, those put together that were only broken for want of room."""
    whole: list[str] = []
    last = ""  # the line above, as printed
    for line in text.splitlines():
        first = line.split(" ", 1)[0] if line[:1].strip() else line.split()[0] if line.split() else ""
        hangs = bool(whole) and bool(first) and _indent(line) >= _indent(whole[-1]) + 2
        if hangs and len(last) + 1 + len(first) > WIDTH:
            whole[-1] += " " + line.strip()
        else:
            whole.append(line)
        last = line
    return whole


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


def warnings_of(text: str) -> str:
    """The paragraphs of an answer or a sheet that begin with a signal word, and what is indented below one."""
    kept: list[str] = []
    under = -1
    for line in paragraphs(text):
        if _SIGNAL.match(line):
            under = _indent(line)
        elif not line.strip() or _indent(line) <= under:
            under = -1
        if under >= 0:
            kept.append(line.strip())
    return "\n".join(kept)


def word_count(text: str) -> int:
    """Whatever spaces part, numbers too: the count of the budgets."""
    return len(text.split())
