"""The catalogue of the shop: the price list on the wall, the owner's minutes, bench hours, the shop's own
log."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse

from purfling.shop.access import page
from purfling.shop.domain.catalogue import add_operation, set_hours, set_operation
from purfling.shop.forms.catalogue import HoursForm, OperationForm, OwnOperationForm, hours_lines
from purfling.shop.models import ShopHours
from purfling.shop.queries.catalogue import USUAL_WEEK, shop_catalogue
from purfling.shop.queries.work_log import log_page
from purfling.shop.views.work_answer import answered

FAMILIES = ("violin", "viola", "cello")


def _lines(kind: str) -> list[dict]:
    return [
        {
            "offered": o,
            "minutes": [o.minutes(f) if o.row is None or f in o.row.families else None for f in FAMILIES],
        }
        for o in sorted(shop_catalogue().values(), key=lambda o: (o.place, o.code))
        if o.of == kind
    ]


@page()
def catalogue(request: HttpRequest) -> HttpResponse:
    """Every operation with its price; the minutes are the owner's."""
    kind = "bow" if request.GET.get("of") == "bow" else "instrument"
    hours = ShopHours.objects.first() or ShopHours(week=USUAL_WEEK)
    context = {
        "lines": _lines(kind),
        "kind": kind,
        "families": FAMILIES,
        "hours": HoursForm(initial=hours_lines(hours)),
        "own": OwnOperationForm(),
    }
    return render(request, "shop/catalogue.html", context)


def _initial(offered) -> dict:
    own = offered.own
    if own is None:
        return {}
    names = (
        "wait_kind",
        "wait_minutes",
        "price",
        "owner_only",
        "owner_only_word",
        "off",
        "name_en",
        "name_de",
    )
    found = {n: getattr(own, n) for n in names} | dict(own.minutes or {})
    found["usual"] = "" if own.usual is None else str(own.usual).lower()
    return found | {"seen": own.version}


@page("owner", ("GET", "POST"))
def operation(request: HttpRequest) -> HttpResponse:
    """The shop's own word on one operation."""
    code = request.POST.get("code") or request.GET.get("code", "card")
    offered = shop_catalogue().get(code)
    if offered is None:
        raise Http404
    form = OperationForm(request.POST or None, initial=_initial(offered))
    if request.method == "POST" and form.is_valid():
        back = reverse("catalogue") + f"?of={offered.of}"
        return answered(request, lambda: set_operation(code=code, who=request.user, **form.values()), back)
    for family in FAMILIES:
        if offered.row:
            form.fields[family].widget.attrs["placeholder"] = str(offered.row.minutes[family])
    form.fields["wait_minutes"].widget.attrs["placeholder"] = str(
        offered.row.wait_minutes if offered.row else 0
    )
    return render(request, "shop/catalogue_operation.html", {"form": form, "offered": offered})


@page("owner", ("POST",))
def own(request: HttpRequest) -> HttpResponse:
    """An operation that only this shop has."""
    form = OwnOperationForm(request.POST)
    if not form.is_valid():
        return redirect("catalogue")
    given = form.cleaned_data
    minutes = dict.fromkeys(FAMILIES, given["minutes"])
    return answered(
        request,
        lambda: add_operation(
            who=request.user, name=given["name"], of=given["of"], minutes=minutes, price=given["price"]
        ),
        reverse("catalogue") + f"?of={given['of']}",
    )


@page("owner", ("POST",))
def hours(request: HttpRequest) -> HttpResponse:
    """Bench hours."""
    form = HoursForm(request.POST)
    if not form.is_valid():
        context = {"lines": _lines("instrument"), "kind": "instrument", "families": FAMILIES}
        context |= {"hours": form, "own": OwnOperationForm()}
        return render(request, "shop/catalogue.html", context, status=422)
    return answered(request, lambda: set_hours(who=request.user, **form.cleaned_data), reverse("catalogue"))


@page("owner")
def log(request: HttpRequest) -> HttpResponse:
    """The shop's own log: n, median, 80 % value, too few under five."""
    lines = log_page()
    families = [f for f in FAMILIES if any(x.family == f for x in lines)]
    given = request.GET.get("family", "")
    family = given if given in families else (families or ["violin"])[0]
    context = {"lines": [x for x in lines if x.family == family], "families": families, "family": family}
    return render(request, "shop/work_log.html", context)


urlpatterns = [
    path("catalogue", catalogue, name="catalogue"),
    path("catalogue/operation", operation, name="catalogue_operation"),
    path("catalogue/own", own, name="catalogue_own"),
    path("catalogue/hours", hours, name="catalogue_hours"),
    path("own-log", log, name="work_log"),
]
