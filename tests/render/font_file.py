"""Reads the widths of signs out of a font file, to check the estimates against the font itself (OpenType 1.9)."""

import struct
from collections.abc import Callable
from pathlib import Path


def widths(path: Path) -> Callable[[str], float]:
    """Width of a text at size 1, from the tables `cmap` (format 4), `hmtx`, `hhea` and `head`; no kerning."""
    tables = _tables(path.read_bytes())
    glyphs = _glyphs(tables["cmap"])
    (units,) = struct.unpack_from(">H", tables["head"], 18)
    (count,) = struct.unpack_from(">H", tables["hhea"], 34)

    def one(sign: str) -> float:
        (width,) = struct.unpack_from(">H", tables["hmtx"], 4 * min(glyphs[ord(sign)], count - 1))
        return float(width) / float(units)

    return lambda text: sum(one(sign) for sign in text)


def _tables(data: bytes) -> dict[str, bytes]:
    (count,) = struct.unpack_from(">H", data, 4)
    rows = [struct.unpack_from(">4sLLL", data, 12 + 16 * n) for n in range(count)]
    return {tag.decode("ascii"): data[start : start + length] for tag, _, start, length in rows}


def _glyphs(cmap: bytes) -> dict[int, int]:
    (count,) = struct.unpack_from(">H", cmap, 2)
    starts = [struct.unpack_from(">HHL", cmap, 4 + 8 * n)[2] for n in range(count)]
    at = next(start for start in starts if struct.unpack_from(">H", cmap, start)[0] == 4)
    runs = struct.unpack_from(">H", cmap, at + 6)[0] // 2
    ends, firsts, deltas, offsets = (
        struct.unpack_from(f">{runs}H", cmap, at + 14 + n * 2 * runs + (2 if n else 0)) for n in range(4)
    )
    found: dict[int, int] = {}
    for run in range(runs):
        for code in range(firsts[run], min(ends[run], 0xFFFE) + 1):
            found[code] = (code + deltas[run]) & 0xFFFF
            if offsets[run]:
                place = at + 16 + 6 * runs + 2 * run + offsets[run] + 2 * (code - firsts[run])
                (glyph,) = struct.unpack_from(">H", cmap, place)
                found[code] = (glyph + deltas[run]) & 0xFFFF if glyph else 0
    return found
