"""Fill an empty book: one transaction, every record through its verb, the clock held at each moment."""

import random
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from django.db import transaction
from django.utils import timezone

from purfling.shop.demo import invented as words
from purfling.shop.demo.figures import NAMES, figures_for, strings_of
from purfling.shop.demo.varnish import build_varnish
from purfling.shop.demo.work import bridge_work, done_visit, open_visit
from purfling.shop.domain import clock, ids
from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.domain.object import add_object
from purfling.shop.domain.player import add_player
from purfling.shop.domain.shop import add_assistant, change_shop, the_shop
from purfling.shop.domain.visit import book_visit, close_visit, lend, move_object, receive_visit
from purfling.shop.models import Maker, Object, Player, Visit, VisitObject

PHRASES = (words.OWNER, words.ASSISTANT)
YEARS = 4
OPEN_TODAY = 2


@dataclass
class Workshop:
    """What the builder carries along: its dice and its people."""

    dice: random.Random
    today: datetime
    owner: Maker | None = None
    assistant: Maker | None = None
    players: list[tuple[Player, list[Object]]] = field(default_factory=list)
    school: tuple[Player, list[Object]] | None = None

    def hands(self) -> Maker:
        """Whose hands did it: mostly the owner's."""
        return self.assistant if self.dice.random() < 0.3 else self.owner


def build_demo(*, seed: str = "purfling", today: datetime | None = None) -> Workshop:
    """The invented shop, with its last four years up to ``today``; same seed and day, same book."""
    now = timezone.localtime(today or timezone.now()).replace(hour=10, minute=20, second=0, microsecond=0)
    shop = Workshop(random.Random(f"purfling {seed}"), now)
    begin = now - timedelta(days=365 * YEARS + 40)
    with transaction.atomic(), clock.held(begin), ids.seeded(f"purfling ids {seed}"):
        _people(shop, seed)
        _things(shop)
        _years(shop)
        _today(shop)
        _money(shop)
        build_varnish(shop)
    return shop


def _people(shop: Workshop, seed: str) -> None:
    from purfling.shop.domain.shop import add_owner

    shop.owner = add_owner(name=words.OWNER[1], phrase=words.OWNER[2])
    shop.assistant = add_assistant(name=words.ASSISTANT[1], phrase=words.ASSISTANT[2], who=shop.owner)
    change_shop(shop=the_shop(), who=shop.owner, **words.SHOP, currency="EUR", demo_seed=seed)


def _identity(shop: Workshop, family: str, kind: str, number: int) -> dict[str, object]:
    dice = shop.dice
    lengths = {"violin": 355.0, "viola": 408.0, "cello": 752.0}
    species = words.SPECIES["bow" if kind == "bow" else family]
    found: dict[str, object] = {
        "family": family,
        "kind": kind,
        "nickname": words.NICKNAMES[number % len(words.NICKNAMES)],
        "label": words.LABELS[number % len(words.LABELS)],
        "school_stated": dice.choice(words.SCHOOLS),
        "school_ours": dice.choice(words.SCHOOLS),
        "age_stated": dice.choice(words.AGES),
        "age_ours": dice.choice(words.AGES),
        "treat_as": dice.choice(("working", "working", "working", "between", "conserve")),
        "materials": [{"part": p, "species": s} for p, s in species],
        "last_service_by": dice.choice(words.OTHER_SHOPS),
        "declared_value": dice.choice((1800, 4500, 9000, 16000, 42000)),
    }
    if kind == "instrument":
        length = lengths[family] + dice.choice((-4.0, -2.0, 0.0, 1.0, 3.0))
        found |= {
            "length_mm": length,
            "upper_mm": round(length * 0.47, 1),
            "lower_mm": round(length * 0.582, 1),
            "back": dice.choice(("one", "two", "two")),
        }
    return found


def _things(shop: Workshop) -> None:
    number = 0
    for first, name, town, family in words.PLAYERS:
        player = add_player(
            who=shop.owner,
            first_name=first,
            name=name,
            town=town,
            phone=f"0000 {shop.dice.randrange(1000, 9999)}",
            email=f"{first.lower()}@example.org",
            address=f"{shop.dice.choice(words.STREETS)} {shop.dice.randrange(1, 40)}\n{town}",
        )
        own = []
        for kind in ("instrument", "bow"):
            about = _identity(shop, family, kind, number)
            own.append(add_object(who=shop.owner, owner=player, **about))
            number += 1
        shop.players.append((player, own))
    school = add_player(who=shop.owner, kind="school", **words.SCHOOL)
    fleet = []
    for place in range(12):
        family = ("violin", "violin", "viola", "cello")[place % 4]
        about = _identity(shop, family, "instrument", number) | {
            "asset": f"L{place + 1:02d}",
            "nickname": "",
            "label": "",
            "size": ("4/4", "3/4", "1/2")[place % 3],
            "treat_as": "working",
        }
        fleet.append(add_object(who=shop.owner, owner=school, **about))
        number += 1
    shop.school = (school, fleet)


