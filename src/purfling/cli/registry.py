"""Every command: name -> (module under cli/commands, one line of help). One line each."""

COMMANDS: dict[str, tuple[str, str]] = {
    "setup": ("setup", "the set-up of a card: notches, bridge, angles, loads"),
    "lapping": ("lapping", "a lapping: turns, wire to cut, weight, underlay, shift of the balance"),
    "change": (
        "change",
        "wood off the board, another clearance, projection or set: what goes up, what goes down",
    ),
}
