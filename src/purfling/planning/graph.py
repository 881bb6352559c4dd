"""Which tasks of a visit hang together, and in which orders they may be placed.

Small sets are whole numbers used as bit sets (bit i: task i of the visit).
"""

from collections.abc import Iterable


def closure(count: int, arcs: Iterable[tuple[int, int]]) -> list[int]:
    """reach[i]: bit set of what comes after i, directly or not (i itself only where there is a cycle)."""
    reach = [0] * count
    for a, b in arcs:
        reach[a] |= 1 << b
    for middle in range(count):
        bit, beyond = 1 << middle, reach[middle]
        for i in range(count):
            if reach[i] & bit:
                reach[i] |= beyond
    return reach


def members(bits: int) -> list[int]:
    """The positions of the bits that are set."""
    found = []
    while bits:
        low = bits & -bits
        found.append(low.bit_length() - 1)
        bits ^= low
    return found


def clusters(count: int, arcs: list[tuple[int, int]], ties: Iterable[int]) -> list[int]:
    """Groups of tasks that must be placed together, each a bit set, in a workable order.

    Parameters
    ----------
    count : int
        How many tasks.
    arcs : list of (int, int)
        (a, b): b comes after a.
    ties : iterable of int
        Bit sets of tasks that belong together.

    Returns
    -------
    list of int
        A partition in topological order; a group also holds what lies between its tasks.
    """
    group = [1 << i for i in range(count)]

    def join(bits: int) -> None:
        whole = bits
        for i in members(bits):
            whole |= group[i]
        for i in members(whole):
            group[i] = whole

    for bits in ties:
        join(bits)
    while True:
        names = sorted(set(group), key=lambda bits: bits & -bits)
        if len(names) == count:
            break
        place = {bits: k for k, bits in enumerate(names)}
        between = [(place[group[a]], place[group[b]]) for a, b in arcs if group[a] != group[b]]
        reach = closure(len(names), between)
        looped = [k for k in range(len(names)) if reach[k] >> k & 1]
        if not looped:
            break
        first = looped[0]
        ring = [k for k in looped if reach[first] >> k & 1 and reach[k] >> first & 1]
        together = 0
        for k in ring:
            together |= names[k]
        join(together)
    names = sorted(set(group), key=lambda bits: bits & -bits)
    place = {bits: k for k, bits in enumerate(names)}
    between = [(place[group[a]], place[group[b]]) for a, b in arcs if group[a] != group[b]]
    return [names[k] for k in topological(len(names), between)]


def topological(count: int, arcs: list[tuple[int, int]]) -> list[int]:
    """An order in which every a of (a, b) stands before b, lowest number first; arcs of a cycle give way."""
    waiting = [0] * count
    after: list[list[int]] = [[] for _ in range(count)]
    for a, b in arcs:
        after[a].append(b)
        waiting[b] += 1
    found: list[int] = []
    left = set(range(count))
    while left:
        ready = min((i for i in left if waiting[i] == 0), default=-1)
        if ready < 0:
            ready = min(left, key=lambda i: (waiting[i], i))
        left.discard(ready)
        found.append(ready)
        for b in after[ready]:
            waiting[b] -= 1
    return found
