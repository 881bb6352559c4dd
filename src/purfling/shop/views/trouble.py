"""Pages for what is not here and for what broke."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _


def not_here(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """404 in one sentence."""
    sentence = _("This page or record is not in the book.")
    return render(request, "shop/sentence.html", {"title": _("Not here"), "sentence": sentence}, status=404)


def broken(request: HttpRequest) -> HttpResponse:
    """500 without anything that could fail again."""
    return HttpResponse(
        "<!doctype html><title>Purfling</title><p>Something broke; nothing was half written. "
        'The terminal says more.</p><p><a href="/">On the bench</a></p>',
        status=500,
    )
