"""Materials, lots and recipes: what the shop has, and what was used where."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from purfling.shop.access import fetch, page
from purfling.shop.domain.material import (
    add_material,
    add_recipe,
    change_material,
    change_recipe,
    open_lot,
    use_up,
)
from purfling.shop.forms.material import LotForm, MaterialForm, RecipeForm
from purfling.shop.models import Lot, Material, Recipe
from purfling.shop.queries.coat_clock import recipe_clocks
from purfling.shop.queries.material import material_page, materials_page


@page()
def materials(request: HttpRequest) -> HttpResponse:
    """All of them."""
    return render(request, "shop/materials.html", materials_page())


@page()
def material(request: HttpRequest, id: UUID) -> HttpResponse:
    """One material, its lots, where it went."""
    return render(request, "shop/material.html", material_page(fetch(Material, id)) | {"form": LotForm()})


@page(methods=("GET", "POST"))
def material_new(request: HttpRequest) -> HttpResponse:
    """A new material."""
    form = MaterialForm(request.POST or None, user=request.user)
    if request.method == "POST" and form.is_valid():
        made = add_material(who=request.user, **form.values())
        return redirect("material", made.pk)
    return render(request, "shop/material_form.html", {"form": form})


@page(methods=("GET", "POST"))
def material_edit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Change what is known of it."""
    one = fetch(Material, id)
    form = MaterialForm(request.POST or None, instance=one, user=request.user)
    if request.method == "POST" and form.is_valid():
        change_material(material=one, who=request.user, seen=form.version_seen, **form.values())
        return redirect("material", one.pk)
    return render(request, "shop/material_form.html", {"form": form, "material": one})


@page(methods=("POST",))
def lot_new(request: HttpRequest, id: UUID) -> HttpResponse:
    """A new bottle of it."""
    one = fetch(Material, id)
    form = LotForm(request.POST)
    if form.is_valid():
        open_lot(material=one, who=request.user, **form.cleaned_data)
        return redirect("material", one.pk)
    return render(request, "shop/material.html", material_page(one) | {"form": form}, status=422)


@page(methods=("POST",))
def lot_used_up(request: HttpRequest, id: UUID) -> HttpResponse:
    """The bottle is empty."""
    one = fetch(Lot, id)
    use_up(lot=one, who=request.user)
    return redirect("material", one.material_id)


@page(methods=("GET", "POST"))
def recipe_new(request: HttpRequest) -> HttpResponse:
    """A new recipe."""
    form = RecipeForm(request.POST or None, user=request.user)
    if request.method == "POST" and form.is_valid():
        made = add_recipe(who=request.user, **form.values())
        return redirect("recipe", made.pk)
    return render(request, "shop/recipe_form.html", {"form": form})


@page(methods=("GET", "POST"))
def recipe_edit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Change it from now on; what was laid on before keeps its parts."""
    one = fetch(Recipe, id)
    form = RecipeForm(request.POST or None, instance=one, user=request.user)
    if request.method == "POST" and form.is_valid():
        change_recipe(recipe=one, who=request.user, seen=form.version_seen, **form.values())
        return redirect("recipe", one.pk)
    return render(request, "shop/recipe_form.html", {"form": form, "recipe": one})


@page()
def recipe(request: HttpRequest, id: UUID) -> HttpResponse:
    """A recipe, what the log says of it, where it lies."""
    one = fetch(Recipe, id)
    lines = list(one.lines.select_related("object", "who")[:60])
    return render(request, "shop/recipe.html", {"recipe": one, "clocks": recipe_clocks(one), "lines": lines})


urlpatterns = [
    path("materials", materials, name="materials"),
    path("material/new", material_new, name="material_new"),
    path("material/<uuid:id>", material, name="material"),
    path("material/<uuid:id>/edit", material_edit, name="material_edit"),
    path("material/<uuid:id>/lot", lot_new, name="lot_new"),
    path("lot/<uuid:id>/used-up", lot_used_up, name="lot_used_up"),
    path("recipe/new", recipe_new, name="recipe_new"),
    path("recipe/<uuid:id>", recipe, name="recipe"),
    path("recipe/<uuid:id>/edit", recipe_edit, name="recipe_edit"),
]
