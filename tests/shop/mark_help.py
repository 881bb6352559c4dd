"""Photographs made for tests: a picture with a texture, saved as a tablet would save it."""

import io
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image

from purfling.shop.domain import clock
from purfling.shop.domain.photograph import keep_photograph
from purfling.shop.models import Alignment

PLACE = b"Secret Lane 5"


def violin_row(book):
    """The violin's row of the visit, whichever tag it got."""
    return next(r for r in book.rows if r.object_id == book.violin.pk)


def texture(width=640, height=480, seed=0):
    """A picture full of soft detail."""
    dice = np.random.default_rng(seed)
    found = np.zeros((height, width))
    for cells in (6, 17, 53):
        small = Image.fromarray((dice.random((cells, cells)) * 255).astype("uint8"))
        found += np.asarray(small.resize((width, height), Image.Resampling.BICUBIC), float) / cells**0.5
    found = (found - found.min()) / max(found.max() - found.min(), 1e-9) * 255
    return Image.fromarray(found.astype("uint8")).convert("RGB")


def exif():
    """What a telephone writes: owner, camera, and where it was."""
    tags = Image.Exif()
    tags[0x013B] = "Merle Aschenbrand"
    tags[0x8298] = "Secret Lane 5, Hollerau"
    tags[0x0110] = "Telephone of the tests"
    tags.get_ifd(0x8825).update({1: "N", 2: (53.0, 33.0, 7.0), 3: "E", 4: (9.0, 59.0, 36.0)})
    return tags


def jpeg(picture=None, **options):
    """A JPEG with owner and place in it."""
    out = io.BytesIO()
    (picture or texture()).save(out, "JPEG", quality=90, exif=exif(), comment=PLACE, **options)
    return out.getvalue()


def keep(row, who, seed=0, data=None, name="IMG_Merle_Aschenbrand_Hollerau.jpg", copies=False, **about):
    """A photograph kept in the book."""
    with tempfile.NamedTemporaryFile(delete=False, suffix=".part") as stream:
        stream.write(data if data is not None else jpeg(texture(seed=seed)))
    kept = keep_photograph(path=Path(stream.name), name=name, row=row, who=who, **about)
    if copies:
        make(kept)
    return kept


def make(kept):
    """The worker's part, in this process."""
    from purfling.shop.copies import make_copies

    make_copies.func(str(kept.pk))
    kept.refresh_from_db()
    return kept


def alignment_of(earlier, later, who):
    """One photograph laid over another as they are."""
    from purfling.shop.domain import keeping

    same = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
    one = Alignment(
        earlier=earlier, later=later, points=[], homography=same, rest_px=0.0, at=clock.now(), who=who
    )
    return keeping.add(one, who=who)
