"""What stops an operation: order of work, waits not looked at, soft varnish, the object's class, whose
hands."""

from collections.abc import Mapping, Sequence

from purfling.craft.refusals import Refusal
from purfling.shop.models import Maker, Object, Work
from purfling.shop.queries.catalogue import Offered, language, operation_name
from purfling.shop.words import TREAT_AS, object_kind

S = Work.State
MOST_WORD = 300


def name_of(offers: Mapping[str, Offered], code: str) -> str:
    """The operation's name in the maker's language."""
    return offers[code].name if code in offers else operation_name(code)


def names_of(offers: Mapping[str, Offered], works: Sequence[Work], most: int = 5) -> str:
    """Names of some operations in one line; of many the first few and how many more."""
    names = list(dict.fromkeys(name_of(offers, w.code) for w in works))
    more = f" (+{len(names) - most})" if len(names) > most else ""
    return "; ".join(names[:most]) + more


def owners_name() -> str:
    """Whom to ask."""
    return Maker.objects.filter(role=Maker.Role.OWNER).values_list("name", flat=True).first() or "?"


def class_refusal(thing: Object, offered: Offered) -> Refusal | None:
    """The refusal that the object's class asks for, or None."""
    row = offered.row
    if row is None:
        return None
    kind = str(TREAT_AS[thing.treat_as])
    if thing.treat_as in row.breaks:
        return Refusal("work.breaks_class", name=offered.name, kind=kind)
    if thing.treat_as in row.asks:
        return Refusal("work.asks_class", name=offered.name, kind=kind)
    return None


def kind_refusal(thing: Object, offers: Mapping[str, Offered], code: str) -> Refusal | None:
    """An operation that the catalogue has not, or not for this object."""
    if code not in offers:
        return Refusal("work.unknown", name=code[:40])
    if not offers[code].is_for(thing.kind, thing.family):
        return Refusal("work.not_for", name=offers[code].name, object=object_kind(thing))
    return None


def blocked(work: Work, others: Sequence[Work], offers: Mapping[str, Offered]) -> Refusal | None:
    """Why the hands cannot begin now, or None.

    Parameters
    ----------
    work : the operation; others : everything on the same object's list.
    """
    offered = offers.get(work.code)
    if offered is None:
        return None
    wanted = [w for w in others if w.pk != work.pk and w.is_open and w.code in offered.after]
    named = name_of(offers, work.code)
    hands = [w for w in wanted if w.state != S.WAITING]
    if hands:
        return Refusal("work.not_before", name=named, others=names_of(offers, hands))
    if wanted:
        return Refusal("work.not_dry", name=named, others=names_of(offers, wanted))
    if offered.row is not None and offered.row.soft:
        soft = [w for w in others if w.pk != work.pk and w.state == S.WAITING and w.wait_kind == "varnish"]
        if soft:
            return Refusal("work.soft_varnish", name=named, others=names_of(offers, soft))
    return None


def hands_refusal(offered: Offered | None, who: Maker) -> Refusal | None:
    """Whether the operation is kept for the owner's hands."""
    own = offered.own if offered else None
    if own is None or not own.owner_only or who.role == Maker.Role.OWNER:
        return None
    return Refusal("work.owners_hands", name=offered.name, reason=own.owner_only_word or owners_name())


def overruled(refusal: Refusal | None, word: str, who: Maker) -> str:
    """The owner's word that lifts a refusal; empty where nothing has to be lifted.

    Raises
    ------
    Refusal
        The given one where no word is given; only the owner overrules.
    """
    if refusal is None:
        return ""
    word = " ".join(word.split())[:MOST_WORD]
    if not word:
        raise refusal
    if who.role != Maker.Role.OWNER:
        raise Refusal("work.owners_word", owner=owners_name())
    return word


def wait_words(minutes: float) -> str:
    """A wait as the bench says it: "45 min", "6 h", "2 d"."""
    if minutes < 90:
        return f"{minutes:.0f} min"
    if minutes < 48 * 60:
        hours = minutes / 60
        text = f"{hours:.0f}" if abs(hours - round(hours)) < 0.05 else f"{hours:.1f}"
        return f"{text.replace('.', ',') if language() == 'de' else text} h"
    return f"{minutes / 1440:.0f} d"
