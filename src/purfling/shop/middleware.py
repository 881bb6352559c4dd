"""What every request passes: plain http from here only, language, refusals as sentences."""

import ipaddress

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import translation
from django.utils.translation import gettext as _

from purfling.craft.refusals import Refusal
from purfling.shop.domain.keeping import Stale
from purfling.shop.domain.stops import Stopped
from purfling.words import refusal_text


def _is_here(address: str) -> bool:
    try:
        return ipaddress.ip_address(address.split("%", maxsplit=1)[0]).is_loopback
    except ValueError:
        return address == ""  # a socket of this machine, or the test client


def only_here(get_response):
    """Plain http is answered to this machine alone; beyond it the book speaks https only."""

    def middleware(request: HttpRequest) -> HttpResponse:
        if not request.is_secure() and not _is_here(request.META.get("REMOTE_ADDR", "")):
            return HttpResponse(
                "Plain http is answered on this machine only; start with LAN=1 and use https.\n",
                status=403,
                content_type="text/plain; charset=utf-8",
            )
        return get_response(request)

    return middleware


def maker_language(get_response):
    """A maker who has chosen a language is answered in it."""

    def middleware(request: HttpRequest) -> HttpResponse:
        chosen = getattr(request.user, "language", "")
        if chosen in dict(settings.LANGUAGES):
            translation.activate(chosen)
            request.LANGUAGE_CODE = chosen
        return get_response(request)

    return middleware


class refusals_as_sentences:  # noqa: N801
    """A Refusal that a page did not expect becomes one sentence with status 422, never a bare error page."""

    def __init__(self, get_response) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """Render the sentence."""
        if not isinstance(exception, Refusal):
            return None
        if isinstance(exception, Stale):
            return _both_versions(request, exception)
        if isinstance(exception, Stopped):
            from purfling.shop.views.stops import stop_page

            return stop_page(request, exception)
        sentence = refusal_text(exception, translation.get_language() or "en")
        context = {"title": _("Not done"), "sentence": sentence}
        return render(request, "shop/sentence.html", context, status=422)


def _both_versions(request: HttpRequest, stale: Stale) -> HttpResponse:
    """Theirs and yours side by side; what was typed comes along and may be made to hold."""
    rows = [(name, stale.theirs.get(name), stale.mine[name]) for name in sorted(stale.mine)]
    posted = [
        (name, value)
        for name, values in request.POST.lists()
        for value in values
        if name not in ("seen", "csrfmiddlewaretoken")
    ]
    context = {"stale": stale, "rows": rows, "posted": posted}
    return render(request, "shop/stale.html", context, status=409)
