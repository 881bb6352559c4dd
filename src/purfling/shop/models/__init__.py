"""The records of the book, one file per noun; one line of import each."""

from purfling.shop.models.board import Board, BoardReading
from purfling.shop.models.bow import BowPart, BowSurvey, BowWedge, Warmth
from purfling.shop.models.card import Card, Reading
from purfling.shop.models.catalogue import ShopHours, ShopOperation
from purfling.shop.models.change import Change
from purfling.shop.models.handover import HandOver
from purfling.shop.models.loan import Loan
from purfling.shop.models.maker import Maker
from purfling.shop.models.mark import Mark, Sighting
from purfling.shop.models.material import Lot, Material, Recipe
from purfling.shop.models.money import (
    Answered,
    Estimate,
    Issued,
    NumberRun,
    Payment,
    Price,
    PrivateLink,
    Reminder,
    Terms,
)
from purfling.shop.models.object import Object, Ownership
from purfling.shop.models.photograph import Alignment, Photograph, Shown, TouchedArea
from purfling.shop.models.player import Player
from purfling.shop.models.reckoning import Reckoning
from purfling.shop.models.room import RoomBands, RoomReading
from purfling.shop.models.sheet import BenchSheet
from purfling.shop.models.shop import Shop
from purfling.shop.models.survey import Survey
from purfling.shop.models.tray import LoosePart
from purfling.shop.models.tries import Try
from purfling.shop.models.varnish import ClosedPlace, FingerLook, SpotTest, StopMet, Used, VarnishLine
from purfling.shop.models.visit import Visit, VisitObject
from purfling.shop.models.work import Look, Stretch, Work

__all__ = [
    "Alignment",
    "Answered",
    "BenchSheet",
    "Board",
    "BoardReading",
    "BowPart",
    "BowSurvey",
    "BowWedge",
    "Card",
    "Change",
    "ClosedPlace",
    "Estimate",
    "FingerLook",
    "HandOver",
    "Issued",
    "Loan",
    "Look",
    "LoosePart",
    "Lot",
    "Maker",
    "Mark",
    "Material",
    "NumberRun",
    "Object",
    "Ownership",
    "Payment",
    "Photograph",
    "Player",
    "Price",
    "PrivateLink",
    "Reading",
    "Recipe",
    "Reckoning",
    "Reminder",
    "RoomBands",
    "RoomReading",
    "Shop",
    "ShopHours",
    "ShopOperation",
    "Shown",
    "Sighting",
    "SpotTest",
    "StopMet",
    "Stretch",
    "Survey",
    "Terms",
    "TouchedArea",
    "Try",
    "Used",
    "VarnishLine",
    "Visit",
    "VisitObject",
    "Warmth",
    "Work",
]
