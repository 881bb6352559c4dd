"""Names and words of the invented shop: nobody and nothing of these exists."""

SHOP = {"name": "Werkstatt am Mühlgraben", "town": "Hollerau", "address": "Mühlgraben 7\nHollerau"}
OWNER = ("owner", "Ilse Tannhardt", "spruce maple willow")
ASSISTANT = ("assistant", "Joon Wiesel", "hide glue and patience")

# first name, name, town, family, size of what they play, plays a bow of ours as well
PLAYERS = (
    ("Merle", "Aschenbrand", "Hollerau", "violin"),
    ("Tobin", "Feldlerch", "Hollerau", "violin"),
    ("Ansa", "Quellmoor", "Niederlune", "viola"),
    ("Corvin", "Steinsaat", "Hollerau", "cello"),
    ("Ylva", "Birkenrode", "Oberlune", "violin"),
    ("Matteo", "Zirnbach", "Niederlune", "violin"),
    ("Hedda", "Rabenstiel", "Hollerau", "violin"),
    ("Lennard", "Ohmsiek", "Wendelfurt", "viola"),
    ("Suvi", "Kieselgrund", "Wendelfurt", "violin"),
    ("Bastian", "Hollerwisch", "Hollerau", "cello"),
    ("Edda", "Flachsmann", "Oberlune", "violin"),
    ("Rurik", "Tannenlob", "Hollerau", "violin"),
    ("Noor", "Silberdistel", "Niederlune", "viola"),
    ("Wim", "Haferkamm", "Wendelfurt", "violin"),
)
SCHOOL = {"name": "Musikschule Lunetal", "town": "Niederlune", "phone": "0000 4711"}
STREETS = ("Am Anger", "Erlenweg", "Kirchstieg", "Zur Furt", "Lindenhof")
NICKNAMES = (
    "the honey one",
    "Aunt Berta's",
    "the dark one",
    "",
    "the narrow one",
    "the travelling one",
    "",
    "the old lady",
    "",
    "the loud one",
)
LABELS = (
    "B. Ohlenbusch, Wendelfurt 1921",
    "",
    "Repaired in Hollerau, 1954",
    "Werkstatt Lunetal No. 88",
    "",
    "Ottokar Reh fecit, Oberlune 1987",
)
SCHOOLS = ("trade work, central hills", "Lune valley", "northern trade", "own pupil's work", "not known")
AGES = ("about 1900", "about 1925", "1954", "1987", "about 1870")
COMPLAINTS = (
    "The low string buzzes in high positions since the heating was on.",
    "It feels stiff under the hand, and the A speaks late.",
    "The edge near the neck hand is rough; the yearly look, please.",
    "The bow will not slacken any more.",
    "A peg slips in the evening, never in the morning.",
    "It sounded freer before the tour.",
    "Strings are two rehearsals from breaking, and there is a crack or a scratch by the chin.",
)
QUESTIONS = (
    "Did the softer A stay, or back to the old one?",
    "May the chinrest be two millimetres lower?",
    "",
    "",
    "Was the hair long enough in the dry hall?",
)
CONTENTS = (
    ("instrument", "two bows", "shoulder rest", "rosin", "mute"),
    ("instrument", "one bow", "cloth"),
    ("one bow in a tube",),
    ("instrument", "bow", "humidity meter", "spare strings in an envelope"),
)
SPECIES = {
    "violin": (("back", "Acer pseudoplatanus"), ("belly", "Picea abies"), ("board", "Diospyros crassiflora")),
    "viola": (("back", "Acer pseudoplatanus"), ("belly", "Picea abies"), ("board", "Diospyros crassiflora")),
    "cello": (("back", "Populus nigra"), ("belly", "Picea abies"), ("board", "Diospyros crassiflora")),
    "bow": (("stick", "Paubrasilia echinata"), ("frog", "Diospyros crassiflora"), ("tip plate", "silver")),
}
OTHER_SHOPS = ("", "", "another shop, 2019", "own hands of the player's uncle")
