"""Every command: name -> (module under cli/commands, one line of help). One line each."""

COMMANDS: dict[str, tuple[str, str]] = {
    "setup": ("setup", "the set-up of a card: notches, bridge, angles, loads"),
    "service": ("service", "a whole service: set-up card, bridge template, service report"),
    "lapping": ("lapping", "a lapping: turns, wire to cut, weight, underlay, shift of the balance"),
    "bow": ("bow", "a bow: weight and balance, what a change does, hair, stick, camber"),
    "change": (
        "change",
        "wood off the board, another clearance, projection or set: what goes up, what goes down",
    ),
    "margins": ("margins", "room against swing, open and stopped, bowed and plucked; how low the nut can go"),
    "dressing": ("dressing", "dressing a fingerboard: how much must come off, where, and what follows"),
    "bridge": ("bridge", "the bridge: mass, balance, what each cut does, lean"),
    "nut": ("nut", "groove places by equal centres and equal gaps, depths, edge margins, 1:1 strip"),
    "strings": (
        "strings",
        "tensions and loads of a set and of a new one against it, afterlength, tail loop, gaps",
    ),
    "post": (
        "post",
        "length and ends of the sound post when it moves, season, map of tries with the way back",
    ),
    "pegs": ("pegs", "how far each peg goes in by wear, what stands out, when to bush"),
    "bow-room": ("bow_room", "string planes, middle strings, the waist's edges, the player's kept curve"),
    "season": (
        "season",
        "is it the season or has the neck dropped: two cards, what is left over, the wood's moisture",
    ),
    "plan": ("plan", "the bench plan: who does what when, while varnish dries and glue sets"),
}

# Commands that touch the workshop's book live in the shop and reach us by entry points, so that the program
# works without it: name -> one line of help.
BOOK_GROUP = "purfling.commands"
BOOK_COMMANDS: dict[str, str] = {
    "open": "open the workshop's book in the browser",
    "visit": "write a visit of the book as a slip, or read one",
}
