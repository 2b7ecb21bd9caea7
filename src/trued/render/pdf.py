"""Sheets as a page-true PDF, Letter or A4, with its own fonts and tags for those who have it read out."""

import json
from collections.abc import Sequence
from importlib.resources import as_file, files
from pathlib import Path
from typing import Literal

from trued.errors import TruedError
from trued.render.data import data_of
from trued.render.values import Head, Sheet
from trued.render.whole_file import write_whole

Paper = Literal["letter", "a4"]


def write_pdf(head: Head, sheets: Sequence[Sheet], path: Path, paper: Paper = "letter") -> Path:
    """Print the sheets into the file, in place of an older one, and give its path.

    InputRefused: the file cannot be written there; nothing is changed then.
    """
    write_whole(path, pdf_bytes(head, sheets, paper))
    return path


def pdf_bytes(head: Head, sheets: Sequence[Sheet], paper: Paper = "letter") -> bytes:
    """The sheets as a PDF; the same sheets give the same bytes."""
    import typst

    if not sheets:
        raise ValueError("there is no sheet to print")
    room = files("trued.render")
    data = json.dumps(data_of(head, sheets, paper))
    with as_file(room / "fonts") as fonts:
        try:
            made = typst.compile(
                (room / "pages.typ").read_bytes(),
                format="pdf",
                font_paths=typst.Fonts(include_system_fonts=False, font_paths=[str(fonts)]),
                sys_inputs={"data": data},
                timestamp=head.made,
            )
        except typst.TypstError as error:
            raise TruedError.of("", "", f"The sheets could not be set: {error.message}.") from error
    if not isinstance(made, bytes):
        raise TypeError("one PDF was asked for")
    return made
