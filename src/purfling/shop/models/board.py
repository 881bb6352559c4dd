"""The fingerboard of an instrument in a visit, touched where it is measured."""

from django.db import models

from purfling.shop.models.maker import Maker
from purfling.shop.models.record import Record
from purfling.shop.models.visit import VisitObject


class Board(Record):
    """One board in one visit: what was asked before planing and the figures that no card holds.

    ``asked`` maps ``neck_straight``, ``board_sound``, ``blackened`` to true or false; ``figures`` maps
    ``table.key`` (``edge.bass_mm``) or ``table.key-0``, ``-1`` for the ends of a band to a number.
    """

    visit_object = models.OneToOneField(VisitObject, on_delete=models.PROTECT, related_name="board")
    asked = models.JSONField(default=dict, blank=True)
    figures = models.JSONField(default=dict, blank=True)


class BoardReading(Record):
    """One place of the board: a gap under the straight edge, a template across, the deepest of a groove.

    ``value_mm`` is the gap, the radius or the depth; ``line`` is empty for a template. The gaps of the
    moment ``left`` are the board's card as left. ``error_mm`` is one standard deviation of the gauge.
    """

    class Moment(models.TextChoices):
        FOUND = "found"
        LEFT = "left"

    class Kind(models.TextChoices):
        GAP = "gap"
        ACROSS = "across"
        PIT = "pit"

    board = models.ForeignKey(Board, on_delete=models.PROTECT, related_name="readings")
    moment = models.CharField(max_length=5, choices=Moment.choices)
    kind = models.CharField(max_length=6, choices=Kind.choices)
    line = models.CharField(max_length=6, blank=True)
    station_mm = models.FloatField()
    value_mm = models.FloatField()
    error_mm = models.FloatField()
    at = models.DateTimeField()
    who = models.ForeignKey(Maker, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("kind", "line", "station_mm")
        constraints = (
            models.UniqueConstraint(
                fields=["board", "moment", "kind", "line", "station_mm"], name="one_figure_of_a_place"
            ),
        )
