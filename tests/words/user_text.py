"""What a person may read out of the program: literals and templates of src/trued, held against the rules of wording.

    python -m tests.words.user_text [-v] [ROOM ...]     counts of each room; -v names file, line and rule
    python -m tests.words.user_text --write             write the counts down; refuses to raise one
    python -m tests.words.user_text --text FILE ...     the faults of texts, as of outputs that were kept

The first folder under src/trued is a room. `ratchet.json` holds, for each room, how many banned phrases and how many
long sentences it still has. A number may only fall, and falls in the commit that mends the words.
"""

# ruff: noqa: T201 - a command prints

from __future__ import annotations

import ast
import json
import re
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "trued"
RATCHET = Path(__file__).with_name("ratchet.json")
MOST = 14
"""Words of a sentence. Numbers are none."""

_OF_A_THING = (
    r"\b(angle|play|toe|repeat|shift|swing|scale|height|wobble|zero|hook|jaws|sag|twist|uprightness|straightness"
    r"|flatness|tilt|margin|cup|moisture|taper|run-out|rocking) of (the|a|an|its)\b"
)
BANNED: tuple[tuple[str, str], ...] = (  # (pattern, say instead)
    (r"sure enough", "in tolerance / out of tolerance"),
    (r"\bnought\b", "0 / zero"),
    (r"times? in 100|\bin 100\b", "NN%"),
    (r"\d[ \u00a0]%", "NN% without a space"),
    (r"as likely as not|likely to fit \S+ times", "NN%"),
    (r"give or take", "± (95%)"),
    (r"cannot tell", "not known yet"),
    (r"nothing to decide", "(leave out)"),
    (
        r"(nothing|not) touched|touch nothing|untouched|turn nothing|is turned\b",
        "don't adjust / same setup",
    ),
    (
        r"by so much|has become of|what stands|stands now|\bfound (again|anew)|set anew|(lay|laid).{0,10}anew",
        "(rewrite)",
    ),
    (r"counts no more|puts? in doubt|in doubt|sharpen", "undone / recheck"),
    (r"taken for read", "read with"),
    (r"not shown (to be )?(right|true)", "not checked"),
    (r"\breckon(s|ed)?\b|worked out", "computed"),
    (r"first signs|signs of its id", "first 8 characters"),
    (r"may be left out", "optional"),
    (
        _OF_A_THING,
        "noun compound: fence angle",
    ),
    (r"operator['\u2019]?s (side|edge|end)", "near / toward you"),
    (r"\balike\b|\bunlike\b", "the same / different"),
    (r"\bmend(s|ed|ing)?\b", "fix"),
    (r"\bat hand\b", "You need"),
    (r"\bonce more\b", "again"),
    (r"did not arrive|has arrived|may arrive|what arrived", "moved X per 1 turned"),
    (r"money of the job|\bstuff\b", "(rewrite)"),
    (r"\bsafe\b", "never"),
    (
        r"\bmitre|bevelled|\bmetres?\b|millimetre|\bcentre\b|run-out|counter-clockwise",
        "US spelling",
    ),
    (r"\bTake care\b", "WARNING"),
)
ON_PAGES: tuple[tuple[str, str], ...] = (
    (
        r"\btrued [a-z]+\b|(?<![\w-])--[a-z]{2,}|\bTOML\b|=value|\b[0-9a-f]{32}\b",
        "no command line or long id on a page",
    ),
)
GIVEN_NAMES = ("shelves alike", "sides alike")
"""Names of fits in the examples: a person gave them."""

NOT_SHOWN = ("store/migrations/", "demo_truth", "words/error_keys")
"""Files of which nobody reads a text: schema changes, the hidden truth of the demo, names of errors in `--json`."""

_FOR_ENGINEERS = re.compile(
    r"^(worked by hand|from memory|common practice[;:,]|common practice$)|JCGM|\bISO \d|\bDIN \d|OIML"
)
"""Where a figure of a check comes from: docs only."""
_SQL = re.compile(r"^\s*(SELECT|INSERT|CREATE|UPDATE|DELETE|PRAGMA|DROP|ALTER|BEGIN|WITH|VACUUM|ATTACH)\b")
_FOR_PROGRAMMERS = {"AssertionError", "NotImplementedError", "TypeError", "RuntimeError", "LookupError", "KeyError"}


@dataclass(frozen=True, slots=True)
class Text:
    """A text and the place where it stands."""

    path: str
    line: int
    text: str
    on_page: bool = False

    @property
    def room(self) -> str:
        """The first folder; a file of the house itself belongs to `trued`."""
        first, _, rest = self.path.partition("/")
        return first if rest else "trued"


@dataclass(frozen=True, slots=True)
class Fault:
    """`kind` is banned or long, `said` the phrase or the sentence, `why` what to do about it."""

    kind: str
    said: str
    why: str


# --- the rules


def sentences(text: str) -> list[str]:
    """A colon and a semicolon end one too, and so does a gap of a table."""
    return [part.strip() for part in re.split(r"(?<=[.!?:;])\s+|\n|\s{2,}", text) if part.strip()]


