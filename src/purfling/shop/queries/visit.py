"""One visit, with all that its page shows."""

from purfling.shop.models import Visit


def visit_page(visit: Visit) -> dict[str, object]:
    """Objects, cards and loans of a visit in three queries."""
    rows = list(visit.rows.select_related("object", "object__owner").prefetch_related("cards"))
    return {"visit": visit, "rows": rows, "loans": list(visit.loans.all())}
