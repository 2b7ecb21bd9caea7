"""Reads what the tests need out of a PDF: from its bytes, and with poppler's tools where they are installed."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

_TO_PICTURE, _TO_TEXT = shutil.which("pdftoppm") or "", shutil.which("pdftotext") or ""
DRAWS = pytest.mark.skipif(not _TO_PICTURE, reason="needs pdftoppm (poppler-utils)")
READS = pytest.mark.skipif(not _TO_TEXT, reason="needs pdftotext (poppler-utils)")


def boxes(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of each page in pt."""
    found = re.findall(rb"/MediaBox ?\[ ?0 0 ([\d.]+) ([\d.]+) ?\]", pdf)
    return [(float(width), float(height)) for width, height in found]


def text_of(pdf: bytes, folder: Path) -> str:
    """All words, in one line."""
    path = folder / "read.pdf"
    path.write_bytes(pdf)
    told = subprocess.run([_TO_TEXT, "-raw", str(path), "-"], capture_output=True, check=True, timeout=60)
    return " ".join(told.stdout.decode("utf-8").replace("\u200b", "").split())


def dark_rows(pdf: bytes, folder: Path, dpi: int) -> list[bytes]:
    """The first page as rows of pixels, 1 where it is dark."""
    path = folder / "draw.pdf"
    path.write_bytes(pdf)
    command = [_TO_PICTURE, "-gray", "-r", str(dpi), "-f", "1", "-l", "1", str(path)]
    picture = subprocess.run(command, capture_output=True, check=True, timeout=60).stdout
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", picture)
    assert head is not None
    width, pixels = int(head[1]), picture[head.end() :]
    dark = pixels.translate(bytes(int(value < 128) for value in range(256)))
    return [dark[start : start + width] for start in range(0, len(dark), width)]
