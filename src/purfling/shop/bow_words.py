"""Trade words of a bow's survey: parts, materials, states, what is kept."""

from django.utils.translation import gettext_lazy as _

BOW_PART = {
    "stick": _("stick"),
    "head": _("head"),
    "tip_plate": _("tip plate"),
    "frog": _("frog"),
    "slide": _("slide"),
    "ferrule": _("ferrule"),
    "pearl": _("pearl"),
    "button": _("button"),
    "screw": _("screw"),
    "eyelet": _("eyelet"),
    "lapping": _("lapping"),
    "leather": _("leather"),
}
# The first ten are the frog materials of bow.toml; a test holds the two together.
BOW_MATERIAL = {
    "ebony": _("ebony"),
    "ivory": _("ivory"),
    "tortoiseshell": _("tortoiseshell"),
    "horn": _("horn"),
    "casein": _("casein"),
    "old_plastic": _("old plastic"),
    "celluloid": _("celluloid"),
    "boxwood": _("boxwood"),
    "snakewood": _("snakewood"),
    "unknown": _("material unknown"),
    "pernambuco": _("pernambuco"),
    "brazilwood": _("brazilwood"),
    "rosewood": _("rosewood"),
    "carbon": _("carbon fibre"),
    "nacre": _("nacre"),
    "bone": _("bone"),
    "mammoth": _("mammoth"),
    "silver": _("silver"),
    "gold": _("gold"),
    "nickel_silver": _("nickel silver"),
    "brass": _("brass"),
    "steel": _("steel"),
    "leather": _("leather"),
    "lizard": _("lizard skin"),
    "silk": _("silk"),
    "tinsel": _("tinsel"),
    "whalebone": _("whalebone"),
    "imitation": _("strip that imitates whalebone"),
    "other": _("other material"),
}
BOW_STATE = {
    "sound": _("sound"),
    "worn": _("worn"),
    "loose": _("loose"),
    "stuck": _("stuck"),
    "cracked": _("cracked"),
    "broken": _("broken"),
    "mended": _("mended before"),
    "replaced": _("replaced before"),
    "missing": _("missing"),
}
WEDGE_PLACE = {"head": _("head"), "frog": _("frog"), "ferrule": _("ferrule: spread wedge")}
WEDGE_WENT = {"kept": _("kept"), "new": _("made new")}
BOW_CHOICES = {
    "bow_part": BOW_PART,
    "bow_material": BOW_MATERIAL,
    "bow_state": BOW_STATE,
    "wedge_place": WEDGE_PLACE,
    "wedge_went": WEDGE_WENT,
}
# Numbers of a bow's reckoning that are no readings of a card.
NUMBER = {
    "bow.frog_length_mm": _("stick's end to the frog's front"),
    "bow.button_length_mm": _("button"),
    "bow.stick_length_mm": _("stick, without the button"),
    "part.mass_g": _("old lapping, weighed"),
    "part.at_mm": _("its middle from the stick's end"),
    "lapping.wire_mm": _("wire"),
    "lapping.length_mm": _("length of the lapping"),
    "lapping.from_mm": _("begins, from the stick's end"),
    "lapping.handle_mm": _("handle under it"),
    "lapping.handle_end_mm": _("handle at its other end"),
    "hair.length_mm": _("length of the hair"),
    "hair.width_mm": _("width of the ribbon"),
    "hair.humidity_percent": _("humidity of the room"),
    "hair.driest_percent": _("driest days"),
    "hair.dampest_percent": _("dampest days"),
    "hair.frog_travel_mm": _("travel of the frog"),
}
