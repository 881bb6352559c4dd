"""The book's settings under test: a scratch folder, a database file of its own, cheap hashing."""

import os
import tempfile
from pathlib import Path

_SCRATCH = Path(tempfile.mkdtemp(prefix="purfling-tests-"))
os.environ["PURFLING_BOOK"] = str(_SCRATCH)
os.environ.setdefault("PURFLING_TIME_ZONE", "Europe/Berlin")
# The browser drives Django's own threads; without this the database teardown is refused.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

from purfling.shop.settings import *  # noqa: E402, F403
from purfling.shop.settings import DATABASES  # noqa: E402

if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["TEST"] = {"NAME": str(_SCRATCH / "test.sqlite3")}
DATABASES["default"]["CONN_MAX_AGE"] = 0
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
ALLOWED_HOSTS = ["*"]
