"""Every small change of a source file that its tests should notice.

Left out on purpose: types, docstrings and other texts, decorators, `strict=` of a zip, the digits in a printed number,
and the places of lines and labels in a drawing (which side they are on is not left out).
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass, replace

COMPARED = {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "==", "is": "is not", "is not": "is"}
COMPARED |= {"in": "not in", "not in": "in"}
TURNED = {"<": ">", "<=": ">=", ">": "<", ">=": "<="}
SIGNS: dict[type[ast.AST], str] = {
    ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "==", ast.NotEq: "!=", ast.Is: "is",
    ast.IsNot: "is not", ast.In: "in", ast.NotIn: "not in", ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/",
    ast.Pow: "**", ast.FloorDiv: "//", ast.Mod: "%", ast.And: "and", ast.Or: "or",
}  # fmt: skip
COUNTED = {"+": "-", "-": "+", "*": "/", "/": "*", "**": "*", "//": "/", "and": "or", "or": "and"}
NAMES = {"min": ("max", "direction"), "max": ("min", "direction"), "any": ("all", "logic"), "all": ("any", "logic")}
_PAIRS = (
    ("fence_end", "free_end"), ("start", "end"), ("first", "last"), ("open", "close"), ("opening", "closing"),
    ("away", "straightedge"), ("inside", "outside"), ("keeper", "offcut"), ("operator", "far"), ("left", "right"),
    ("less", "more"), ("long", "short"), ("longer", "shorter"), ("larger", "smaller"), ("in", "out"), ("under", "up"),
    ("closed", "open"), ("one", "two"), ("PROVEN_IN", "PROVEN_OUT"),
)  # fmt: skip
ENDS = {a: b for pair in _PAIRS for a, b in (pair[::-1], pair)}
FLIPS = ("sign", "end", "direction", "branches")


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change: from `start` to `end` of the file's text stands `new`. `kind`: what sort of thing it changes.

    `said`: the change as a person reads it, where `new` is a whole text with values in it.
    """

    line: int
    start: int
    end: int
    old: str
    new: str
    kind: str
    said: str = ""

    @property
    def told(self) -> str:
        """What was, and what stands there instead."""
        return self.said or f"{self.old} -> {self.new}"

    def applied(self, text: str) -> str:
        """The whole file with this change."""
        return text[: self.start] + self.new + text[self.end :]


class _Finder:
    def __init__(self, text: str) -> None:
        self.text = text
        self._lines = text.splitlines(keepends=True)
        self._starts = [0]
        for line in self._lines:
            self._starts.append(self._starts[-1] + len(line))

    def at(self, line: int, column: int) -> int:
        """Offset in the text of a place that the parser counts in bytes."""
        return self._starts[line - 1] + len(self._lines[line - 1].encode()[:column].decode())

    def span(self, node: ast.expr) -> tuple[int, int]:
        assert node.end_lineno is not None and node.end_col_offset is not None  # noqa: S101 -- parsed from text
        return self.at(node.lineno, node.col_offset), self.at(node.end_lineno, node.end_col_offset)

    def between(self, left: ast.expr, right: ast.expr, sign: str, new: str, kind: str) -> Iterator[Mutant]:
        """The sign that stands between two operands."""
        gap_start, gap_end = self.span(left)[1], self.span(right)[0]
        found = self.text[gap_start:gap_end].find(sign)
        if found >= 0:
            start = gap_start + found
            yield Mutant(left.end_lineno or 0, start, start + len(sign), sign, new, kind)

    def whole(self, node: ast.expr, new: str, kind: str) -> Iterator[Mutant]:
        start, end = self.span(node)
        yield Mutant(node.lineno, start, end, self.text[start:end], new, kind)

    def of(self, node: ast.AST) -> Iterator[Mutant]:
        """The changes that this node allows."""
        if isinstance(node, ast.Compare):
            for left, op, right in zip([node.left, *node.comparators], node.ops, node.comparators, strict=False):
                sign = SIGNS[type(op)]
                kind = "limit" if sign in TURNED else "direction"
                yield from self.between(left, right, sign, COMPARED[sign], kind)
                if sign in TURNED:
                    yield from self.between(left, right, sign, TURNED[sign], "direction")
        elif isinstance(node, ast.BinOp) and SIGNS.get(type(node.op)) in COUNTED:
            sign = SIGNS[type(node.op)]
            kind = "sign" if sign in "+-" else "sum"
            yield from self.between(node.left, node.right, sign, COUNTED[sign], kind)
        elif isinstance(node, ast.BoolOp):
            sign = SIGNS[type(node.op)]
            for left, right in zip(node.values, node.values[1:], strict=False):
                yield from self.between(left, right, sign, COUNTED[sign], "logic")
        elif isinstance(node, ast.JoinedStr):
            yield from self._in_a_text(node)
        else:
            yield from self._of_one(node)

    def _of_one(self, node: ast.AST) -> Iterator[Mutant]:
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
            kind = "sign" if isinstance(node.op, ast.USub) else "direction"
            yield from self.whole(node, f"({self.text[slice(*self.span(node.operand))]})", kind)
        elif isinstance(node, ast.IfExp):
            body, other, test = (self.text[slice(*self.span(n))] for n in (node.body, node.orelse, node.test))
            yield from self.whole(node, f"({other}) if ({test}) else ({body})", "branches")
        elif isinstance(node, ast.Name) and node.id in NAMES:
            yield from self.whole(node, *NAMES[node.id])
        elif isinstance(node, ast.Attribute) and node.attr in ENDS:
            yield from self.whole(node, f"{ast.unparse(node.value)}.{ENDS[node.attr]}", "end")
        elif isinstance(node, ast.Constant):
            yield from self._constant(node)

    def _constant(self, node: ast.Constant) -> Iterator[Mutant]:
        if isinstance(node.value, bool):
            yield from self.whole(node, str(not node.value), "logic")
        elif isinstance(node.value, int):
            yield from self.whole(node, f"({node.value} + 1)", "number")
        elif isinstance(node.value, float):
            more = f"({node.value!r} * 1.3)" if node.value else "0.01"
            yield from self.whole(node, more, "number")
        elif isinstance(node.value, str) and node.value in ENDS:
            yield from self.whole(node, repr(ENDS[node.value]), "end")

    def _in_a_text(self, node: ast.JoinedStr) -> Iterator[Mutant]:
        """Changes of the values in a text. Python 3.11 does not say where they stand, so the text is written anew."""
        start, end = self.span(node)
        for i, part in enumerate(node.values):
            if not isinstance(part, ast.FormattedValue):
                continue
            value = ast.unparse(part.value)
            for mutant in mutants(value):
                changed = ast.parse(mutant.applied(value), mode="eval").body
                parts = [*node.values[:i], ast.FormattedValue(changed, part.conversion, part.format_spec)]
                new = _as_long(ast.unparse(ast.JoinedStr([*parts, *node.values[i + 1 :]])), self.text[start:end])
                yield Mutant(node.lineno, start, end, self.text[start:end], new, mutant.kind, f"{value}: {mutant.told}")


