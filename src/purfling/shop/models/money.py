"""Money: the price list, estimates and the yes to them, issued papers with their numbers, payments."""

from django.db import models

from purfling.shop.models.record import Record
from purfling.shop.models.visit import Visit


class Terms(Record):
    """The shop's own terms for money: one row. All of it is the owner's.

    ``own_rates`` maps a tax name to per cent as text and overrules the table; ``hourly`` is the price of an
    hour where the list has none.
    """

    SEALED = ("hourly", "iban", "bic", "tax_number", "vat_number")

    seller = models.CharField(max_length=120, blank=True)
    line_one = models.CharField(max_length=120, blank=True)
    postcode = models.CharField(max_length=20, blank=True)
    town = models.CharField(max_length=80, blank=True)
    country = models.CharField(max_length=2, default="DE")
    vat_number = models.CharField(max_length=20, blank=True)
    tax_number = models.CharField(max_length=30, blank=True)
    usual_tax = models.CharField(max_length=20, default="standard")
    tax_reason = models.CharField(max_length=200, blank=True)
    own_rates = models.JSONField(default=dict, blank=True)
    prices_are_gross = models.BooleanField(default=True)
    rule = models.CharField(max_length=10, default="per_rate")
    half = models.CharField(max_length=5, default="up")
    hourly = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    iban = models.CharField(max_length=40, blank=True)
    bic = models.CharField(max_length=15, blank=True)
    due_days = models.PositiveSmallIntegerField(default=14)
    valid_days = models.PositiveSmallIntegerField(default=30)
    small_limit = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    words = models.TextField(blank=True)


class Price(Record):
    """A line of the price list on the wall; ``basis`` fixed, by the hour, or a material with its cost."""

    SEALED = ("amount", "cost")

    class Basis(models.TextChoices):
        FIXED = "fixed"
        HOURLY = "hourly"
        MATERIAL = "material"

    code = models.CharField(max_length=40)
    words = models.CharField(max_length=120)
    kind = models.CharField(max_length=12, default="any")
    basis = models.CharField(max_length=10, choices=Basis.choices, default=Basis.FIXED)
    amount = models.DecimalField(max_digits=9, decimal_places=2)
    cost = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    tax = models.CharField(max_length=20, blank=True)
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ("basis", "words", "kind")
        constraints = (models.UniqueConstraint(fields=["code", "kind"], name="a_price_once_per_kind"),)


class Estimate(Record):
    """What a visit's work will cost, as told to the player.

    ``lines`` is a list of {key, words, quantity, unit_price, tax, group, minutes, found, work}; a line with
    a ``group`` is one of several options, ``found`` marks work that showed itself later. Once ``given_at``
    is set the estimate stands as it was given; a change is a new one.
    """

    SEALED = ("lines", "not_above")

    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="estimates")
    number = models.PositiveSmallIntegerField()
    lines = models.JSONField(default=list, blank=True)
    risks = models.TextField(blank=True)
    not_included = models.TextField(blank=True)
    not_above = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    promise_words = models.CharField(max_length=200, blank=True)
    valid_until = models.DateField(null=True, blank=True)
    given_at = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("visit", "number")
        constraints = (models.UniqueConstraint(fields=["visit", "number"], name="an_estimate_number_once"),)


class Answered(Record):
    """A yes or a no to lines of an estimate: who, how, when, in what words. Never changed, only followed."""

    PERSONAL = ("by", "words")

    class How(models.TextChoices):
        MOUTH = "mouth"
        PHONE = "phone"
        MAIL = "mail"
        LINK = "link"

    estimate = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="answers")
    keys = models.JSONField(default=list)
    yes = models.BooleanField()
    by = models.CharField(max_length=120)
    how = models.CharField(max_length=6, choices=How.choices)
    at = models.DateTimeField()
    words = models.TextField(blank=True)

    class Meta:
        ordering = ("at", "id")


class PrivateLink(Record):
    """A link to one estimate alone, signed, until a day; ``withdrawn_at`` ends it sooner."""

    estimate = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="links")
    until = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    opened = models.PositiveIntegerField(default=0, editable=False)


class NumberRun(models.Model):
    """The last number given in a year: one row a year, locked while a paper takes the next."""

    year = models.PositiveSmallIntegerField(unique=True)
    last = models.PositiveIntegerField(default=0)


class Issued(Record):
    """An issued paper: invoice, deposit or credit note, kept as it was issued with its hash.

    ``told`` holds all that the paper shows; ``pdf`` is the paper itself. Neither is ever changed.
    """

    SEALED = ("told", "net", "tax", "due", "quoted")

    class Kind(models.TextChoices):
        INVOICE = "invoice"
        DEPOSIT = "deposit"
        CREDIT_NOTE = "credit_note"

    kind = models.CharField(max_length=12, choices=Kind.choices)
    year = models.PositiveSmallIntegerField()
    run = models.PositiveIntegerField()
    number = models.CharField(max_length=20, unique=True)
    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="issued")
    refers_to = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="followed_by"
    )
    settled_by = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="deposits"
    )
    issued_on = models.DateField(db_index=True)
    due_on = models.DateField(null=True, blank=True)
    told = models.JSONField()
    net = models.DecimalField(max_digits=11, decimal_places=2)
    tax = models.DecimalField(max_digits=11, decimal_places=2)
    due = models.DecimalField(max_digits=11, decimal_places=2)
    quoted = models.DecimalField(max_digits=11, decimal_places=2, null=True, blank=True)
    pdf = models.BinaryField(editable=False)
    sha256 = models.CharField(max_length=64)

    class Meta:
        ordering = ("-year", "-run")
        constraints = (models.UniqueConstraint(fields=["year", "run"], name="a_number_once_a_year"),)


class Payment(Record):
    """Money that came in for an issued paper (or went back for a credit note)."""

    SEALED = ("amount",)

    issued = models.ForeignKey(Issued, on_delete=models.PROTECT, related_name="payments")
    amount = models.DecimalField(max_digits=11, decimal_places=2)
    on = models.DateField()
    how = models.CharField(max_length=40, blank=True)


class Reminder(Record):
    """A reminder that was sent for an open paper."""

    issued = models.ForeignKey(Issued, on_delete=models.PROTECT, related_name="reminders")
    on = models.DateField()
    words = models.TextField(blank=True)
