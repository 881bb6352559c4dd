"""The map of tries, seen from above at ten times its size."""

from purfling.drawing.drawings.post_map import Spot, post_map
from purfling.drawing.svg import to_svg
from purfling.reckonings.post.compute import PostCase
from purfling.reckonings.post.sentences import sentences
from purfling.words import say


def files(case: PostCase, language: str = "en") -> dict[str, bytes]:
    """File name -> bytes for ``-o DIR``; no map where no place was read."""
    spots: list[Spot] = []
    for n, one in enumerate(case.tries, 1):
        if one.place.behind_mm is not None and one.place.inside_mm is not None:
            word = "" if one.verdict is None else say(f"arithmetic.verdict_{one.verdict}", language)
            spots.append(Spot(f"{n} {word}".strip(), one.place.behind_mm, one.place.inside_mm, "tried"))
    here = case.place
    if here.behind_mm is not None and here.inside_mm is not None:
        spots.append(Spot(say("arithmetic.stands", language), here.behind_mm, here.inside_mm, "now"))
        if case.move is not None:
            behind, inside = here.behind_mm + case.back_mm, here.inside_mm - case.outward_mm
            spots.append(Spot(say("arithmetic.shall_stand", language), behind, inside, "wished"))
    if not spots:
        return {}
    drawing = post_map(spots, case.diameter_mm or 6.0, sentences(case, language), language)
    return {"post-map.svg": to_svg(drawing).encode("utf-8")}
