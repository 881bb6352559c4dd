"""The first pages do what they say."""

from django.urls import reverse

from purfling.shop.models import Object, Player, Visit


def test_any_word_finds_player_object_and_tag(book, as_owner):
    for words, shown in (
        ("hollerau", "Merle Aschenbrand"),
        ("ASCHEN merle", "Merle Aschenbrand"),
        ("honey", "the honey one"),
        ("1", "violin, the honey one"),
    ):
        assert shown in as_owner.get(reverse("find"), {"q": words}).content.decode()
    assert "Merle" not in as_owner.get(reverse("find"), {"q": "zzz"}).content.decode().split("<main")[1]


def test_a_player_with_a_violin_arrives(owner, as_owner):
    as_owner.post(reverse("player_new"), {"kind": "person", "town": "Oberlune", "name": "Birkenrode"})
    player = Player.objects.get(name="Birkenrode")
    address = reverse("object_new") + f"?player={player.pk}"
    made = as_owner.post(
        address, {"kind": "instrument", "family": "viola", "treat_as": "working", "size": "4/4"}
    )
    viola = Object.objects.get(family="viola")
    assert made.url == reverse("object", args=[viola.pk])
    as_owner.post(
        reverse("arrival_of", args=[player.pk]),
        {"objects": [str(viola.pk)], "here": "on", "complaint": "Dull.", "contents": "mute\nrosin"},
    )
    visit = Visit.objects.get(player=player)
    row = visit.rows.get()
    assert (visit.contents, row.tag, row.whereabouts) == (["mute", "rosin"], "1", "rack")
    page = as_owner.get(reverse("bench")).content.decode()
    assert "in the rack" in page and "Birkenrode" in page


def test_cloth_over_covers_names_and_values_everywhere(book, as_owner):
    as_owner.post(reverse("cloth"), {"next": "/"})
    for url in (
        reverse("bench"),
        reverse("visit", args=[book.visit.pk]),
        reverse("player", args=[book.player.pk]),
        reverse("object", args=[book.violin.pk]),
        reverse("find") + "?q=aschen",
        reverse("arrival") + "?q=merle",
    ):
        text = as_owner.get(url).content.decode().split("<main")[1]
        assert "Aschenbrand" not in text, url
        assert "98765" not in text, url
    as_owner.post(reverse("cloth"), {"next": "/"})
    assert "Aschenbrand" in as_owner.get(reverse("bench")).content.decode()


def test_the_second_writer_sees_both_versions_and_may_hold_on(book, as_owner, as_assistant):
    address = reverse("player_edit", args=[book.player.pk])
    typed = {"kind": "person", "first_name": "Merle", "name": "Aschenbrand", "phone": "0000 12", "seen": 1}
    as_assistant.post(address, typed | {"town": "Oberlune"})
    answer = as_owner.post(address, typed | {"town": "Niederlune"})
    text = answer.content.decode()
    assert answer.status_code == 409
    assert "Oberlune" in text and "Niederlune" in text and "Joon" in text
    as_owner.post(address, typed | {"town": "Niederlune", "seen": 2})
    book.player.refresh_from_db()
    assert book.player.town == "Niederlune"


def test_german_pages_are_german(book, as_owner):
    as_owner.post(reverse("language"), {"language": "de", "next": "/"})
    text = as_owner.get(reverse("bench")).content.decode()
    assert 'lang="de"' in text and "Auf der Werkbank" in text and "On the bench" not in text
