"""The app of the book."""

from django.apps import AppConfig


class ShopConfig(AppConfig):
    """The workshop's book."""

    name = "purfling.shop"
    label = "shop"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Frozen surveys are guarded by the database itself, after every migration anew."""
        from django.db.models.signals import post_migrate

        from purfling.shop.freezing import lay_triggers

        post_migrate.connect(lay_triggers, sender=self, dispatch_uid="lay_triggers")
