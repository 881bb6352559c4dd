"""Price, yes, invoice: nothing without its yes, nothing changed once issued, every sum by hand."""

import csv
import hashlib
import io
from datetime import datetime
from decimal import Decimal as D  # noqa: N817

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from facturx import get_xml_from_pdf

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.estimate import (
    add_found_work,
    answer_estimate,
    decimal_of,
    link_of,
    make_link,
    token_of,
    withdraw_estimate,
    withdraw_link,
)
from purfling.shop.domain.issuing import (
    agreed_lines,
    issue_credit_note,
    issue_deposit,
    issue_invoice,
    open_of,
    pay,
    remind,
)
from purfling.shop.models import Change, Issued, Price
from purfling.shop.queries.money import harmless, period_rows
from tests.shop.money_book import given_estimate, say_yes, set_terms, with_money

pytestmark = pytest.mark.django_db


def test_only_lines_with_a_yes_reach_the_invoice(book):
    set_terms(book)
    estimate = given_estimate(book)
    with pytest.raises(Refusal, match="nothing_agreed"):
        issue_invoice(visit=book.visit, who=book.owner)
    say_yes(book, estimate, "board")
    with pytest.raises(Refusal, match="no_yes"):
        issue_invoice(visit=book.visit, who=book.owner, keys=["1.hair"])
    paper = issue_invoice(visit=book.visit, who=book.owner)
    # 180.00 with 19 % inside: 180 / 1.19 = 151.26 net, 28.74 tax.
    assert (paper.net, paper.tax, paper.due) == (D("151.26"), D("28.74"), D("180.00"))
    assert paper.number.endswith("-0001")


def test_found_work_needs_its_own_yes(book):
    set_terms(book)
    estimate = given_estimate(book)
    say_yes(book, estimate, "board")
    found = add_found_work(
        estimate=estimate, line={"words": "hidden crack glued", "unit_price": "90,00"}, who=book.owner
    )
    assert [a.row["words"] for a in agreed_lines(book.visit)] == ["board dressing"]
    say_yes(book, found, found.lines[0]["key"])
    assert [a.row["words"] for a in agreed_lines(book.visit)] == ["board dressing", "hidden crack glued"]


def test_a_no_after_a_yes_takes_the_line_back(book):
    set_terms(book)
    estimate = given_estimate(book)
    say_yes(book, estimate, "board", "hair")
    answer_estimate(estimate=estimate, keys=["hair"], yes=False, by="Merle", how="phone", who=book.owner)
    assert [a.row["key"] for a in agreed_lines(book.visit)] == ["1.board"]


def test_of_two_options_only_one_can_be_chosen(book):
    estimate = given_estimate(book)
    with pytest.raises(Refusal, match="two_options"):
        say_yes(book, estimate, "plain", "fine")
    say_yes(book, estimate, "plain")
    with pytest.raises(Refusal, match="two_options"):
        say_yes(book, estimate, "fine")


def test_a_higher_price_than_agreed_is_refused_a_lower_one_taken(book):
    set_terms(book)
    say_yes(book, given_estimate(book), "board")
    with pytest.raises(Refusal, match="above_agreed"):
        issue_invoice(visit=book.visit, who=book.owner, real={"1.board": "190"})
    paper = issue_invoice(visit=book.visit, who=book.owner, real={"1.board": "160"})
    assert (paper.due, paper.quoted) == (D("160.00"), D("180.00"))


def test_not_above_holds_for_its_estimate(book):
    set_terms(book, prices_are_gross=False)
    say_yes(book, given_estimate(book, not_above=D("200")), "board")
    with pytest.raises(Refusal, match="above_limit"):  # 180 net are 214.20 with tax
        issue_invoice(visit=book.visit, who=book.owner)


def test_an_issued_paper_keeps_its_bytes_and_its_hash(book):
    paper = with_money(book).issued
    pdf = bytes(Issued.objects.get(pk=paper.pk).pdf)
    assert hashlib.sha256(pdf).hexdigest() == paper.sha256
    name, xml = get_xml_from_pdf(pdf, check_xsd=True)
    assert name == "factur-x.xml" and paper.number.encode() in xml
    assert b"98765" not in xml and b"98765" not in pdf  # the instrument's value stands on no paper
    with pytest.raises(Refusal, match="nothing_agreed"):
        issue_invoice(visit=book.visit, who=book.owner)


