"""A file that says it is a photograph: what it is, whether it is whole and nothing else besides."""

import hashlib
import os
import re
import struct
import warnings
import zlib
from dataclasses import dataclass
from pathlib import Path

from purfling.craft.look import look_of
from purfling.craft.refusals import Refusal

MOST_BYTES = 60 * 1024 * 1024
MOST_PIXELS = 50_000_000
ENDINGS = {
    "jpeg": {".jpg", ".jpeg", ".jpe", ".jfif"},
    "png": {".png"},
    "heic": {".heic", ".heif", ".hif"},
}
BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}
ACTIVE = (
    b"<script",
    b"<html",
    b"<!doctype",
    b"<?php",
    b"<svg",
    b"%pdf-",
    b"pk\x03\x04",
    b"pk\x05\x06",
    b"rar!\x1a",
)
APP0 = (b"JFIF\x00", b"JFXX\x00", b"AVI1", b"Ocad$Rev")
_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")


@dataclass(frozen=True)
class Examined:
    """What a file was found to be; ``width`` and ``height`` of the upright picture [px]."""

    kind: str
    size: int
    sha256: str
    width: int
    height: int
    look: str


def sha256_of(path: Path) -> str:
    """The SHA-256 of a file, hex."""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def examine(path: Path, name: str) -> Examined:
    """Refuse everything that is not one whole JPEG, PNG or HEIC picture and nothing else.

    Raises
    ------
    Refusal
        Empty, too big, another kind than its name says, too many pixels, cut short, more than a picture.
    """
    size = path.stat().st_size
    if size == 0:
        raise Refusal("photo.empty")
    if size > MOST_BYTES:
        raise Refusal("photo.too_big", size=size // 1024 // 1024, most=MOST_BYTES // 1024 // 1024)
    data = path.read_bytes()
    kind = _kind(data)
    ending = os.path.splitext(name)[1].lower()
    if ending and ending not in ENDINGS[kind]:
        raise Refusal("photo.wrong_ending", ending=ending[:10], kind=kind.upper())
    try:
        {"jpeg": _jpeg, "png": _png, "heic": _heic}[kind](data)
    except (struct.error, IndexError) as broken:
        raise Refusal("photo.cut_short", kind=kind.upper()) from broken
    width, height, look = _decode(path, kind)
    return Examined(kind, size, hashlib.sha256(data).hexdigest(), width, height, look)


def _kind(data: bytes) -> str:
    if data[:3] == b"\xff\xd8\xff":
        return "jpeg"
    if data[:8] == b"\x89PNG\r\n\x1a\n":
        return "png"
    if data[4:8] == b"ftyp" and data[8:12] in BRANDS:
        return "heic"
    raise Refusal("photo.not_a_picture")


def _no_active(part: bytes) -> None:
    low = part.lower()
    if any(sign in low for sign in ACTIVE):
        raise Refusal("photo.more_than_a_picture")


def _jpeg(data: bytes, at: int = 0, depth: int = 0) -> None:
    """Walk the segments to the picture's end; what phones put behind it is looked at, all else refused."""
    place = at + 2
    while True:
        met = _MARKER.search(data, place)
        if met is None:
            raise Refusal("photo.cut_short", kind="JPEG")
        marker, place = data[met.start() + 1], met.start() + 2
        if marker == 0xD9:
            break
        if marker in (0x01, 0xD8):
            continue
        (length,) = struct.unpack_from(">H", data, place)
        body = data[place + 2 : place + length]
        if len(body) < length - 2:
            raise Refusal("photo.cut_short", kind="JPEG")
        if marker == 0xE0 and not body.startswith(APP0):
            raise Refusal("photo.more_than_a_picture")
        if 0xE0 <= marker <= 0xEF or marker == 0xFE:
            _no_active(body)
        place += length
    rest = data[place:]
    if not rest.strip(b"\x00"):
        return
    if rest.startswith(b"\xff\xd8\xff") and depth < 8:  # a second picture, as phones write them
        _jpeg(data, place, depth + 1)
        return
    if rest[4:8] == b"ftyp":  # a short film behind the picture
        _boxes(rest, "JPEG", skip=b"mdat")
        return
    if rest.endswith(b"SEFT") and len(rest) < 1 << 20:  # a phone maker's own trailer
        _no_active(rest)
        return
    raise Refusal("photo.more_than_a_picture")


def _png(data: bytes) -> None:
    """Walk the chunks, each with its check sum, to the very end of the file."""
    place = 8
    while True:
        (length,) = struct.unpack_from(">I", data, place)
        name, body = data[place + 4 : place + 8], data[place + 8 : place + 8 + length]
        (check,) = struct.unpack_from(">I", data, place + 8 + length)
        if len(body) < length or zlib.crc32(name + body) != check:
            raise Refusal("photo.cut_short", kind="PNG")
        if name not in (b"IDAT", b"IHDR"):
            _no_active(body)
        place += 12 + length
        if name == b"IEND":
            break
    if place != len(data):
        raise Refusal("photo.more_than_a_picture")


def _heic(data: bytes) -> None:
    names = _boxes(data, "HEIC", skip=b"mdat")
    if b"meta" not in names:
        raise Refusal("photo.cut_short", kind="HEIC")


def _boxes(data: bytes, kind: str, skip: bytes) -> set[bytes]:
    """The boxes of a file, which must fill it to its end; all but ``skip`` are looked into."""
    place, names = 0, set()
    while place < len(data):
        size, name = struct.unpack_from(">I4s", data, place)
        if size == 1:
            (size,) = struct.unpack_from(">Q", data, place + 8)
        elif size == 0:
            size = len(data) - place
        if size < 8 or place + size > len(data):
            raise Refusal("photo.cut_short", kind=kind)
        if name != skip:
            _no_active(data[place + 8 : place + size])
        names.add(name)
        place += size
    return names


def opened(path: Path):
    """The picture, its pixels not yet read; bombs are errors."""
    import pillow_heif
    from PIL import Image

    pillow_heif.register_heif_opener(thumbnails=False)
    Image.MAX_IMAGE_PIXELS = MOST_PIXELS
    return Image.open(path, formats=("JPEG", "PNG", "HEIF", "MPO"))


def _decode(path: Path, kind: str) -> tuple[int, int, str]:
    """Size of the upright picture and its fingerprint; every pixel is read once, small where possible."""
    from PIL import Image, ImageOps

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with opened(path) as picture:
                width, height = picture.size
                if width * height > MOST_PIXELS:
                    raise Refusal("photo.too_many_pixels", n=width * height // 1_000_000, most=50)
                if min(width, height) < 16:
                    raise Refusal("photo.too_small", width=width, height=height)
                turned = picture.getexif().get(0x0112, 1) >= 5 if kind != "heic" else False
                if kind == "jpeg":
                    picture.draft("RGB", (max(width // 8, 64), max(height // 8, 64)))
                picture.load()
                grey = ImageOps.exif_transpose(picture).convert("L").resize((9, 8), Image.Resampling.BOX)
                rows = [[float(grey.getpixel((x, y))) for x in range(9)] for y in range(8)]
    except Refusal:
        raise
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as bomb:
        raise Refusal("photo.too_many_pixels", n=0, most=50) from bomb
    except Exception as broken:  # a decoder meets anything: whatever it says, the file is not a whole picture
        raise Refusal("photo.cut_short", kind=kind.upper()) from broken
    return (height, width, look_of(rows)) if turned else (width, height, look_of(rows))
