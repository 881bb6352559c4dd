"""The shop's name and its makers."""

from purfling.shop.models import Maker, Shop


def shop_name() -> str:
    """The shop's name, empty where it has none."""
    return Shop.objects.values_list("name", flat=True).first() or ""


def makers():
    """Everybody who works here, the owner first."""
    return Maker.objects.order_by("-role", "name")
