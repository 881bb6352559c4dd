"""Photographs: the original stays as it came, what is shown tells neither place nor owner."""

import hashlib
import io
import json
import os
import struct
import zipfile
import zlib
from pathlib import Path

import numpy as np
import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from purfling.craft.refusals import Refusal
from purfling.shop.domain.mark import record_mark
from purfling.shop.domain.photograph import original_stands, recognise
from purfling.shop.domain.photograph_plane import lay_photograph_over, set_scale, touch_area
from purfling.shop.domain.photograph_store import copy_path, original_path
from purfling.shop.domain.survey import begin_survey, freeze_survey
from purfling.shop.models import Photograph
from tests.shop.mark_help import exif, jpeg, keep, make, texture, violin_row

PIECE = 20_000


@pytest.fixture
def survey(book):
    """The violin's open survey."""
    return begin_survey(row=violin_row(book), who=book.owner)


def files_of_the_book():
    """Every file under the photographs' folder."""
    root = Path(settings.MEDIA_ROOT)
    return sorted(str(p.relative_to(root)) for p in root.rglob("*") if p.is_file())


def heic(picture):
    import pillow_heif

    out = io.BytesIO()
    pillow_heif.from_pillow(picture).save(out, quality=70)
    return out.getvalue()


def png(picture, **options):
    out = io.BytesIO()
    picture.save(out, "PNG", **options)
    return out.getvalue()


def test_the_original_lies_unchanged_under_its_sha256_and_cannot_be_written(book):
    data = jpeg(texture(seed=4))
    kept = keep(violin_row(book), who=book.owner, data=data)
    path = original_path(kept.sha256, kept.kind)
    assert path.read_bytes() == data
    assert path.stem == kept.sha256 == hashlib.sha256(data).hexdigest()
    assert path.stat().st_mode & 0o222 == 0
    assert original_stands(kept)
    os.chmod(path, 0o600)
    path.write_bytes(data[:-1] + b"\x00")
    assert not original_stands(kept)
    path.unlink()
    assert not original_stands(kept)


def test_file_and_folder_are_on_the_disc_before_the_row(book, monkeypatch):
    told = []
    real = os.fsync
    monkeypatch.setattr(os, "fsync", lambda fd: (told.append("disc"), real(fd))[1])
    from purfling.shop.domain import keeping

    add = keeping.add
    monkeypatch.setattr(keeping, "add", lambda *a, **k: (told.append("row"), add(*a, **k))[1])
    keep(violin_row(book), who=book.owner, seed=8)
    assert told[:3] == ["disc", "disc", "disc"] and told.index("row") == 3


@pytest.mark.parametrize("kind", ["jpeg", "png", "heic"])
def test_every_kind_is_kept_and_gets_upright_copies(book, kind):
    picture = texture(800, 600, seed=2)
    data = {"jpeg": jpeg, "png": png, "heic": heic}[kind](picture)
    ending = {"jpeg": "JPG", "png": "png", "heic": "HEIC"}[kind]
    kept = keep(violin_row(book), who=book.owner, data=data, name=f"IMG 1.{ending}", copies=True)
    assert (kept.kind, kept.width, kept.height, kept.ready) == (kind, 800, 600, True)
    with Image.open(copy_path(kept.pk, "small")) as small:
        assert (small.format, small.size) == ("JPEG", (480, 360))


def test_a_picture_held_sideways_stands_upright(book):
    tags = exif()
    tags[0x0112] = 6
    out = io.BytesIO()
    texture(800, 600).save(out, "JPEG", exif=tags)
    kept = keep(violin_row(book), who=book.owner, data=out.getvalue(), copies=True)
    assert (kept.width, kept.height) == (600, 800)
    with Image.open(copy_path(kept.pk, "large")) as large:
        assert large.size == (600, 800)


SECRETS = (
    b"Merle",
    b"Aschenbrand",
    b"Secret Lane",
    b"Hollerau",
    b"Telephone of the tests",
    b"Exif",
    b"GPS",
    b"http:",
)