def mutants(text: str) -> list[Mutant]:
    """All of a file, in its order."""
    tree, finder = ast.parse(text), _Finder(text)
    drawing, left_out = _drawing(tree), _left_out(tree)
    nodes = (n for n in ast.walk(tree) if n not in left_out and not (n in drawing and _is_place(n)))
    found = {mutant for node in nodes for mutant in finder.of(node)}
    return sorted(found, key=lambda m: (m.start, m.new))


def neutral(text: str) -> list[Mutant]:
    """Every text with values in it written anew with nothing changed, the last first."""
    tree, finder = ast.parse(text), _Finder(text)
    inner = {part for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in _below(node)}
    texts = [n for n in ast.walk(tree) if isinstance(n, ast.JoinedStr) and n not in inner]
    found = [replace(m, new=_as_long(ast.unparse(n), m.old)) for n in texts for m in finder.whole(n, "", "neutral")]
    return sorted(found, key=lambda m: -m.start)


def _as_long(new: str, old: str) -> str:
    """As many lines as there were, so that everything below stands where it stood."""
    return new + "\n" * (old.count("\n") - new.count("\n"))


def _below(node: ast.AST) -> set[ast.AST]:
    return set(ast.walk(node)) - {node}


def _left_out(tree: ast.AST) -> set[ast.AST]:
    roots: list[ast.AST | None] = []
    found: set[ast.AST] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            arguments = [*node.args.args, *node.args.kwonlyargs, node.args.vararg]
            roots += [node.returns, *(a.annotation for a in arguments if a), *node.decorator_list]
        elif isinstance(node, ast.ClassDef):
            roots += node.decorator_list
        elif isinstance(node, ast.AnnAssign):
            roots += [node.annotation]
        elif isinstance(node, ast.keyword) and node.arg == "strict":
            roots += [node.value]
        elif isinstance(node, ast.JoinedStr):
            found |= _below(node)  # what stands in a text is found by the text itself
    return found.union(*(ast.walk(root) for root in roots if root))


def _drawing(tree: ast.AST) -> set[ast.AST]:
    """All within the functions that give a drawing or shapes of one."""
    functions = (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef) and node.returns is not None)
    return {
        part
        for f in functions
        if any(w in ast.unparse(f.returns or f) for w in ("Drawing", "Shape"))
        for part in ast.walk(f)
    }


def _is_place(node: ast.AST) -> bool:
    """A number, or a sum that only makes a place larger or smaller; which side it is on stays."""
    if isinstance(node, ast.UnaryOp):
        return isinstance(node.operand, ast.Constant)
    if isinstance(node, ast.Constant):
        return not isinstance(node.value, str)
    return isinstance(node, ast.BinOp) and not isinstance(node.op, ast.Sub)
