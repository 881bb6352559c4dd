"""The varnish of the invented shop: materials, recipes, tests, coats with their fingers, a closed place."""

import io
import math
from datetime import timedelta

from django.core.files.uploadedfile import SimpleUploadedFile

from purfling.shop.domain import clock
from purfling.shop.domain.closed import close_place
from purfling.shop.domain.coat import add_line, look_with_finger
from purfling.shop.domain.material import add_material, add_recipe, open_lot
from purfling.shop.domain.room import read_room, set_bands, the_bands
from purfling.shop.domain.spot import add_picture, add_spot
from purfling.shop.domain.varnish_picture import keep_picture
from purfling.shop.domain.varnish_place import kinds_of

MATERIALS = (
    ("tap water", {"kinds": ["water"], "solvent": "water"}),
    ("pure water", {"kinds": ["water"], "solvent": "water"}),
    ("mild soap in water", {"kinds": ["wetting"]}),
    ("spirit 96 %", {"solvent": "ethanol", "kinds": ["spirit"], "hazards": ["flammable", "irritant"]}),
    (
        "white spirit",
        {
            "solvent": "white_spirit",
            "kinds": ["petroleum"],
            "hazards": ["flammable", "health", "environment"],
        },
    ),
    (
        "turpentine",
        {"solvent": "turpentine", "kinds": ["turpentine"], "hazards": ["flammable", "health", "rags"]},
    ),
    ("soft wax", {"kinds": ["wax"], "hazards": []}),
    ("spirit polish", {"kinds": ["polish"], "hazards": ["flammable", "rags"]}),
    ("polishing cloth 4000", {"kinds": ["abrasive"], "hazards": []}),
)
RECIPES = (
    ("Retouch, gold brown", "retouch", ["dammar 10 g", "ethanol 40 ml", "madder lake, little"], ["spirit"]),
    ("Spirit varnish 4", "spirit", ["seed lac 20 g", "sandarac 5 g", "ethanol 100 ml"], ["spirit"]),
    ("Oil varnish, clear", "oil", ["cooked oil 30 g", "colophony 30 g", "turpentine 40 ml"], []),
)
PLACES = (
    ("front", 0.17, 0.86, "upper corner, bass side"),
    ("front", 0.9, 0.42, "lower corner, treble side"),
    ("back", 0.5, 0.985, "edge under the button"),
    ("treble_ribs", 0.5, 0.55, "middle rib"),
)


def _place(number: int) -> dict[str, object]:
    view, x, y, words = PLACES[number % len(PLACES)]
    return {"view": view, "x": x, "y": y, "place": words}


def build_varnish(shop) -> None:
    """Two instruments with a past, a log long enough for one clock and too short for another."""
    begin = shop.today - timedelta(days=365 * 4)
    with clock.held(begin):
        shelf = _shelf(shop)
    instruments = [own[0] for _player, own in shop.players]
    honey, dark = instruments[0], instruments[1]
    _tests(shop, honey, dark, shelf)
    _coats(shop, instruments, shelf)
    _today(shop, honey, shelf)
    _room(shop)


def _room(shop) -> None:
    """The room of thirteen months, read every morning; the owner's bands."""
    for back in range(395, -1, -1):
        at = (shop.today - timedelta(days=back)).replace(hour=8, minute=15)
        if at > shop.today:
            continue
        swing = math.cos(2 * math.pi * (at.timetuple().tm_yday - 25) / 365.25)
        with clock.held(at):
            read_room(
                who=shop.owner,
                humidity_percent=round(50.0 - 11.0 * swing + shop.dice.gauss(0, 3.0), 0),
                temperature_c=round(20.5 - 1.5 * swing + shop.dice.gauss(0, 0.5), 1),
            )
    set_bands(bands=the_bands(), who=shop.owner, humidity_low=40.0, humidity_high=60.0)


def _drawn_picture() -> SimpleUploadedFile:
    """A drawn stand-in for a photograph: a varnished ground with the trace of a swab."""
    from PIL import Image, ImageDraw

    picture = Image.new("RGB", (960, 720), (168, 98, 40))
    brush = ImageDraw.Draw(picture)
    for line in range(0, 720, 9):
        brush.line((0, line, 960, line + 40), fill=(160 + line % 14, 92 + line % 11, 38), width=3)
    brush.ellipse((400, 260, 560, 420), fill=(214, 178, 122))
    brush.ellipse((430, 290, 530, 390), fill=(226, 198, 150))
    made = io.BytesIO()
    picture.save(made, "JPEG", quality=85)
    return SimpleUploadedFile("drawn.jpg", made.getvalue(), "image/jpeg")