def test_a_credit_note_cancels_to_zero_and_only_once(book):
    paper = with_money(book).issued
    note = issue_credit_note(issued=paper, who=book.owner)
    assert (paper.net + note.net, paper.tax + note.tax, paper.due + note.due) == (0, 0, 0)
    assert note.refers_to == paper and open_of(paper) == 0
    with pytest.raises(Refusal, match="credited_twice"):
        issue_credit_note(issued=paper, who=book.owner)
    again = issue_invoice(visit=book.visit, who=book.owner)
    assert again.run == note.run + 1


def test_the_invoice_takes_the_deposit_off_again(book):
    set_terms(book)
    deposit = issue_deposit(visit=book.visit, amount=D("100"), words="Deposit", who=book.owner)
    say_yes(book, given_estimate(book), "board")
    paper = issue_invoice(visit=book.visit, who=book.owner)
    assert (deposit.due, paper.due) == (D("100.00"), D("80.00"))
    assert paper.told["lines"][1]["words"].startswith(deposit.number)


def test_payments_reminders_and_what_is_open(book):
    paper = with_money(book).issued
    assert open_of(paper) == D("255.00")
    pay(issued=paper, amount=D("55"), who=book.owner)
    assert open_of(paper) == D("200.00")
    remind(issued=paper, who=book.owner)
    pay(issued=paper, amount=D("200"), who=book.owner)
    with pytest.raises(Refusal, match="nothing_open"):
        remind(issued=paper, who=book.owner)


def test_numbers_begin_anew_each_year_and_have_no_gap(book):
    set_terms(book)
    estimate = given_estimate(book)
    say_yes(book, estimate, "board")
    with clock.held(timezone.make_aware(datetime(2026, 12, 31, 12))):
        one = issue_deposit(visit=book.visit, amount=D("10"), words="a", who=book.owner)
        two = issue_deposit(visit=book.visit, amount=D("10"), words="b", who=book.owner)
    with clock.held(timezone.make_aware(datetime(2027, 1, 2, 12))):
        three = issue_deposit(visit=book.visit, amount=D("10"), words="c", who=book.owner)
    assert [p.number for p in (one, two, three)] == ["2026-0001", "2026-0002", "2027-0001"]


def test_a_failed_issue_takes_no_number(book, monkeypatch):
    set_terms(book)
    say_yes(book, given_estimate(book), "board")

    def broken(*args, **kwargs):
        raise RuntimeError("the printer of papers broke")

    with monkeypatch.context() as patched:
        patched.setattr("purfling.shop.domain.issuing.invoice_pdf", broken)
        with pytest.raises(RuntimeError):
            issue_invoice(visit=book.visit, who=book.owner)
    assert issue_invoice(visit=book.visit, who=book.owner).number.endswith("-0001")


def test_terms_that_an_invoice_needs_are_asked_for(book):
    say_yes(book, given_estimate(book), "board")
    with pytest.raises(Refusal, match="terms_missing"):
        issue_invoice(visit=book.visit, who=book.owner)


def test_numbers_are_read_as_people_write_them():
    assert decimal_of("12,50", "x") == decimal_of("12.50", "x") == D("12.50")
    for bad in ("1.250,00", "twelve", "", "NaN", "Infinity"):
        with pytest.raises(Refusal, match="bad_number"):
            decimal_of(bad, "x")


def test_every_money_record_has_its_history(book):
    with_money(book)
    for record in (book.estimate, book.link, book.issued, Price.objects.get()):
        assert Change.objects.filter(record=record.pk).exists()


# ---- the private link -------------------------------------------------------------------------------


def test_a_link_shows_this_estimate_and_nothing_else(book):
    with_money(book)
    page = Client().get(reverse("estimate_by_link", args=[book.token]))
    text = page.content.decode()
    assert page.status_code == 200
    assert "board dressing" in text and "180.00" in text
    for hidden in ("Aschenbrand", "Secret Lane", "98765", "4321", "honey one", "It buzzes", 'class="rail"'):
        assert hidden not in text
    assert "noindex" in page["X-Robots-Tag"]


