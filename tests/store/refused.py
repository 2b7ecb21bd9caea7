"""How a book is refused."""

from pathlib import Path

import pytest

from trued.errors import BookRefused
from trued.store.opening import open_book


def refusal(path: Path, *, create: bool = False) -> str:
    """The sentence; the file and its folder are as they were."""
    before = {p.name: p.read_bytes() for p in path.parent.glob("*") if p.is_file()} if path.parent.is_dir() else {}
    with pytest.raises(BookRefused) as refused:
        open_book(path, create=create, wait_s=0.05)
    after = {p.name: p.read_bytes() for p in path.parent.glob("*") if p.is_file()} if path.parent.is_dir() else {}
    assert after == before
    (fault,) = refused.value.faults
    assert fault.where == str(path)
    assert refused.value.status == 3
    return fault.text
