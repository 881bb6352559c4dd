"""What every template may use."""

from django.http import HttpRequest

from purfling.shop.access import is_owner
from purfling.shop.queries.shop import shop_name


def shop(request: HttpRequest) -> dict[str, object]:
    """``maker``, ``is_owner``, ``cloth`` (names and values are covered) and the shop's name."""
    user = getattr(request, "user", None)
    inside = user is not None and user.is_authenticated
    return {
        "maker": user if inside else None,
        "is_owner": inside and is_owner(user),
        "cloth": bool(request.session.get("cloth")) if hasattr(request, "session") else False,
        "shop_name": shop_name() if inside else "",
    }
