"""A verb of the bench answered: back to the page, or the reason with the way past it."""

from collections.abc import Callable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from purfling.craft.refusals import Refusal
from purfling.shop.access import is_owner
from purfling.shop.domain.keeping import Stale
from purfling.shop.domain.stops import Stopped
from purfling.shop.domain.work_rules import owners_name
from purfling.shop.views.ways_in import back_to
from purfling.words import refusal_text

# What the owner's word lifts; and what anybody's word passes.
LIFTED = frozenset(
    {
        "work.breaks_class",
        "work.asks_class",
        "work.order",
        "work.not_before",
        "work.not_dry",
        "work.soft_varnish",
        "work.wrong_hole",
        "bowsurvey.never",
    }
)
PASSED = frozenset({"book.strings_held_back"})


def answered(request: HttpRequest, verb: Callable[[], object], back: str) -> HttpResponse:
    """Call a verb and go back; a refusal becomes a page with the reason, and a word that lifts it."""
    try:
        told = verb()
    except (Stale, Stopped):
        raise
    except Refusal as refusal:
        return stopped(request, refusal, back)
    if isinstance(told, str) and told:
        messages.success(request, told)
    return back_to(request, request.POST.get("next", "") or back)


def stopped(request: HttpRequest, refusal: Refusal, back: str) -> HttpResponse:
    """The reason; the owner may write the word that lifts it, an assistant is told whom to ask."""
    liftable = refusal.code in LIFTED
    context = {
        "sentence": refusal_text(refusal, (get_language() or "en")[:2]),
        "back": request.POST.get("next", "") or back,
        "word_wanted": (liftable and is_owner(request.user)) or refusal.code in PASSED,
        "ask": owners_name() if liftable and not is_owner(request.user) else "",
        "button": _("Overrule, with this word") if liftable else _("Go on, with this word"),
        "posted": [
            (name, value)
            for name, values in request.POST.lists()
            for value in values
            if name not in ("csrfmiddlewaretoken", "word")
        ],
    }
    return render(request, "shop/work_stopped.html", context, status=422)
