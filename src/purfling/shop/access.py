"""The one door: who may open a page, and which record a page may touch.

Every view is decorated with ``page``; a view without it is found by a test. An owner sees all; an assistant
all but values, addresses and money (``sealed_for``); a stranger nothing but the way in.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any, Literal, TypeVar
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseNotAllowed
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from purfling.shop.models import Maker
from purfling.shop.models.record import Record

Role = Literal["owner", "assistant", "anyone"]
R = TypeVar("R", bound=Record)
View = Callable[..., HttpResponse]


def is_owner(user: Any) -> bool:
    """Whether a user is the owner."""
    return getattr(user, "role", None) == Maker.Role.OWNER


def sealed_for(user: Any, model: type[Record]) -> tuple[str, ...]:
    """The fields of a model that this user does not see."""
    return () if is_owner(user) else model.SEALED


def _closed(request: HttpRequest) -> HttpResponse:
    sentence = _("This page is the owner's. Ask the owner, or lay it aside for later.")
    return render(request, "shop/sentence.html", {"title": _("Closed"), "sentence": sentence}, status=403)


def page(role: Role = "assistant", methods: tuple[str, ...] = ("GET",)) -> Callable[[View], View]:
    """Open a view to a role and to some methods, and to nobody and nothing else."""
    allowed = (*methods, "HEAD") if "GET" in methods else methods

    def decorate(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            if role != "anyone" and not request.user.is_authenticated:
                if request.htmx or request.method not in ("GET", "HEAD"):
                    return HttpResponse(status=403)
                return redirect(f"/enter?next={request.get_full_path()}")
            if request.method not in allowed:
                return HttpResponseNotAllowed(allowed)
            if role == "owner" and not is_owner(request.user):
                return _closed(request)
            return view(request, *args, **kwargs)

        guarded.door_role = role  # type: ignore[attr-defined]
        guarded.door_methods = methods  # type: ignore[attr-defined]
        return guarded

    return decorate


def fetch(queryset: Any, id: UUID | str, **also: Any) -> Any:
    """One record by id, or the page that says it is not in the book."""
    model = queryset if isinstance(queryset, type) else None
    rows = model.objects.all() if model is not None else queryset
    found = rows.filter(pk=id, **also).first()
    if found is None:
        raise Http404
    return found
