"""Photographs of spot tests: the original under its hash, and a page copy without place, owner or camera."""

import hashlib
import io
from pathlib import Path
from typing import Any

from django.conf import settings

from purfling.craft.refusals import Refusal

MOST_MB = 30
MOST_PIXELS = 60_000_000
PAGE_SIZE = 1600


def _folder() -> Path:
    return Path(settings.MEDIA_ROOT) / "varnish"


def path_of(sha256: str) -> Path:
    """The page copy of a picture."""
    return _folder() / f"{sha256}.jpg"


def keep_picture(upload: Any) -> str:
    """Keep an uploaded picture; returns the SHA-256 of the original.

    Raises
    ------
    Refusal
        Too large, or no picture that can be read.
    """
    from PIL import Image, ImageOps
    from pillow_heif import register_heif_opener

    if upload.size > MOST_MB * 1024 * 1024:
        raise Refusal("varnish.picture_large", most=MOST_MB)
    original = upload.read()
    sha256 = hashlib.sha256(original).hexdigest()
    register_heif_opener()
    try:
        with Image.open(io.BytesIO(original), formats=("JPEG", "PNG", "WEBP", "HEIF")) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise Refusal("varnish.picture_large", most=MOST_MB)
            upright = ImageOps.exif_transpose(picture).convert("RGB")
    except Refusal:
        raise
    except Exception as wrong:  # a damaged file raises whatever its decoder raises
        raise Refusal("varnish.picture_kind") from wrong
    upright.thumbnail((PAGE_SIZE, PAGE_SIZE))
    plain = Image.new("RGB", upright.size)
    plain.paste(upright)
    made = io.BytesIO()
    plain.save(made, "JPEG", quality=85)
    _write(_folder() / f"{sha256}.original", original)
    _write(path_of(sha256), made.getvalue())
    return sha256


def _write(path: Path, content: bytes) -> None:
    """Beside it first, then renamed."""
    if path.exists():
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_suffix(".new")
    beside.write_bytes(content)
    beside.replace(path)