def counted_words(sentence: str) -> list[str]:
    """Numbers, signs and single letters are no words; `a` and `I` are."""
    return [word for word in sentence.split() if re.search(r"[A-Za-z]{2}|^[aAI]$", word)]


def faults(text: str, *, on_page: bool = False) -> Iterator[Fault]:
    """Every banned phrase and every long sentence of a text."""
    for name in GIVEN_NAMES:
        text = text.replace(name, "")
    for pattern, instead in (*BANNED, *(ON_PAGES if on_page else ())):
        for hit in re.finditer(pattern, text, re.IGNORECASE):
            yield Fault("banned", hit[0], instead)
    for sentence in sentences(text):
        count = len(counted_words(sentence))
        if count > MOST:
            yield Fault("long", sentence, f"{count} words")


# --- what a person may see of a Python file


def shown_in_code(path: Path, name: str) -> Iterator[Text]:
    """Its literals, but for docstrings, patterns, SQL, annotations, sources, and what is raised for programmers."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    unseen = {id(node) for part in _unseen(tree) for node in ast.walk(part)}
    inside = {id(value) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for value in ast.walk(node)}
    for node in ast.walk(tree):
        if id(node) in unseen:
            continue
        if isinstance(node, ast.JoinedStr):
            yield Text(name, node.lineno, "".join(_plain(value) for value in node.values))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in inside:
            yield Text(name, node.lineno, node.value)
        elif isinstance(node, ast.FormattedValue):  # what an f-string chooses between: f"{'a' if … else 'b'}"
            for part in ast.walk(node.value):
                if isinstance(part, ast.Constant) and isinstance(part.value, str):
                    yield Text(name, part.lineno, part.value)


def _plain(value: ast.expr) -> str:
    return str(value.value) if isinstance(value, ast.Constant) else "0"


def _unseen(tree: ast.AST) -> Iterator[ast.AST]:
    for node in ast.walk(tree):
        match node:
            case ast.Expr(value=ast.Constant() as docstring):
                yield docstring
            case ast.Raise(exc=ast.Call() as raised) if _is_for_programmers(raised):
                yield raised
            case ast.keyword(arg="sources" | "source", value=source):
                yield source
            case ast.Call():
                yield from _unseen_arguments(node)
            case ast.AnnAssign(annotation=note) | ast.arg(annotation=ast.expr() as note):
                yield note
            case ast.FunctionDef(returns=ast.expr() as note) | ast.Assert(msg=ast.expr() as note):
                yield note


def _unseen_arguments(call: ast.Call) -> Iterator[ast.expr]:
    match call.func:
        case ast.Attribute(value=ast.Name(id="re")):
            yield from call.args[:1]  # a pattern
        case ast.Name(id="Example" | "IntermediatePrecision"):
            yield from call.args[2:]  # where its figures come from


def _is_for_programmers(raised: ast.Call) -> bool:
    """A ValueError that a person may meet begins with a capital; one about a call in the code does not."""
    if _called(raised) in _FOR_PROGRAMMERS:
        return True
    told = raised.args[0] if raised.args else None
    first = told.values[0] if isinstance(told, ast.JoinedStr) and told.values else told
    return (
        _called(raised) == "ValueError"
        and isinstance(first, ast.Constant)
        and isinstance(first.value, str)
        and first.value[:1].islower()
    )


def _called(call: ast.Call) -> str:
    return call.func.id if isinstance(call.func, ast.Name) else getattr(call.func, "attr", "")


# --- what a person may see of a template, and of the printed sheets


_INLINE = re.compile(r"</?(a|abbr|b|code|em|i|q|small|span|strong)\b[^>]*>", re.IGNORECASE)
_NAMED = re.compile(r"""\b(?:aria-label|title|placeholder|alt)="([^"]*)\"""")
_CHOSEN = re.compile(r"""(["'])((?:(?!\1).)*)\1""")


def shown_in_template(path: Path, name: str) -> Iterator[Text]:
    """Paragraphs with `0` for every value; a branch is a text, so are labels and what a value chooses between."""
    text = re.sub(r"\{#.*?#\}", _blank, path.read_text(encoding="utf-8"), flags=re.DOTALL)
    for found in re.finditer(r"\{\{(.*?)\}\}|\{%(.*?)%\}", text, re.DOTALL):
        for choice in _CHOSEN.finditer(found[1] or found[2]):
            yield Text(name, _line(text, found.start()), choice[2], on_page=True)
    text = re.sub(r"\{\{.*?\}\}", lambda hit: "0" + _blank(hit)[1:], text, flags=re.DOTALL)
    text = re.sub(r"\{%-?\s*(?:if|endif|set)\b.*?%\}", lambda hit: _lines(hit[0]), text, flags=re.DOTALL)
    text = re.sub(r"\{%.*?%\}", lambda hit: "|" + _lines(hit[0]), text, flags=re.DOTALL)
    for label in _NAMED.finditer(text):
        yield Text(name, _line(text, label.start()), label[1], on_page=True)
    text = _INLINE.sub(lambda hit: _lines(hit[0]), text)
    text = re.sub(r"<[^>]*>", lambda hit: "|" + _lines(hit[0]), text, flags=re.DOTALL)
    at = 0
    for part in text.split("|"):
        yield Text(name, _line(text, at + len(part) - len(part.lstrip())), " ".join(part.split()), on_page=True)
        at += len(part) + 1


def _blank(found: re.Match[str]) -> str:
    return re.sub(r"[^\n]", " ", found[0]) or " "


def _lines(text: str) -> str:
    return "\n" * text.count("\n")


def _line(text: str, at: int) -> int:
    return text.count("\n", 0, at) + 1


def shown_on_paper(path: Path, name: str) -> Iterator[Text]:
    """What stands in brackets or quotes in the sheets' own language."""
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if not line.lstrip().startswith("//"):
            for found in re.finditer(r"\[([^\[\]]*)\]|\"([^\"]*)\"", line):
                yield Text(name, number, re.sub(r"#[\w.()]+", "0", found[1] or found[2] or ""))


# --- all of it


def shown(source: Path = SOURCE) -> Iterator[Text]:
    """Every text with at least two words that a person may read."""
    ways = {".py": shown_in_code, ".html": shown_in_template, ".typ": shown_on_paper}
    for path in sorted(source.rglob("*")):
        name = path.relative_to(source).as_posix()
        if path.suffix in ways and not any(part in name for part in NOT_SHOWN):
            for text in ways[path.suffix](path, name):
                if _is_prose(text.text):
                    yield text


def _is_prose(text: str) -> bool:
    if " " not in text.strip() or not re.search(r"[a-z]{3}", text):
        return False
    return not (_FOR_ENGINEERS.search(text) or _SQL.match(text))


def counts(texts: Iterable[Text]) -> dict[str, dict[str, int]]:
    """Banned phrases and long sentences of each room; a room without any is not named."""
    rooms: dict[str, Counter[str]] = {}
    for text in texts:
        for fault in faults(text.text, on_page=text.on_page):
            rooms.setdefault(text.room, Counter())[fault.kind] += 1
    return {room: {kind: rooms[room][kind] for kind in ("banned", "long")} for room in sorted(rooms)}


def written() -> dict[str, dict[str, int]]:
    """The counts that were written down."""
    answer: dict[str, dict[str, int]] = json.loads(RATCHET.read_text(encoding="utf-8"))
    return answer


def differences(now: dict[str, dict[str, int]], then: dict[str, dict[str, int]]) -> tuple[list[str], list[str]]:
    """What rose, and what fell, in words."""
    rose, fell = [], []
    for room in sorted({*now, *then}):
        for kind in ("banned", "long"):
            is_now, was = now.get(room, {}).get(kind, 0), then.get(room, {}).get(kind, 0)
            if is_now != was:
                (rose if is_now > was else fell).append(f"{room}: {kind} {was} -> {is_now}")
    return rose, fell


def write(now: dict[str, dict[str, int]]) -> None:
    """One line a room, so that two people who each mend a room do not meet."""
    lines = ",\n".join(f"  {json.dumps(room)}: {json.dumps(kinds)}" for room, kinds in now.items())
    RATCHET.write_text(f"{{\n{lines}\n}}\n" if lines else "{}\n", encoding="utf-8", newline="\n")


def main(words: list[str]) -> int:
    """The command; 1 where a number would have to be raised."""
    if words[:1] == ["--text"]:
        for name in words[1:]:
            _print_faults(name, Path(name).read_text(encoding="utf-8"))
        return 0
    texts = list(shown())
    now = counts(texts)
    if "--write" in words:
        return _write_lower(now)
    rooms = [word for word in words if word != "-v"] or list(now)
    if "-v" in words:
        for text in texts:
            if text.room in rooms:
                _print_faults(f"{text.path}:{text.line}", text.text, on_page=text.on_page)
    for room in rooms:
        kinds = now.get(room, {"banned": 0, "long": 0})
        print(f"{room:12} banned {kinds['banned']:4}   long {kinds['long']:4}")
    banned, long = (sum(kinds[kind] for kinds in now.values()) for kind in ("banned", "long"))
    print(f"{'the house':12} banned {banned:4}   long {long:4}   of {len(texts)} texts")
    return 0


def _print_faults(place: str, text: str, *, on_page: bool = False) -> None:
    for fault in faults(text, on_page=on_page):
        print(f"{place}: {fault.kind}: {fault.said[:90]} -> {fault.why}")


def _write_lower(now: dict[str, dict[str, int]]) -> int:
    rose, fell = differences(now, written()) if RATCHET.exists() else ([], [])
    if rose:
        print("Not written, these rose:", *rose, sep="\n  ", file=sys.stderr)
        return 1
    write(now)
    print("Written.", *fell, sep="\n  ")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