def _visit(shop: Workshop, player: Player, things: list[Object], at: datetime) -> Visit:
    dice = shop.dice
    with clock.held(at):
        visit = book_visit(
            player=player,
            objects=things,
            who=shop.owner,
            comes_at=at,
            complaint=dice.choice(words.COMPLAINTS),
            contents=list(dice.choice(words.CONTENTS)),
            concert_at=at + timedelta(days=dice.randrange(6, 30), hours=9),
            promise_at=(at + timedelta(days=dice.randrange(2, 6))).replace(hour=17, minute=0),
            approval_limit=dice.choice((80, 150, 250)),
            question=dice.choice(words.QUESTIONS),
        )
        return receive_visit(visit=visit, who=shop.owner, place=dice.choice(("rack 1", "rack 2", "rack 3")))


def _card(shop: Workshop, row: VisitObject, moment: str, at: datetime, high: float) -> None:
    """One card of an object with all its figures; the first card of an instrument is a full one."""
    thing = row.object
    first = not thing.cards.exists()
    kind = "rehair" if thing.is_bow else "full" if first else "usual"
    with clock.held(at):
        who = shop.hands()
        values = {}
        if not thing.is_bow:
            values = {"strings": strings_of(thing.family), "strings_name": shop.dice.choice(NAMES)}
        card = begin_card(row=row, moment=moment, kind=kind, who=who, **values)
        day = at.timetuple().tm_yday
        for asked, text in figures_for(kind, thing, shop.dice, day, high):
            take_reading(card=card, key=asked.key, place=asked.place, text=text, who=who)


def _years(shop: Workshop) -> None:
    """Every player about once a year, the school every summer."""
    moments: list[tuple[datetime, Player, list[Object]]] = []
    for place, (player, own) in enumerate(shop.players):
        day = shop.today - timedelta(days=365 * YEARS - 11 * place)
        while day < shop.today - timedelta(days=20):
            moments.append((day.replace(hour=10, minute=0), player, own))
            day += timedelta(days=shop.dice.randrange(300, 420))
    school, fleet = shop.school
    for year in range(YEARS):
        day = (shop.today - timedelta(days=365 * year + 130)).replace(hour=9, minute=0)
        moments.append((day, school, fleet[year::2][:5]))
    for at, player, things in sorted(moments, key=lambda m: (m[0], str(m[1].pk))):
        visit = _visit(shop, player, things, at)
        for row in visit.rows.select_related("object"):
            _card(shop, row, "found", at + timedelta(hours=1), shop.dice.uniform(0.2, 0.7))
            _card(shop, row, "left", at + timedelta(days=3, hours=4), 0.0)
        done_visit(shop, visit, at)
        with clock.held(at + timedelta(days=5, hours=6)):
            close_visit(visit=visit, who=shop.owner)


def _today(shop: Workshop) -> None:
    """Two visits are open today, and one player is expected."""
    visits = []
    for place in range(OPEN_TODAY):
        player, own = shop.players[place]
        arrived = shop.today - timedelta(days=2 - place, hours=1)
        visit = _visit(shop, player, own, arrived)
        rows = list(visit.rows.select_related("visit", "object"))
        if place == 0:
            _card(shop, rows[0], "found", arrived + timedelta(minutes=30), 0.5)
        with clock.held(arrived + timedelta(hours=1)):
            move_object(row=rows[0], to="bench" if place == 0 else "clamped", who=shop.owner, place="bench")
            move_object(row=rows[1], to="hanging", who=shop.owner, place="line over the bench")
            if place == 1:
                lend(
                    visit=visit,
                    what="the shop's second violin, in its blue case",
                    who=shop.owner,
                    back_at=arrived + timedelta(days=5),
                )
        visits.append(visit)
    yesterday = (shop.today - timedelta(days=1)).replace(hour=10, minute=0)
    open_visit(shop, visits[1], "retouch", yesterday)
    bridge_work(shop, visits[1])
    open_visit(shop, visits[0], "board", shop.today - timedelta(minutes=95), hand=True)
    player, own = shop.players[4]
    with clock.held(shop.today - timedelta(days=1)):
        book_visit(
            player=player,
            objects=own[:1],
            who=shop.assistant,
            comes_at=shop.today.replace(hour=15, minute=30),
            complaint=words.COMPLAINTS[4],
        )


def _money(shop: Workshop) -> None:
    from purfling.shop.demo.money import add_money

    visit = Visit.objects.filter(closed_at__isnull=True, arrived_at__isnull=False).order_by("number").first()
    if visit is not None:
        with clock.held(shop.today - timedelta(hours=2)):
            add_money(owner=shop.owner, visit=visit, new_id=ids.from_seed)
