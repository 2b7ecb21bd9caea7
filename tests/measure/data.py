"""Published data sets kept beside the tests; where each comes from stands in tests/data/README.md."""

import csv
from pathlib import Path

FOLDER = Path(__file__).parents[1] / "data"


def columns(name: str) -> dict[str, list[float]]:
    lines = [line for line in (FOLDER / name).read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    return {column: [float(row[column]) for row in rows] for column in rows[0]}
