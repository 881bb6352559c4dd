"""What the tests of the varnish share: materials on the shelf, a recipe, pictures."""

from datetime import date
from io import BytesIO

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from purfling.shop.domain.material import add_material, add_recipe, open_lot


def shop_materials(book):
    """Put water, soap, spirit, wax and a retouch recipe into the small book."""
    who = book.owner
    book.water = add_material(name="tap water", kinds=["water"], who=who)
    book.soap = add_material(name="mild soap", kinds=["wetting"], who=who)
    book.spirit = add_material(
        name="spirit 96 %",
        solvent="ethanol",
        hazards=["flammable", "irritant"],
        sheet_on=date(2024, 2, 1),
        who=who,
    )
    book.wax = add_material(name="soft wax", kinds=["wax"], who=who)
    book.water_lot = open_lot(material=book.water, number="W1", who=who)
    book.recipe = add_recipe(
        name="Retouch 3",
        kind="retouch",
        parts=["dammar 10 g", "ethanol 40 ml", "madder lake"],
        soluble_in=["spirit"],
        who=who,
    )
    return book


def picture_file(*, gps: bool = False, broken: bool = False) -> SimpleUploadedFile:
    """A photograph of a swab, larger than a page copy, with or without a place written into it."""
    if broken:
        return SimpleUploadedFile("swab.jpg", b"no picture at all", "image/jpeg")
    made = BytesIO()
    picture = Image.new("RGB", (2000, 1500), (183, 120, 61))
    exif = Image.Exif()
    if gps:
        exif[0x010E] = "Secret place 49.1 N 11.2 E"
        exif[0x8825] = {1: "N", 2: (49.0, 6.0, 0.0)}
    picture.save(made, "JPEG", exif=exif)
    return SimpleUploadedFile("swab.jpg", made.getvalue(), "image/jpeg")
