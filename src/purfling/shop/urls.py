"""Every page of the book: one line per file of views/."""

from purfling.shop.views import (
    bench,
    cards,
    catalogue,
    estimates,
    handover,
    handover_papers,
    history,
    money,
    objects,
    opened,
    players,
    setup,
    sheet,
    shop,
    tray,
    tries,
    visits,
    ways_in,
    work,
    work_bench,
)

urlpatterns = [
    *bench.urlpatterns,
    *ways_in.urlpatterns,
    *players.urlpatterns,
    *objects.urlpatterns,
    *visits.urlpatterns,
    *cards.urlpatterns,
    *history.urlpatterns,
    *setup.urlpatterns,
    *shop.urlpatterns,
    *work.urlpatterns,
    *work_bench.urlpatterns,
    *estimates.urlpatterns,
    *money.urlpatterns,
    *catalogue.urlpatterns,
    *tray.urlpatterns,
    *tries.urlpatterns,
    *handover.urlpatterns,
    *opened.urlpatterns,
    *sheet.urlpatterns,
    *handover_papers.urlpatterns,
]
handler404 = "purfling.shop.views.trouble.not_here"
handler500 = "purfling.shop.views.trouble.broken"
