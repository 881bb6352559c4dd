"""The shop's own page: name, makers, pass phrases. The owner's."""

from uuid import UUID

from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import get_language

from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.shop.access import fetch, page
from purfling.shop.asked import Asked
from purfling.shop.domain.figures import gauges_from
from purfling.shop.domain.shop import add_assistant, change_shop, set_active, set_phrase, the_shop
from purfling.shop.forms.makers import AssistantForm, ShopForm
from purfling.shop.models import Maker
from purfling.shop.queries.shop import makers
from purfling.words import refusal_text


@page("owner", ("GET", "POST"))
def shop(request: HttpRequest) -> HttpResponse:
    """The shop's words and who works here."""
    one = the_shop()
    form = ShopForm(request.POST or None, instance=one, user=request.user)
    if request.method == "POST" and form.is_valid():
        change_shop(shop=one, who=request.user, seen=form.version_seen, **form.values())
        return redirect("shop")
    return render(request, "shop/shop.html", {"form": form, "makers": makers(), "assistant": AssistantForm()})


@page("owner", ("POST",))
def assistant(request: HttpRequest) -> HttpResponse:
    """Add an assistant."""
    form = AssistantForm(request.POST)
    if form.is_valid():
        try:
            add_assistant(who=request.user, **form.cleaned_data)
            return redirect("shop")
        except Refusal as refusal:
            form.add_error(None, refusal_text(refusal, get_language() or "en"))
    context = {
        "form": ShopForm(instance=the_shop(), user=request.user),
        "makers": makers(),
        "assistant": form,
    }
    return render(request, "shop/shop.html", context, status=422)


@page("owner", ("POST",))
def active(request: HttpRequest, id: UUID) -> HttpResponse:
    """Let an assistant in, or no longer."""
    set_active(maker=fetch(Maker, id), active=request.POST.get("active") == "1", who=request.user)
    return redirect("shop")


@page("owner", ("POST",))
def phrase(request: HttpRequest, id: UUID) -> HttpResponse:
    """A new pass phrase for somebody who works here."""
    maker = set_phrase(maker=fetch(Maker, id), phrase=request.POST.get("phrase", ""), who=request.user)
    if maker.pk == request.user.pk:
        update_session_auth_hash(request, maker)
    return redirect("shop")


@page("owner", ("GET", "POST"))
def gauges(request: HttpRequest) -> HttpResponse:
    """What the shop's own gauges are good for: one standard deviation of a careful reading."""
    one, language = the_shop(), get_language() or "en"
    if request.method == "POST":
        change_shop(shop=one, who=request.user, gauges=gauges_from(request.POST, language))
        return redirect("gauges")
    rows = [
        (r.key, Asked(r.key).words("violin", language).split(" · ")[0], r, one.gauges.get(r.key, ""))
        for r in readings().values()
    ]
    return render(request, "shop/gauges.html", {"rows": rows})


urlpatterns = [
    path("shop/gauges", gauges, name="gauges"),
    path("shop", shop, name="shop"),
    path("shop/assistant", assistant, name="assistant_new"),
    path("shop/maker/<uuid:id>/active", active, name="maker_active"),
    path("shop/maker/<uuid:id>/phrase", phrase, name="maker_phrase"),
]
