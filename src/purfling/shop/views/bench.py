"""On the bench, and the find box."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path

from purfling.shop.access import page
from purfling.shop.queries.bench import on_the_bench
from purfling.shop.queries.find import find


@page()
def bench(request: HttpRequest) -> HttpResponse:
    """What to do now, what is in the house, who comes today."""
    return render(request, "shop/bench.html", {"bench": on_the_bench()})


@page()
def find_page(request: HttpRequest) -> HttpResponse:
    """Any word finds a player, an object, a tag or a visit."""
    found = find(request.GET.get("q", "")[:100])
    template = "shop/found.html" if request.htmx else "shop/find.html"
    return render(request, template, {"found": found, "q": request.GET.get("q", "")[:100]})


urlpatterns = [path("", bench, name="bench"), path("find", find_page, name="find")]
