"""A file that is there whole or not at all."""

import os
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile

from trued.errors import InputRefused


def write_whole(path: Path, content: bytes) -> None:
    """Put the content at `path`, in place of what was there; when that cannot be, nothing is changed.

    InputRefused: the folder is missing or cannot be written, something else is in the way, or the disk is full.
    """
    try:
        with NamedTemporaryFile(dir=path.parent, prefix=f".{path.name}-", delete=False) as file:
            unfinished = Path(file.name)
            try:
                _fill(file.fileno(), content)
                unfinished.chmod(0o644)
                unfinished.replace(path)
            except BaseException:
                with suppress(OSError):
                    unfinished.unlink()
                raise
    except OSError as error:
        raise InputRefused.of("", str(path), _sentence(path, error)) from error


def _fill(file: int, content: bytes) -> None:
    left = memoryview(content)
    while left:
        left = left[os.write(file, left) :]
    os.fsync(file)


def _sentence(path: Path, error: OSError) -> str:
    folder = path.parent
    if not folder.exists():
        return f"There is no folder {folder}; make it first, or name another."
    if not folder.is_dir():
        return f"{folder} is a file and not a folder; name another folder."
    if path.is_dir():
        return "A folder of this name is in the way; move it, or name another file."
    return f"The file cannot be written here ({error.strerror or error}); name another folder, or make room."