def test_no_served_picture_or_file_name_tells_place_or_owner(book, as_owner, as_assistant):
    """The bytes are looked at; the original, the counterpart, has it all."""
    data = jpeg(texture(900, 700, seed=1))
    for secret in SECRETS[:6]:
        assert secret in data
    row = violin_row(book)
    first = keep(row, who=book.owner, data=data, copies=True, view="front")
    second = keep(
        row, who=book.owner, data=jpeg(texture(900, 700, seed=1).rotate(0.3)), copies=True, view="front"
    )
    made = lay_photograph_over(earlier=first, later=second, pairs=[], who=book.owner)
    pages = [reverse(f"photograph_{s}", args=[p.pk]) for s in ("small", "large") for p in (first, second)]
    pages += [reverse(f"alignment_{s}", args=[made.pk]) for s in ("laid", "difference")]
    for client in (as_owner, as_assistant):
        for address in pages:
            answer = client.get(address)
            body = b"".join(answer.streaming_content)
            assert answer["Content-Type"] == "image/jpeg" and body[:2] == b"\xff\xd8"
            assert answer["X-Content-Type-Options"] == "nosniff"
            head = repr(answer.headers).encode()
            for secret in SECRETS:
                assert secret not in body and secret not in head.replace(b"http", b""), (address, secret)
            with Image.open(io.BytesIO(body)) as shown:
                assert not shown.getexif() and "comment" not in shown.info and "icc_profile" not in shown.info
    for name in files_of_the_book():
        assert not any(s.decode().lower() in name.lower() for s in SECRETS)


def test_no_address_serves_the_original_or_a_file_by_name(book, as_owner):
    kept = keep(violin_row(book), who=book.owner, copies=True)
    for address in (
        f"/media/originals/{kept.sha256[:2]}/{kept.sha256}.jpg",
        f"/photographs/originals/{kept.sha256}.jpg",
        f"/photograph/{kept.pk}/original",
        f"/photograph/{kept.pk}/../../book.sqlite3",
        f"/static/../photographs/originals/{kept.sha256[:2]}/{kept.sha256}.jpg",
    ):
        assert as_owner.get(address).status_code == 404


# -- hostile files: one sentence, nothing left


def _png_chunk(name, body):
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def _png_of(width, height, data=b""):
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + _png_chunk(b"IHDR", head)
        + _png_chunk(b"IDAT", data)
        + _png_chunk(b"IEND", b"")
    )


def _zip():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as stream:
        stream.writestr("evil.txt", "more than a picture")
    return out.getvalue()


def _with_comment(comment):
    out = io.BytesIO()
    texture().save(out, "JPEG", comment=comment)
    return out.getvalue()


