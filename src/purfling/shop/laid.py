"""Two photographs as one picture: the later in the frame of the earlier, and what differs between them."""

import numpy as np

from purfling.shop.copies import bare_jpeg, write_copy
from purfling.shop.domain.photograph_store import copy_path
from purfling.shop.models import Alignment


def _coefficients(alignment: Alignment, size: tuple[int, int], later: tuple[int, int]) -> list[float]:
    """Pillow's eight numbers of a projective transform: pixel of the earlier frame -> of the later."""
    h = np.array(alignment.homography, dtype=np.float64)
    h = np.diag([later[0], later[1], 1.0]) @ h @ np.diag([1 / size[0], 1 / size[1], 1.0])
    return [float(v) for v in (h / h[2, 2]).ravel()[:8]]


def laid_picture(alignment: Alignment):
    """(earlier, later in the earlier's frame, where the later one covers it) as pictures."""
    from PIL import Image

    with Image.open(copy_path(alignment.earlier_id, "large")) as one:
        earlier = one.convert("RGB")
    with Image.open(copy_path(alignment.later_id, "large")) as two:
        later = two.convert("RGB")
    how = _coefficients(alignment, earlier.size, later.size)
    turn, soft = Image.Transform.PERSPECTIVE, Image.Resampling.BICUBIC
    laid = later.transform(earlier.size, turn, how, soft, fillcolor=(128, 128, 128))
    cover = Image.new("L", later.size, 255).transform(earlier.size, turn, how, Image.Resampling.NEAREST)
    return earlier, laid, cover


def difference_picture(earlier, laid, cover):
    """The earlier picture made pale, with what differs beyond the grain in one strong colour."""
    from PIL import Image, ImageFilter

    soft = ImageFilter.GaussianBlur(2.0)
    a = np.asarray(earlier.convert("L").filter(soft), dtype=np.float64)
    b = np.asarray(laid.convert("L").filter(soft), dtype=np.float64)
    within = np.asarray(cover) > 0
    if within.sum() > 100 and b[within].std() > 1e-6:
        gain, offset = np.polyfit(b[within], a[within], 1)
        b = gain * b + offset
    rest = np.where(within, np.abs(a - b), 0.0)
    level = max(4.0 * float(np.median(rest[within])) if within.any() else 0.0, 10.0)
    strong = np.clip((rest - level) / (2.0 * level), 0.0, 1.0)[..., None]
    pale = 255.0 - (255.0 - np.asarray(earlier.convert("L"), dtype=np.float64)[..., None]) * 0.45
    shown = pale * (1 - strong) + np.array([158.0, 27.0, 50.0]) * strong
    return Image.fromarray(shown.astype(np.uint8), "RGB")


def picture_of(alignment: Alignment, which: str):
    """The place of the picture "laid" or "difference", made at its first showing."""
    path = copy_path(alignment.pk, which)
    if not path.exists():
        earlier, laid, cover = laid_picture(alignment)
        write_copy(alignment.pk, "laid", bare_jpeg(laid, 88))
        write_copy(alignment.pk, "difference", bare_jpeg(difference_picture(earlier, laid, cover), 85))
    return path