def test_a_stranger_says_yes_by_the_link(book):
    set_terms(book)
    estimate = given_estimate(book)
    token = token_of(make_link(estimate=estimate, who=book.owner))
    address = reverse("estimate_by_link", args=[token])
    stranger = Client()
    done = stranger.post(
        address, {"keys": ["board", "fine"], "answer": "yes", "by": "M. A.", "words": "please"}
    )
    assert done.status_code == 302
    answer = estimate.answers.get()
    assert (answer.how, answer.by, answer.yes, answer.keys) == ("link", "M. A.", True, ["board", "fine"])
    wrong = stranger.post(address, {"keys": ["plain"], "answer": "yes", "by": "M. A."})
    assert wrong.status_code == 422 and estimate.answers.count() == 1


@pytest.mark.parametrize("end", ["link", "estimate", "time", "forged"])
def test_a_link_ends(book, end):
    with_money(book)
    token = book.token
    assert link_of(token) is not None
    if end == "link":
        withdraw_link(link=book.link, who=book.owner)
    elif end == "estimate":
        withdraw_estimate(estimate=book.estimate, who=book.owner)
    elif end == "time":
        keeping.change(book.link, who=book.owner, until=clock.now())
    else:
        token = token[:-2] + ("aa" if token[-2:] != "aa" else "bb")
    assert link_of(token) is None
    assert Client().get(reverse("estimate_by_link", args=[token])).status_code == 404


def test_the_link_page_is_limited(book, settings):
    with_money(book)
    address = reverse("estimate_by_link", args=[book.token])
    client = Client(REMOTE_ADDR="127.9.9.9")
    codes = [client.get(address).status_code for _ in range(25)]
    assert codes[:20] == [200] * 20 and set(codes[20:]) == {422}


# ---- pages ------------------------------------------------------------------------------------------


def test_an_estimate_from_prices_and_a_free_row(book, as_owner):
    with_money(book)
    price = Price.objects.get()
    as_owner.post(
        reverse("estimate_new", args=[book.visit.pk]),
        {
            f"price-{price.pk}": "2",
            "words-0": "pegs",
            "amount-0": "48,50",
            "quantity-0": "1",
            "not_above": "300",
        },
    )
    made = book.visit.estimates.last()
    assert [(r["words"], r["quantity"], r["unit_price"]) for r in made.lines] == [
        ("bow hair", "2", "75.00"),
        ("pegs", "1", "48.50"),
    ]
    assert made.not_above == D("300")


def test_a_refusal_on_a_page_is_one_sentence(book, as_owner):
    answer = as_owner.post(reverse("invoice_new", args=[book.visit.pk]))
    assert answer.status_code == 422
    assert "agreed" in answer.content.decode()


def test_the_period_list_adds_up_and_holds_no_formula(book, as_owner):
    with_money(book)
    issue_credit_note(issued=book.issued, who=book.owner)
    day = clock.now().date()
    rows = period_rows(day, day)
    assert sum(D(r[8]) for r in rows) == 0
    answer = as_owner.get(reverse("money_period"), {"first": day.isoformat(), "last": day.isoformat()})
    read = list(csv.DictReader(io.StringIO(answer.content.decode())))
    assert [r["number"][-4:] for r in read] == ["0001", "0002"]
    assert harmless("=1+1") == "'=1+1" and harmless("@x") == "'@x" and harmless("Merle") == "Merle"


def test_the_papers_are_served_to_the_byte(book, as_owner):
    with_money(book)
    served = as_owner.get(reverse("issued_paper", args=[book.issued.pk]))
    assert hashlib.sha256(served.content).hexdigest() == book.issued.sha256
    estimate = as_owner.get(reverse("estimate_paper", args=[book.estimate.pk]))
    assert estimate.content.startswith(b"%PDF")


def test_the_money_page_asks_no_more_with_more_estimates(book, as_owner, django_assert_max_num_queries):
    with_money(book)
    for _ in range(3):
        given_estimate(book)
    with django_assert_max_num_queries(45):
        as_owner.get(reverse("visit_money", args=[book.visit.pk]))
