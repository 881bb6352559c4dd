"""What the worker does with a photograph: smaller copies, upright, in usual colours, the pixels alone."""

import hashlib
import io
import os
from uuid import UUID

from django_tasks import task

# 2000 px: a telephone's picture of 12 megapixels is decoded at half its size, four times as fast.
SIZES = {"large": (2000, 88), "small": (480, 80)}


def _usual_colours(picture):
    """The picture in sRGB, without its own profile."""
    from PIL import ImageCms

    profile = picture.info.get("icc_profile")
    if picture.mode not in ("RGB", "L"):
        picture = picture.convert("RGB")
    if profile and picture.mode == "RGB":
        try:
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            picture = ImageCms.profileToProfile(picture, own, ImageCms.createProfile("sRGB"))
        except ImageCms.PyCMSError:
            pass  # a profile that cannot be read: the colours are taken as they stand
    return picture.convert("RGB")


def bare_jpeg(picture, quality: int) -> bytes:
    """JPEG of the pixels alone: a new image, so that nothing of the file they came from comes along."""
    from PIL import Image

    bare = Image.new("RGB", picture.size)
    bare.paste(picture)
    out = io.BytesIO()
    bare.save(out, "JPEG", quality=quality, optimize=False, exif=b"")
    return out.getvalue()


def write_copy(id: UUID | str, size: str, data: bytes) -> str:
    """Put a copy beside the others; returns its SHA-256."""
    from purfling.shop.domain.photograph_store import copy_path

    path = copy_path(id, size)
    beside = path.with_suffix(".writing")
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())
    beside.replace(path)
    return hashlib.sha256(data).hexdigest()


def copies_of(path) -> dict[str, bytes]:
    """The copies of an original, by size."""
    from PIL import Image, ImageOps

    from purfling.shop.domain.photograph_file import opened

    with opened(path) as picture:
        shrink = max(max(picture.size) / SIZES["large"][0], 1.0)
        picture.draft("RGB", (int(picture.width / shrink), int(picture.height / shrink)))
        upright = ImageOps.exif_transpose(picture)
        large = _usual_colours(upright)
    found: dict[str, bytes] = {}
    for name, (side, quality) in SIZES.items():
        large.thumbnail((side, side), Image.Resampling.LANCZOS, reducing_gap=2.0)
        found[name] = bare_jpeg(large, quality)
    return found


@task()
def make_copies(id: str) -> None:
    """Make a photograph's copies; begun again it makes the same ones."""
    from purfling.shop.domain import keeping
    from purfling.shop.domain.photograph_store import original_path
    from purfling.shop.models import Photograph

    photograph = Photograph.objects.filter(pk=id).first()
    if photograph is None:
        return
    path = original_path(photograph.sha256, photograph.kind)
    try:
        hashes = {name: write_copy(id, name, data) for name, data in copies_of(path).items()}
    except OSError as broken:
        keeping.change(photograph, who=None, trouble=type(broken).__name__[:60])
        return
    keeping.change(photograph, who=None, ready=True, trouble="", copy_hashes=hashes)
