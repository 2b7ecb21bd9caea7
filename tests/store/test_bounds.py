"""Only the book's own room knows what the book is made of."""

import ast
from pathlib import Path

SRC = Path(__file__).parent.parent.parent / "src" / "trued"
OURS = {"sqlalchemy", "alembic", "sqlite3"}


def imported(source: Path) -> set[str]:
    tree = ast.parse(source.read_text(encoding="utf-8"))
    names = [alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names]
    names += [node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module]
    return {name.split(".")[0] for name in names}


def test_no_other_room_speaks_to_the_database() -> None:
    sources = list(SRC.rglob("*.py"))
    inside = [source for source in sources if SRC / "store" in source.parents]
    assert any(imported(source) & OURS for source in inside)
    assert [source for source in sources if source not in inside and imported(source) & OURS] == []
