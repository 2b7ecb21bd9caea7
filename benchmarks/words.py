"""How many words a person gets to read: each default output beside its budget, on books made for it.

    python3 tasks.py bench words [in|mm ...] [--faults] [--out FOLDER]

Words are what spaces part, numbers too. Of a page only what is seen counts: nothing in a closed fold, no navigation.
`warn` are the words of it that warn: they count, and a budget yields to them. `+more` is the same output with --more.
`banned` and `long` are phrases and sentences that the rules of wording do not allow; --faults lists them. --out keeps
every output as a file.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.words.bench import UNITS
from tests.words.budgets import Budget, by_budget, faults_of, words_over
from tests.words.outputs import Books, Output, taken
from tests.words.seen import word_count

HEAD = (
    f"{'output':30} {'where':8} {'n':>3} {'words':>14} {'lines':>9} {'budget':>6} {'over':>4} {'warn':>4} {'+more':>5}"
)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("units", nargs="*", metavar="UNIT", help="in, mm, or both")
    parser.add_argument("--faults", action="store_true", help="list what the rules of wording do not allow")
    parser.add_argument("--out", type=Path, metavar="FOLDER", help="keep every output here")
    given = parser.parse_args()
    for unit in given.units or UNITS:
        if unit not in UNITS:
            parser.error(f"a book is in {' or '.join(UNITS)}, not {unit}")
        with tempfile.TemporaryDirectory() as folder:
            books = taken(unit, Path(folder))
        table(books)
        if given.faults:
            list_faults(books)
        if given.out is not None:
            keep(books, given.out / unit)


def table(books: Books) -> None:
    """One line a budget."""
    print(f"\nA book in {books.unit}\n{HEAD} {'banned':>6} {'long':>4}")
    within = total = 0
    for budget, outputs in by_budget(books):
        over = sum(words_over(output) > 0 for output in outputs)
        print(line(budget, outputs, over))
        within, total = within + (over == 0), total + 1
    print(f"{within} of {total} budgets are kept by every output of their row.")


def line(budget: Budget, outputs: Sequence[Output], over: int) -> str:
    """Smallest, median and largest where there are several."""
    name = f"{budget.row.rstrip(', ')}{', a cut' if budget.each else ''}"
    words = [round(output.words / (output.pages if budget.each else 1)) for output in outputs]
    more = [word_count(output.more) for output in outputs if output.more]
    kinds = Counter(fault.kind for output in outputs for fault in faults_of(output))
    return (
        f"{name:30} {budget.place:8} {len(outputs):3} {spread(words):>14} {spread([o.lines for o in outputs]):>9}"
        f" {budget.words:6} {over or '':>4} {max(output.warning_words for output in outputs):4}"
        f" {max(more) if more else '-':>5} {kinds['banned']:6} {kinds['long']:4}"
    )


def spread(counts: Sequence[int]) -> str:
    if len(counts) == 1:
        return str(counts[0])
    return f"{min(counts)}/{statistics.median_low(counts)}/{max(counts)}"


def list_faults(books: Books) -> None:
    """Each once for each output, with what to say instead."""
    for output in books.outputs:
        for fault, count in Counter(faults_of(output)).items():
            times = f" ({count} times)" if count > 1 else ""
            print(f"{output.row}, {output.place}: {fault.kind}: {fault.said[:100]}{times} -> {fault.why}")


def keep(books: Books, folder: Path) -> None:
    """Each output in a file of its own, numbered as they came."""
    folder.mkdir(parents=True, exist_ok=True)
    for number, output in enumerate(books.outputs, 1):
        name = "".join(sign if sign.isalnum() else "-" for sign in f"{output.row} {output.place}")
        (folder / f"{number:03}-{name}.txt").write_text(output.text, encoding="utf-8")


if __name__ == "__main__":
    main()