def _shelf(shop) -> dict[str, object]:
    shelf: dict[str, object] = {}
    for name, about in MATERIALS:
        dated = {"sheet_on": (shop.today - timedelta(days=900)).date()} if about.get("hazards") else {}
        shelf[name] = add_material(name=name, who=shop.owner, **about, **dated)
        if about.get("hazards"):
            open_lot(material=shelf[name], number=f"{name[:2].upper()}-{shop.dice.randrange(100, 999)}",
                     who=shop.owner)  # fmt: skip
    for name, kind, parts, soluble in RECIPES:
        shelf[name] = add_recipe(name=name, kind=kind, parts=list(parts), soluble_in=soluble, who=shop.owner)
    return shelf


def _tests(shop, honey, dark, shelf) -> None:
    old = shop.today - timedelta(days=1200)
    under = {"view": "front", "x": 0.62, "y": 0.04, "place": "under the chinrest's edge"}
    side = {"view": "back", "x": 0.12, "y": 0.08, "place": "lower edge, bass side"}
    tried = (
        (honey, "tap water", "dissolved", 20, under, "Swab brown after twenty seconds."),
        (honey, "white spirit", "nothing", 60, under, ""),
        (honey, "spirit 96 %", "softened", 5, side, "Tacky at once."),
        (dark, "tap water", "nothing", 60, side, ""),
        (dark, "white spirit", "nothing", 60, side, ""),
        (dark, "turpentine", "dulled", 30, under, "Came back after a day."),
        (dark, "spirit 96 %", "colour", 5, under, ""),
    )
    for number, (thing, name, result, dwell, place, note) in enumerate(tried):
        material = shelf[name]
        with clock.held(old + timedelta(minutes=20 * number)):
            spot = add_spot(
                thing=thing,
                who=shop.owner,
                material=material,
                kinds=kinds_of(material, [], []),
                mixture=[[material.solvent, 1]] if material.solvent else [],
                result=result,
                dwell_s=dwell,
                swab="cotton",
                note=note,
                **place,
            )
            if result == "dissolved":
                add_picture(spot=spot, sha256=keep_picture(_drawn_picture()), who=shop.owner)
    with clock.held(old + timedelta(days=1)):
        close_place(
            thing=honey,
            who=shop.owner,
            reason="old label's corner shines through; nothing wet here",
            tasks=["clean"],
            view="back",
            x=0.5,
            y=0.62,
            place="over the label",
        )


def _coats(shop, instruments, shelf) -> None:
    """Retouches of four years: enough cases for a clock; a few coats of oil varnish: too few."""
    dice = shop.dice
    for number in range(14):
        at = shop.today - timedelta(days=1300 - 88 * number, hours=2)
        damp = number % 2
        _coat(shop, instruments[2 + number % 8], shelf["Retouch, gold brown"], "retouch", at, number, damp,
              1.6 * dice.lognormvariate(0, 0.2) * (1.5 if damp else 1.0))  # fmt: skip
    for number in range(3):
        at = shop.today - timedelta(days=700 - 200 * number)
        _coat(
            shop,
            instruments[3 + number],
            shelf["Oil varnish, clear"],
            "coat",
            at,
            number,
            0,
            60.0 + 8 * number,
        )
    # the corner of the honey one, years ago
    _coat(shop, instruments[0], shelf["Retouch, gold brown"], "retouch",
          shop.today - timedelta(days=1195), 0, 0, 2.0)  # fmt: skip


def _coat(shop, thing, recipe, task, at, number, damp, hours) -> None:
    with clock.held(at):
        line = add_line(
            thing=thing,
            task=task,
            who=shop.owner,
            recipe=recipe,
            batch=f"{at:%y}-{number + 1}",
            humidity_percent=62.0 if damp else 43.0,
            temperature_c=21.0,
            word="our own retouch, painted, no cloth",
            shield="film over the old varnish beside it",
            **_place(number),
        )
    for bears, factor in (("hands", 1.0), ("cloth", 9.0), ("case", 40.0)):
        then = at + timedelta(hours=hours * factor)
        if then < shop.today:
            with clock.held(then):
                look_with_finger(line=line, bears=bears, who=shop.owner)


def _today(shop, honey, shelf) -> None:
    with clock.held(shop.today - timedelta(hours=1)):
        add_line(
            thing=honey,
            task="retouch",
            who=shop.owner,
            recipe=shelf["Retouch, gold brown"],
            batch="today",
            humidity_percent=44.0,
            temperature_c=20.5,
            word="our own retouch, painted, no cloth",
            **_place(1),
        )
