"""Trade words of the book in the user's language: one place for each choice's word."""

from django.utils.translation import gettext, pgettext_lazy
from django.utils.translation import gettext_lazy as _

from purfling.shop.bow_words import BOW_CHOICES

FAMILY = {"violin": _("violin"), "viola": _("viola"), "cello": _("cello")}
BOW = {"violin": _("violin bow"), "viola": _("viola bow"), "cello": _("cello bow")}
KIND = {"instrument": _("instrument"), "bow": _("bow")}
PLAYER_KIND = {"person": _("person"), "school": _("school")}
TREAT_AS = {"working": _("working"), "between": _("between"), "conserve": _("conserve")}
BACK = {"one": _("one piece"), "two": _("two pieces")}
ROLE = {"owner": _("owner"), "assistant": _("assistant")}
MOMENT = {"found": _("as found"), "wished": _("wished"), "left": _("as left")}
CARD = {
    "rehair": pgettext_lazy("card", "rehair"),
    "usual": pgettext_lazy("card", "usual service"),
    "full": pgettext_lazy("card", "full"),
}
TENSION = {"strung": _("strung"), "slack": _("slack")}
WHEREABOUTS = {
    "booked": _("booked"),
    "rack": _("in the rack"),
    "bench": _("on the bench"),
    "hanging": _("hanging"),
    "clamped": _("clamped"),
    "settling": _("settling"),
    "ready": _("ready"),
    "lent_out": _("lent out"),
    "gone_home": _("gone home"),
}
DATUM = {
    "underside": _("underside of the string"),
    "centre": _("centre of the string"),
    "upright": _("upright"),
    "wedge": _("by wedge"),
    "centres": _("between centres"),
    "gaps": _("equal gaps"),
    "frog_front": _("from the frog's front"),
    "stick_end": _("from the stick's end"),
    "button": _("from the button"),
    "ferrule": _("from the ferrule"),
    "tight": _("hair at playing tension"),
    "slack": _("hair slack"),
}
DATUM_OF = {
    "end.datum": _("Clearance at the end: from"),
    "end.direction": _("Clearance at the end: taken"),
    "nut.datum": _("Clearance at the nut: from"),
    "nut.spacing": _("Spacing at the nut"),
    "bridge.spacing": _("Spacing at the bridge"),
    "bow.datum": _("Balance"),
    "bow.hair": _("Balance with"),
}
WORK_STATE = {
    "listed": _("to do"),
    "asked": _("needs a yes"),
    "hand": _("in hand"),
    "down": _("laid down"),
    "waiting": _("waiting"),
    "done": _("done"),
    "struck": _("struck"),
}
WAIT = {
    "glue": _("glue sets"),
    "varnish": _("varnish hardens"),
    "dry": _("dries"),
    "settle": _("settles"),
    "hair": _("hair dries"),
}
PART = {
    "string": _("string"),
    "peg": _("peg"),
    "bridge": _("bridge"),
    "old_bridge": _("old bridge"),
    "tailpiece": _("tailpiece"),
    "tailgut": _("tailgut"),
    "fine_tuner": _("fine tuner"),
    "chinrest": _("chinrest"),
    "nut": _("nut"),
    "post": _("post"),
    "end_pin": _("end pin"),
    "mute": _("mute"),
    "screw": _("screw"),
    "frog": _("frog"),
    "slide": _("slide"),
    "ferrule": _("ferrule"),
    "wedge": _("wedge"),
    "other": _("other part"),
}
WENT = {
    "tray": _("in the tray"),
    "back": _("put back"),
    "envelope": _("kept in an envelope"),
    "named": _("named"),
}
VERDICT = {"better": _("better"), "same": _("the same"), "worse": _("worse"), "kept": _("kept")}
SEASON = {"winter": _("winter"), "spring": _("spring"), "summer": _("summer"), "autumn": _("autumn")}
TAX = {
    "standard": _("standard rate"),
    "reduced": _("reduced rate"),
    "reduced2": _("second reduced rate"),
    "zero": _("zero rate"),
    "exempt": _("exempt"),
    "small_business": _("small business"),
    "reverse_charge": _("the buyer owes the tax"),
    "outside": _("outside the tax"),
}
PRICE_BASIS = {"fixed": _("fixed price"), "hourly": _("by the hour"), "material": _("material")}
PRICE_KIND = {"any": _("any object"), **FAMILY, "bow": _("bow")}
ANSWERED_HOW = {
    "mouth": _("by mouth"),
    "phone": _("on the telephone"),
    "mail": _("by mail"),
    "link": _("by the private link"),
}
ISSUED = {
    "invoice": _("invoice"),
    "deposit": _("deposit invoice"),
    "credit_note": _("credit note"),
}
BOARD_LINE = {"low": _("lowest string"), "centre": _("centre line"), "high": _("highest string")}
CHOICES = {
    **BOW_CHOICES,
    "board_line": BOARD_LINE,
    "datum": DATUM,
    "datum_of": DATUM_OF,
    "work_state": WORK_STATE,
    "wait": WAIT,
    "part": PART,
    "went": WENT,
    "verdict": VERDICT,
    "season": SEASON,
    "answered": ANSWERED_HOW,
    "issued": ISSUED,
    "tax": TAX,
    "price_basis": PRICE_BASIS,
    "price_kind": PRICE_KIND,
    "family": FAMILY,
    "kind": {**KIND, **PLAYER_KIND},
    "treat_as": TREAT_AS,
    "back": BACK,
    "role": ROLE,
    "moment": MOMENT,
    "card": CARD,
    "tension": TENSION,
    "whereabouts": WHEREABOUTS,
}


def object_kind(thing) -> str:
    """ "violin", "viola bow" and so on."""
    return str((BOW if thing.is_bow else FAMILY)[thing.family])


def object_words(thing) -> str:
    """An object in one line: what it is, its size, what it is called or what its label says."""
    parts = [object_kind(thing)]
    if thing.size and thing.size != "4/4":
        parts.append(thing.size)
    name = thing.nickname or (thing.label.splitlines()[0] if thing.label else "") or thing.school_ours
    if not name and thing.asset:
        name = gettext("number %(asset)s") % {"asset": thing.asset}
    return f"{' '.join(parts)}, {name[:60]}" if name else " ".join(parts)
