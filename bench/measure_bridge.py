"""The bridge: one graded mesh against the bare eigenvalue solve of its matrices, ten cuts, a kept answer."""

import numpy as np

from bench.report import Report, best_of


def measure(report: Report) -> None:
    """Measure; both sides of each ratio run in this one process."""
    from scipy.sparse.linalg import eigsh

    from purfling.craft.bridge.cuts import effects
    from purfling.craft.bridge.mesh import meshed
    from purfling.craft.bridge.modes import MODES, Modes, Plate, plate, vibrated
    from purfling.craft.bridge.shaving import PLACES, Cut
    from purfling.reckonings.bridge.cache import answer_of, forget
    from purfling.slips.bridge import bridge_of
    from purfling.slips.reader import check_slip

    asked = bridge_of(check_slip({})).question

    def whole() -> tuple[Plate, Modes]:
        mesh = meshed(asked.rings, asked.boundary_mm, asked.inside_mm)
        bridge = plate(mesh, asked.wood, asked.thickness, asked.feet)
        return bridge, vibrated(bridge)

    bridge, modes = whole()
    free = bridge.free
    k, m = bridge.k[free][:, free].tocsc(), bridge.m[free][:, free].tocsc()
    start = np.ones(len(free))
    ours = best_of(5, whole)
    bare = best_of(5, lambda: eigsh(k, MODES, m, sigma=0.0, v0=start))
    report.add("bridge: unknowns of the graded mesh", float(len(free)), None, "")
    report.add("bridge: mesh, matrices and modes", ours, 1.0, "s")
    report.add("bridge: the same over the bare eigsh", ours / bare, 2.0, "x")
    depths = (0.5, 0.25, 0.5, 0.5, 0.3, 0.5)
    ten = [Cut(place, depth, place) for place, depth in zip(PLACES, depths, strict=True)]
    ten += [Cut(place, 0.6 * depth, f"{place} again") for place, depth in zip(PLACES, depths, strict=True)][
        :4
    ]
    heard: list[str] = []
    cuts = best_of(
        3,
        lambda: effects(bridge, modes, asked.rings, tuple(ten), 16.6, lambda name, *_: heard.append(name)),
    )
    report.add("bridge: ten cuts with progress", cuts, 4.0, "s")
    report.add("bridge: cuts told to the progress, of thirty", float(30 - len(heard)), 0.0, "missing")
    forget()
    first = best_of(1, lambda: answer_of(asked))
    again = best_of(3, lambda: answer_of(bridge_of(check_slip({})).question))
    report.add("bridge: first answer", first, None, "s")
    report.add("bridge: kept answer over the first", again / first, 0.1, "x")
