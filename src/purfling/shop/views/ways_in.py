"""The way in and out: first start, pass phrase, language, cloth over."""

from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import get_language

from purfling.craft.refusals import Refusal
from purfling.shop.access import page
from purfling.shop.domain.shop import claim_shop, is_claimed, set_language
from purfling.shop.forms.makers import EnterForm, FirstForm
from purfling.words import refusal_text

BACKEND = "django.contrib.auth.backends.ModelBackend"


def back_to(request: HttpRequest, given: str, otherwise: str = "bench") -> HttpResponseRedirect:
    """Back to a page of this book, never elsewhere."""
    if given and url_has_allowed_host_and_scheme(given, {request.get_host()}, request.is_secure()):
        return HttpResponseRedirect(given)
    return redirect(otherwise)


@page("anyone", ("GET", "POST"))
def enter(request: HttpRequest) -> HttpResponse:
    """Name and pass phrase."""
    if not is_claimed():
        return redirect("first")
    goal = request.POST.get("next") or request.GET.get("next", "")
    form = EnterForm(request, request.POST or None)
    if request.method == "POST" and form.is_valid():
        login(request, form.get_user())
        return back_to(request, goal)
    if getattr(request, "axes_locked_out", False):
        return render(request, "shop/locked.html", status=429)
    return render(request, "shop/enter.html", {"form": form, "next": goal})


@page("anyone", ("POST",))
def leave(request: HttpRequest) -> HttpResponse:
    """Out."""
    logout(request)
    return redirect("enter")


@page("anyone", ("GET", "POST"))
def first(request: HttpRequest) -> HttpResponse:
    """The first start: who holds the terminal's code owns the shop."""
    if is_claimed():
        return redirect("enter")
    form = FirstForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            owner = claim_shop(**form.cleaned_data)
        except Refusal as refusal:
            form.add_error(None, refusal_text(refusal, get_language() or "en"))
            return render(request, "shop/first.html", {"form": form}, status=422)
        login(request, owner, backend=BACKEND)
        return redirect("bench")
    return render(request, "shop/first.html", {"form": form})


@page("anyone", ("POST",))
def language(request: HttpRequest) -> HttpResponse:
    """English or German."""
    wanted = request.POST.get("language", "")
    wanted = wanted if wanted in ("en", "de") else "en"
    if request.user.is_authenticated:
        set_language(maker=request.user, language=wanted)
    answer = back_to(request, request.POST.get("next", ""))
    answer.set_cookie(
        "purfling_language", wanted, max_age=31536000, samesite="Lax", secure=request.is_secure()
    )
    return answer


@page("assistant", ("POST",))
def cloth(request: HttpRequest) -> HttpResponse:
    """One touch covers names and values, another uncovers them."""
    request.session["cloth"] = not request.session.get("cloth", False)
    return back_to(request, request.POST.get("next", ""))


urlpatterns = [
    path("enter", enter, name="enter"),
    path("leave", leave, name="leave"),
    path("first", first, name="first"),
    path("language", language, name="language"),
    path("cloth", cloth, name="cloth"),
]
