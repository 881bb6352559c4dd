"""Writing the pages: each beside its place first, then renamed; nothing half written stays."""

import contextlib
import errno
import os
from collections.abc import Mapping
from pathlib import Path

from purfling.craft.refusals import Refusal


def write_files(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write ``files`` (name -> bytes) into ``folder``, which may exist.

    Raises
    ------
    Refusal
        The folder cannot be made or a file cannot be written; what had been begun is removed.
    """
    begun: list[Path] = []
    made: list[Path] = []
    try:
        missing = folder
        while not missing.exists():
            made.append(missing)
            missing = missing.parent
        folder.mkdir(parents=True, exist_ok=True)
        for name in files:
            if (folder / name).is_dir():
                raise IsADirectoryError(errno.EISDIR, f"{name} is a folder")
        for name, data in files.items():
            beside = folder / f".{name}.{os.getpid()}.part"
            begun.append(beside)
            with beside.open("wb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
        for name, beside in zip(files, list(begun), strict=True):
            beside.replace(folder / name)
            begun.remove(beside)
    except OSError as trouble:
        for beside in begun:
            with contextlib.suppress(OSError):
                beside.unlink(missing_ok=True)
        for fresh in made:
            with contextlib.suppress(OSError):
                fresh.rmdir()
        raise Refusal("slips.cannot_write", path=str(folder), reason=trouble.strerror or "") from trouble
