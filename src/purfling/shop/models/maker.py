"""Who works in the shop: the owner and the assistants."""

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models

from purfling.shop.models.record import Record


class Maker(Record, AbstractBaseUser):
    """A person of the shop with a pass phrase; ``role`` is what the door looks at."""

    class Role(models.TextChoices):
        OWNER = "owner"
        ASSISTANT = "assistant"

    name = models.CharField(max_length=80, unique=True)
    role = models.CharField(max_length=12, choices=Role.choices, default=Role.ASSISTANT)
    language = models.CharField(max_length=5, blank=True)
    is_active = models.BooleanField(default=True)

    USERNAME_FIELD = "name"
    REQUIRED_FIELDS = ()
    objects = BaseUserManager()

    def __str__(self) -> str:
        return self.name
