"""The work list and the bench through their pages."""

import pytest
from django.urls import reverse

from purfling.shop.models import Work


@pytest.fixture
def violin(book):
    """The violin's row of the visit."""
    return book.rows[0] if not book.rows[0].object.is_bow else book.rows[1]


def test_the_usual_service_stands_on_the_list_in_one_touch(violin, as_owner):
    as_owner.post(reverse("work_usual", args=[violin.pk]))
    page = as_owner.get(reverse("work_list", args=[violin.pk])).content.decode()
    assert "board dressing" in page and "polish, one sitting" in page and "leather" not in page
    bench = as_owner.get("/").content.decode()
    assert "arrival card at pitch" in bench
    work = Work.objects.filter(visit_object=violin).first()
    assert as_owner.get(reverse("operation", args=[work.pk])).status_code == 200
    visit = as_owner.get(reverse("visit", args=[violin.visit_id])).content.decode()
    assert "board dressing" in visit