GOOD = jpeg(texture(400, 300))
SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
TEXT_BOMB = b"k\0\0" + zlib.compress(b"a" * 70_000_000)
EMPTY_HEIC = struct.pack(">I4s4sI", 16, b"ftyp", b"heic", 0)
HOSTILE = {
    "empty": ("a.jpg", b""),
    "bomb: 30000 x 30000 in a kilobyte": ("a.png", _png_of(30000, 30000, zlib.compress(b"\0" * 100_000))),
    "bomb: text chunk": (
        "a.png",
        png(texture(64, 48))[:33] + _png_chunk(b"zTXt", TEXT_BOMB) + png(texture(64, 48))[33:],
    ),
    "60 megapixels": ("a.png", png(Image.new("1", (10000, 6000)))),
    "truncated jpeg": ("a.jpg", GOOD[: len(GOOD) // 2]),
    "jpeg head alone": ("a.jpg", b"\xff\xd8\xff\xe0"),
    "truncated png": ("a.png", png(texture(200, 100))[:-30]),
    "png with a wrong check sum": ("a.png", png(texture(64, 48))[:40] + b"XX" + png(texture(64, 48))[42:]),
    "polyglot: zip behind": ("a.jpg", GOOD + _zip()),
    "polyglot: zip behind a png": ("a.png", png(texture(64, 48)) + _zip()),
    "polyglot: script in the comment": ("a.jpg", _with_comment(b"*/<script>alert(1)</script>/*")),
    "polyglot: script as the first segment": (
        "a.jpg", GOOD[:2] + b"\xff\xe0" + struct.pack(">H", 0x2F2A) + b"/*".ljust(0x2F28, b"a") + GOOD[2:],
    ),
    "polyglot: html behind": ("a.jpg", GOOD + b"<html><script>alert(1)</script>"),
    "polyglot: pdf in a segment": ("a.jpg", _with_comment(b"%PDF-1.7 1 0 obj")),
    "svg with a script": ("a.svg", SVG),
    "svg called jpg": ("a.jpg", SVG),
    "html called heic": ("a.heic", b"<html>"),
    "empty heic": ("a.heic", EMPTY_HEIC),
    "heic cut short": ("a.heic", heic(texture(200, 160))[:-200]),
    "heic of zeros": ("a.heic", EMPTY_HEIC + struct.pack(">I4s", 1000, b"meta") + b"\0" * 992),
    "wrong ending: jpeg called png": ("a.png", GOOD),
    "wrong ending: png called exe": ("a.exe", png(texture(64, 48))),
    "a single pixel": ("a.png", png(texture(1, 1))),
    "a program": ("a.jpg", b"MZ" + b"\0" * 500),
    "a gif": ("a.gif", b"GIF89a" + b"\0" * 100),
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_gets_one_sentence_and_leaves_nothing(name, survey, as_assistant):
    called, data = HOSTILE[name]
    before = files_of_the_book()
    answer = as_assistant.post(
        reverse("photograph_add", args=[survey.pk]),
        {"picture": SimpleUploadedFile(called, data), "light": "normal"},
    )
    assert answer.status_code == 422
    said = answer.content.decode().split('role="alert">')[1].split("</p>")[0]
    assert 10 < len(said) <= 300 and "\n" not in said
    sent = send(as_assistant, survey, called, data)
    assert sent.status_code == 422
    assert 10 < len(sent.json()["sentence"]) <= 300
    assert files_of_the_book() == before
    assert not Photograph.objects.exists()


def test_what_telephones_put_behind_a_picture_is_no_hostility(book):
    """A second picture, a short film and a maker's trailer are kept; the copies have none of them."""
    film = struct.pack(">I4s4sI", 16, b"ftyp", b"mp42", 0) + struct.pack(">I4s", 108, b"mdat") + b"\1" * 100
    for i, behind in enumerate((jpeg(texture(64, 48, seed=9)), film, b"\0" * 900, b"MotionPhoto_Data..SEFT")):
        kept = keep(
            violin_row(book), who=book.owner, data=jpeg(texture(200, 160, seed=40 + i)) + behind, copies=True
        )
        assert kept.ready and (kept.width, kept.height) == (200, 160)


# -- arriving piece by piece


def send(client, survey, name, data, key=None, **about):
    """Send a file as the page's script does; returns the last answer."""
    key = key or hashlib.sha256(data).hexdigest()
    address = reverse("photograph_arriving", args=[survey.pk])
    query = {"key": key, "name": name, "total": len(data), **about}
    answer = client.get(address, query)
    offset = answer.json()["offset"] if answer.status_code == 200 else 0
    while True:
        text = "&".join(f"{k}={v}" for k, v in (query | {"offset": offset}).items())
        answer = client.post(
            f"{address}?{text}", data[offset : offset + PIECE], content_type="application/octet-stream"
        )
        if answer.status_code != 200 or "photograph" in answer.json():
            return answer
        offset = answer.json()["offset"]


def test_a_photograph_that_stopped_half_way_goes_on_where_it_stopped(survey, as_owner):
    data = jpeg(texture(1200, 900, seed=3))
    assert len(data) > 3 * PIECE
    key = hashlib.sha256(data).hexdigest()
    address = reverse("photograph_arriving", args=[survey.pk])
    first = as_owner.post(
        f"{address}?key={key}&total={len(data)}&offset=0",
        data[:PIECE],
        content_type="application/octet-stream",
    )
    assert first.json() == {"offset": PIECE}
    # a piece that comes twice, or from the wrong place, is left aside and told where to go on
    for offset in (0, PIECE * 2):
        again = as_owner.post(
            f"{address}?key={key}&total={len(data)}&offset={offset}",
            data[:PIECE],
            content_type="application/octet-stream",
        )
        assert again.json() == {"offset": PIECE}
    assert as_owner.get(address, {"key": key}).json() == {"offset": PIECE}
    answer = send(as_owner, survey, "IMG_1.jpg", data)
    kept = Photograph.objects.get(pk=answer.json()["photograph"])
    assert original_path(kept.sha256, kept.kind).read_bytes() == data
    assert not [n for n in files_of_the_book() if n.startswith("arriving")]
    assert send(as_owner, survey, "IMG_1.jpg", data).json()["photograph"] == str(kept.pk)
    assert Photograph.objects.count() == 1


def test_what_arrives_otherwise_than_it_was_sent_is_refused_and_gone(survey, as_owner):
    data = jpeg(texture())
    answer = send(as_owner, survey, "a.jpg", data, key="ab" * 32)
    assert answer.status_code == 422 and not Photograph.objects.exists()
    assert not [n for n in files_of_the_book() if n.startswith("arriving")]
    assert send(as_owner, survey, "a.jpg", data, key="ab" * 32, own="1").status_code == 200


@pytest.mark.parametrize(
    "query",
    [
        "",
        "key=../../../etc/passwd&total=5&offset=0",
        f"key={'ab' * 32}&total=x&offset=0",
        f"key={'ab' * 32}&total={10**11}&offset=0",
        f"key={'ab' * 32}&total=5&offset=-1",
    ],
)
def test_pieces_that_make_no_sense_are_refused(survey, as_owner, query):
    before = files_of_the_book()
    address = reverse("photograph_arriving", args=[survey.pk])
    answer = as_owner.post(f"{address}?{query}", b"12345", content_type="application/octet-stream")
    assert answer.status_code == 422 and answer.json()["sentence"]
    assert files_of_the_book() == before


def test_a_photograph_shows_its_mark_and_light_in_the_list(survey, as_owner, book):
    mark = record_mark(survey=survey, view="front", points=[[0, 0.3]], kind="bump", who=book.owner).mark
    answer = send(
        as_owner,
        survey,
        "a.jpg",
        jpeg(texture()),
        mark=str(mark.pk),
        light="raking",
        side="bass",
        angle_deg="8",
    )
    kept = Photograph.objects.get(pk=answer.json()["photograph"])
    assert (list(kept.marks.all()), kept.light, kept.side, kept.angle_deg) == ([mark], "raking", "bass", 8.0)
    for bad in ({"light": "moonlight"}, {"light": "raking", "angle_deg": "200"}, {"mark": str(survey.pk)}):
        assert send(as_owner, survey, "b.jpg", jpeg(texture(seed=5)), **bad).status_code == 422
    page = as_owner.get(reverse("survey", args=[survey.pk])).content.decode()
    assert reverse("photograph_small", args=[kept.pk]) in page
    assert as_owner.get(reverse("photograph", args=[kept.pk])).status_code == 200


# -- recognised again


def test_an_altered_copy_is_recognised(book, tmp_path, as_owner):
    picture = texture(900, 700, seed=6)
    data = jpeg(picture)
    kept = keep(violin_row(book), who=book.owner, data=data, copies=True)
    keep(violin_row(book), who=book.owner, seed=7, copies=True)
    retouched = picture.copy()
    retouched.paste(retouched.crop((0, 0, 60, 60)), (300, 300))  # a mark stamped over
    files = {
        "original": data,
        "copy": copy_path(kept.pk, "large").read_bytes(),
        "altered": jpeg(retouched),
        "unknown": jpeg(texture(900, 700, seed=77)),
    }
    for verdict, bytes_ in files.items():
        path = tmp_path / f"{verdict}.jpg"
        path.write_bytes(bytes_)
        found = recognise(path=path, name=path.name)
        assert found["verdict"] == verdict
        if verdict != "unknown":
            assert found["photograph"] == kept
    before = files_of_the_book()
    answer = as_owner.post(
        reverse("photograph_check"), {"picture": SimpleUploadedFile("a.jpg", files["altered"])}
    )
    assert "it is not that file" in answer.content.decode()
    assert files_of_the_book() == before


# -- measures


def test_area_of_a_touched_outline_through_the_pages(book, survey, as_owner):
    """A picture of 600 x 400 px with a rectangle of 60 x 40 mm: a quarter of it is 600 mm2."""
    mark = record_mark(survey=survey, view="front", points=[[0, 0.3]], kind="wear", who=book.owner).mark
    kept = keep(violin_row(book), who=book.owner, data=jpeg(texture(600, 400)), mark=mark, copies=True)
    outline = json.dumps([[0, 0], [0.5, 0], [0.5, 0.5], [0, 0.5]])
    area = reverse("photograph_area", args=[kept.pk])
    assert as_owner.post(area, {"points": outline}).status_code == 422  # no scale yet
    corners = json.dumps([[0, 0], [1, 0], [1, 1], [0, 1]])
    scale = reverse("photograph_scale", args=[kept.pk])
    assert as_owner.post(scale, {"points": corners, "mm": "60", "height_mm": "40,0"}).status_code == 302
    assert as_owner.post(area, {"points": outline, "mark": str(mark.number)}).status_code == 302
    assert mark.areas.get().area_mm2 == pytest.approx(600.0)
    assert survey.sightings.get().area_mm2 == pytest.approx(600.0)
    for bad in ("", "[[0,0]]", '{"a":1}', "[[1,2],[3]]", json.dumps([[0, 0], [1, 1], [1, 0], [0, 1]])):
        assert as_owner.post(area, {"points": bad}).status_code == 422
    freeze_survey(survey=survey, who=book.owner)
    kept.refresh_from_db()
    touch_area(photograph=kept, points=[[0, 0], [1, 0], [1, 1]], mark=mark, who=book.owner)
    survey.refresh_from_db()
    assert survey.sightings.get().area_mm2 == pytest.approx(600.0)  # frozen: the later area stands beside it
    with pytest.raises(Refusal):
        set_scale(photograph=kept, points=[[0, 0], [1, 0]], size_mm=[0.0], who=book.owner)


def test_two_dates_are_laid_over_each_other_and_the_difference_shows(book):
    """The later picture is moved by (24, -15) px and has a new mark."""
    from purfling.shop.laid import difference_picture, laid_picture

    scene = texture(1000, 800, seed=12)
    later = scene.transform(
        scene.size, Image.Transform.AFFINE, (1, 0, -24, 0, 1, 15), Image.Resampling.BICUBIC
    )
    later.paste((30, 20, 10), (500, 400, 560, 450))
    row = violin_row(book)
    one = keep(row, who=book.owner, data=png(scene), name="a.png", copies=True)
    two = keep(row, who=book.owner, data=png(later), name="b.png", copies=True)
    made = lay_photograph_over(earlier=one, later=two, pairs=[], who=book.owner)
    assert made.refined
    h = np.array(made.homography)
    middle = h @ np.array([0.5, 0.5, 1.0])
    found = middle[:2] / middle[2] * [1000, 800]
    assert found == pytest.approx([524.0, 385.0], abs=1.0)
    earlier, laid, cover = laid_picture(made)
    rest = np.abs(np.asarray(earlier, float) - np.asarray(laid, float)).max(axis=2)
    inner = np.s_[60:740, 60:940]
    assert np.median(rest[inner]) < 4.0
    shown = np.asarray(difference_picture(earlier, laid, cover), float)
    red = (shown[..., 0] - shown[..., 1]) > 60
    assert red[425:455, 490:525].mean() > 0.9  # the new mark, in the earlier picture's frame
    assert red[inner].mean() < 0.02


def test_other_things_are_not_laid_over_each_other(book):
    row = violin_row(book)
    one, two = (keep(row, who=book.owner, seed=s, copies=True) for s in (20, 21))
    with pytest.raises(Refusal):
        lay_photograph_over(earlier=one, later=two, pairs=[], who=book.owner)
    with pytest.raises(Refusal):
        lay_photograph_over(earlier=one, later=one, pairs=[], who=book.owner)
    with pytest.raises(Refusal):
        lay_photograph_over(earlier=one, later=two, pairs=[[[0, 0], [0, 0]]], who=book.owner)


def test_the_worker_begun_again_makes_the_same_copies(book):
    kept = keep(violin_row(book), who=book.owner, seed=30, copies=True)
    first = dict(kept.copy_hashes)
    assert make(kept).copy_hashes == first and set(first) == {"large", "small"}
