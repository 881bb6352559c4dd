"""Where photographs lie: originals under their SHA-256, copies under the record's id, what arrives."""

import contextlib
import os
import re
import time
from pathlib import Path
from uuid import UUID

from django.conf import settings

from purfling.craft.refusals import Refusal
from purfling.shop.domain.photograph_file import MOST_BYTES

KEY = re.compile(r"[0-9a-f]{64}")
STALE = 2 * 24 * 3600.0  # seconds after which what never finished arriving is swept away
ENDING = {"jpeg": "jpg", "png": "png", "heic": "heic"}


def _folder(*parts: str) -> Path:
    folder = Path(settings.MEDIA_ROOT).joinpath(*parts)
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    return folder


def original_path(sha256: str, kind: str) -> Path:
    """The original's place."""
    return _folder("originals", sha256[:2]) / f"{sha256}.{ENDING[kind]}"


def copy_path(id: UUID | str, size: str) -> Path:
    """A copy's place; its name tells nothing but the record's id."""
    return _folder("copies", str(id)[:2]) / f"{id}-{size}.jpg"


def fsync_folder(folder: Path) -> None:
    """The folder's entries are on the disc."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def arriving_path(survey: UUID, key: str) -> Path:
    """Where a file lies while it arrives."""
    if not KEY.fullmatch(key):
        raise Refusal("photo.no_key")
    return _folder("arriving") / f"{survey}-{key}.part"


def offset_of(path: Path) -> int:
    """How much of it is here."""
    return path.stat().st_size if path.exists() else 0


def append(path: Path, offset: int, total: int, data: bytes) -> int:
    """Put the next piece behind what is here; returns how much is here then.

    A piece that does not begin where the file ends is left aside: the answer tells where to go on.
    """
    if not 0 <= total <= MOST_BYTES:
        raise Refusal("photo.too_big", size=total // 1024 // 1024, most=MOST_BYTES // 1024 // 1024)
    here = offset_of(path)
    if offset != here or here + len(data) > total:
        return here
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
    with os.fdopen(handle, "ab") as stream:
        stream.write(data)
    return here + len(data)


def sweep() -> None:
    """What began to arrive long ago and never finished goes."""
    for path in _folder("arriving").glob("*.part"):
        with contextlib.suppress(FileNotFoundError):
            if time.time() - path.stat().st_mtime > STALE:
                path.unlink()


def settle(path: Path, sha256: str, kind: str) -> tuple[Path, bool]:
    """The arrived file becomes the original, on the disc before a word is said; (place, is it fresh)."""
    target = original_path(sha256, kind)
    if target.exists():
        path.unlink()
        return target, False
    with path.open("rb") as stream:
        os.fsync(stream.fileno())
    path.replace(target)
    target.chmod(0o400)
    fsync_folder(target.parent)
    fsync_folder(target.parent.parent)
    return target, True
