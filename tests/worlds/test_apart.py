"""The simulated shops know nothing of the product, or they would prove its sums by the same sums."""

import ast
from pathlib import Path

HERE = Path(__file__).parent


def test_worlds_import_nothing_of_the_product() -> None:
    worlds = [path for path in HERE.glob("*.py") if path.name != Path(__file__).name]
    assert len(worlds) >= 5
    for path in worlds:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            assert not [name for name in names if name.split(".")[0] == "trued"], path.name
