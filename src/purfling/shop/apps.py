"""The app of the book."""

from django.apps import AppConfig


class ShopConfig(AppConfig):
    """The workshop's book."""

    name = "purfling.shop"
    label = "shop"
    default_auto_field = "django.db.models.BigAutoField"
