"""The workshop's book as a Django project: one settings file, nothing to set before the first start.

Environment: PURFLING_BOOK (folder), PURFLING_DATABASE_URL (PostgreSQL), PURFLING_LAN (1 behind https on the
local network), PURFLING_HOSTS (names this machine answers to), PURFLING_TIME_ZONE, PURFLING_DEBUG.
"""

from pathlib import Path

from csp.constants import NONE, SELF

from purfling.shop import environment

HERE = Path(__file__).resolve().parent
BOOK = environment.book_folder()
LAN = environment.truth("PURFLING_LAN", False)
DEBUG = environment.truth("PURFLING_DEBUG", False)
SECRET_KEY = environment.secret_key(BOOK)
ALLOWED_HOSTS = ["127.0.0.1", "localhost", "[::1]", *environment.text("PURFLING_HOSTS", "").split()]

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.forms",
    "django_htmx",
    "csp",
    "axes",
    "django_tasks",
    "django_tasks_db",
    "purfling.shop",
]
MIDDLEWARE = [
    "purfling.shop.middleware.only_here",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "purfling.shop.middleware.maker_language",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "purfling.shop.middleware.refusals_as_sentences",
    "axes.middleware.AxesMiddleware",
]
ROOT_URLCONF = "purfling.shop.urls"
WSGI_APPLICATION = "purfling.shop.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "purfling.shop.context.shop",
            ],
            "builtins": [
                "django.templatetags.i18n",
                "django.templatetags.static",
                "purfling.shop.templatetags.bench",
            ],
        },
    }
]
FORM_RENDERER = "purfling.shop.forms.base.Renderer"

DATABASES = {"default": environment.database(BOOK)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "shop.Maker"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 12}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
LOGIN_URL = "enter"
LOGIN_REDIRECT_URL = "bench"
# A wrong pass phrase locks that name from that machine for a quarter of an hour, never the whole bench.
AXES_FAILURE_LIMIT = 6
AXES_COOLOFF_TIME = 0.25
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_TEMPLATE = "shop/locked.html"
AXES_USERNAME_FORM_FIELD = "username"
AXES_VERBOSE = False

SESSION_COOKIE_NAME = "purfling"
SESSION_COOKIE_AGE = 60 * 60 * 24 * 30
SESSION_COOKIE_SECURE = LAN
CSRF_COOKIE_SECURE = LAN
CSRF_COOKIE_NAME = "purfling_csrf"
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "object-src": [NONE],
        "base-uri": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
    }
}

LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English"), ("de", "Deutsch")]
LANGUAGE_COOKIE_NAME = "purfling_language"
# shop/locale is the book's own; a further subject keeps its catalogue in shop/locale/<subject>.
LOCALE_PATHS = [HERE / "locale", *sorted(p for p in (HERE / "locale").glob("*") if (p / "de").is_dir())]
USE_I18N = True
USE_TZ = True
USE_THOUSAND_SEPARATOR = False
TIME_ZONE = environment.text("PURFLING_TIME_ZONE", environment.local_zone())

STATIC_URL = "static/"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
WHITENOISE_USE_FINDERS = True
WHITENOISE_MAX_AGE = 0 if DEBUG else 300
MEDIA_ROOT = BOOK / "photographs"

TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
}
