"""The stop page: the reason with the test's date and picture; the owner may overrule with a word."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from purfling.shop.access import is_owner
from purfling.shop.domain.stops import Stopped, write_stop
from purfling.shop.domain.varnish_place import owners_name


def stop_page(request: HttpRequest, stop: Stopped) -> HttpResponse:
    """Show why it stops, and write down that somebody met it."""
    write_stop(stop, who=request.user)
    posted = [
        (name, value)
        for name, values in request.POST.lists()
        for value in values
        if name not in ("csrfmiddlewaretoken", "word")
    ]
    context = {
        "stop": stop,
        "object": stop.thing,
        "posted": posted,
        "may": is_owner(request.user) and request.method == "POST",
        "ask": "" if is_owner(request.user) else owners_name(),
        "lost_picture": bool(request.FILES),
    }
    return render(request, "shop/stop.html", context, status=422)
