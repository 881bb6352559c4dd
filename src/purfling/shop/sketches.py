"""Small drawings of what is measured, with the two points marked: our own, not to scale."""

from django.utils.safestring import SafeString, mark_safe

# Side view: belly edge at y 112, arch at the bridge y 96, nut at x 22, board's end at x 172, bridge at x 208.
_SIDE = (
    '<path d="M112 112H318M112 112C150 112 170 96 208 96S280 112 318 112M112 112V140H318V112" class="wood"/>'
    '<path d="M22 82L172 62V67L22 88ZM22 88V95L88 102C104 104 106 118 112 136M112 112V76" class="wood"/>'
    '<path d="M22 79V82M22 95C10 98 2 90 4 80C5 74 12 74 13 79C13 83 8 84 8 80" class="wood"/>'
    '<path d="M202 96L205 46H211L214 96Z" class="wood"/><path d="M22 78L208 44L266 84" class="string"/>'
    '<path d="M262 82L300 104L318 106" class="wood"/><path d="M318 106V112" class="wood"/>'
    '<path d="M217 98V138" class="wood faint"/>'
)
# Cross view at the bridge: crown, feet, strings; board's end below the strings.
_CROSS = (
    '<path d="M40 140C110 108 210 108 280 140" class="wood"/>'
    '<path d="M106 118L118 116L126 60C140 40 180 40 194 60L202 116L214 118L204 124H180V110H140V124H112Z'
    '" class="wood"/>'
    '<circle cx="128" cy="52" r="2.5" class="dot"/><circle cx="148" cy="43" r="2.5" class="dot"/>'
    '<circle cx="172" cy="43" r="2.5" class="dot"/><circle cx="192" cy="52" r="2.5" class="dot"/>'
    '<path d="M118 92C136 74 184 74 202 92" class="wood faint"/>'
)
_BOW = (
    '<path d="M14 52C90 84 220 84 300 66M14 52L10 74L16 78" class="wood"/>'
    '<path d="M16 78L262 92" class="string"/>'
    '<path d="M254 70L258 96H286L288 66M300 62H316V72H300Z" class="wood"/>'
)
_ROOM = (
    '<path d="M60 140H260M90 140V50H230V140M90 50L160 14L230 50" class="wood"/>'
    '<path d="M160 66V108M160 108a9 9 0 1 0 .1 0" class="string"/>'
)
_PEG = (
    '<path d="M60 30H100V140H60ZM220 30H260V140H220ZM20 70C34 58 48 62 56 74H300V94H56C48 106 34 110 20 98Z'
    '" class="wood"/>'
)

# key -> view and the two points
_POINTS: dict[str, tuple[str, float, float, float, float]] = {
    "neck.string_length_mm": (_SIDE, 22, 79, 208, 45),
    "body.stop_mm": (_SIDE, 112, 120, 208, 120),
    "neck.stop_mm": (_SIDE, 22, 100, 112, 100),
    "neck.overstand_mm": (_SIDE, 112, 112, 112, 92),
    "body.arch_mm": (_SIDE, 208, 112, 208, 96),
    "neck.projection_mm": (_SIDE, 208, 96, 208, 57),
    "board.length_mm": (_SIDE, 22, 82, 172, 62),
    "board.scoop_low_mm": (_SIDE, 97, 72, 97, 77),
    "board.scoop_high_mm": (_SIDE, 97, 72, 97, 77),
    "board.edge_at_root_mm": (_SIDE, 112, 70, 112, 82),
    "end.clearance_mm": (_SIDE, 172, 50, 172, 62),
    "nut.clearance_mm": (_SIDE, 27, 77, 27, 83),
    "bridge.height_centre_mm": (_SIDE, 208, 96, 208, 46),
    "bridge.lean_deg": (_SIDE, 202, 96, 205, 46),
    "saddle.height_mm": (_SIDE, 318, 112, 318, 104),
    "saddle.distance_mm": (_SIDE, 208, 124, 318, 124),
    "tail.afterlength_mm": (_SIDE, 208, 44, 262, 81),
    "tail.gap_mm": (_SIDE, 300, 104, 318, 106),
    "post.behind_mm": (_SIDE, 214, 98, 218, 98),
    "nut.spacing_mm": (_CROSS, 128, 36, 192, 36),
    "bridge.spacing_mm": (_CROSS, 128, 36, 192, 36),
    "board.radius_nut_mm": (_CROSS, 118, 92, 202, 92),
    "board.radius_end_mm": (_CROSS, 118, 92, 202, 92),
    "board.width_nut_mm": (_CROSS, 118, 92, 202, 92),
    "board.width_end_mm": (_CROSS, 118, 92, 202, 92),
    "bridge.height_low_mm": (_CROSS, 128, 116, 128, 56),
    "bridge.height_high_mm": (_CROSS, 192, 116, 192, 56),
    "bridge.foot_span_mm": (_CROSS, 106, 128, 214, 128),
    "bridge.foot_length_mm": (_CROSS, 106, 128, 140, 128),
    "post.inside_mm": (_CROSS, 196, 128, 212, 128),
    "pegs.diameter_mm": (_PEG, 80, 72, 80, 94),
    "pegs.standout_mm": (_PEG, 56, 116, 100, 116),
    "bow.balance_mm": (_BOW, 150, 112, 254, 112),
    "bow.gap_mm": (_BOW, 150, 76, 150, 85),
    "hair.width_mm": (_BOW, 258, 88, 258, 98),
    "hair.frog_travel_mm": (_BOW, 286, 84, 300, 84),
    "hair.eye_place_mm": (_BOW, 264, 72, 276, 72),
}
_VIEW = {"state": _ROOM, "bow": _BOW, "hair": _BOW, "pegs": _PEG, "board": _SIDE, "post": _SIDE}


def sketch_of(key: str) -> SafeString:
    """The small drawing of a reading, in the colours of the page."""
    view = _VIEW.get(key.split(".", maxsplit=1)[0], _CROSS)
    mark = ""
    if key in _POINTS:
        view, x1, y1, x2, y2 = _POINTS[key]
        mark = (
            f'<path d="M{x1} {y1}L{x2} {y2}" class="measure"/>'
            f'<circle cx="{x1}" cy="{y1}" r="5" class="end"/><circle cx="{x2}" cy="{y2}" r="5" class="end"/>'
        )
    return mark_safe(f'<svg class="sketch" viewBox="0 0 330 150" aria-hidden="true">{view}{mark}</svg>')
