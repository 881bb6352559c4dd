"""Every table that some command of ours takes: one module per subject, one line of registry each.

A table of one name has one definition; two subjects that need keys of the same table extend it here
(``bridge`` of the set-up and of the bench arithmetic is one table).
"""

from functools import cache

from purfling.slips.fields import Table
from purfling.slips.known import arithmetic, bow, bridge, card, dressing, service, setup, visit

SUBJECTS = (
    setup,
    arithmetic,
    card,
    service,
    bow,
    dressing,
    bridge,
    visit,
)


@cache
def known_tables() -> dict[str, Table]:
    """Every known table by name; the keys of a name defined by several subjects are joined."""
    found: dict[str, Table] = {}
    for subject in SUBJECTS:
        for table in subject.TABLES:
            if table.name not in found:
                found[table.name] = table
                continue
            first = found[table.name]
            extra = tuple(f for f in table.fields if f.key not in first.keys)
            found[table.name] = Table(
                table.name, first.fields + extra, first.many or table.many, first.wish or table.wish
            )
    return found
