"""All settings of the site; RELATIONS_* environment variables change them, a bad value stops."""

import os
import re
import secrets
import sys
from datetime import date
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.core.exceptions import ImproperlyConfigured

BASE_DIR = Path(__file__).resolve().parent.parent


def _text(name: str, default: str) -> str:
    return os.environ.get(f"RELATIONS_{name}", "").strip() or default


def _flag(name: str, *, default: bool) -> bool:
    said = _text(name, "yes" if default else "no").casefold()
    if said not in {"yes", "no"}:
        raise ImproperlyConfigured(f"RELATIONS_{name} must be yes or no, not {said!r}.")
    return said == "yes"


def _day(name: str) -> date | None:
    said = _text(name, "")
    try:
        return date.fromisoformat(said) if said else None
    except ValueError as error:
        raise ImproperlyConfigured(
            f"RELATIONS_{name} must be a day as YYYY-MM-DD, not {said!r}."
        ) from error


def _minutes(name: str, default: int) -> int:
    said = _text(name, str(default))
    if not (said.isascii() and said.isdecimal() and 1 <= int(said) <= 24 * 60):
        raise ImproperlyConfigured(f"RELATIONS_{name} must be minutes, 1 to 1440, not {said!r}.")
    return int(said)


def _zone(name: str, default: str) -> str:
    said = _text(name, default)
    try:
        ZoneInfo(said)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise ImproperlyConfigured(f"RELATIONS_{name} names no time zone: {said!r}.") from error
    return said


def _country(name: str, default: str) -> str:
    said = _text(name, default)
    if said and not (len(said) == 2 and said.isascii() and said.isupper()):
        raise ImproperlyConfigured(f"RELATIONS_{name} must be two capital letters, not {said!r}.")
    return said


def _language(name: str, default: str) -> str:
    said = _text(name, default)
    if said not in dict(LANGUAGES):
        raise ImproperlyConfigured(f"RELATIONS_{name}: {said!r} is not in {[*dict(LANGUAGES)]}.")
    return said


def _tag(name: str, default: str) -> str:
    said = _text(name, default)
    if re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*", said) is None:
        raise ImproperlyConfigured(f"RELATIONS_{name} must be a language such as en: {said!r}.")
    return said


def _paper_size(name: str, default: str) -> str:
    said = _text(name, default)
    if said not in {"A4", "Letter"}:
        raise ImproperlyConfigured(f"RELATIONS_{name} must be A4 or Letter, not {said!r}.")
    return said


def _secret(home: Path) -> str:
    """The key that signs cookies: the home's own, or one for this process where no home is yet."""
    kept = home / "cookie.key"
    return kept.read_text() if kept.is_file() else secrets.token_urlsafe(50)


def _database(home: Path) -> dict[str, object]:
    """The embedded sealed file of the home, or the PostgreSQL server that is named."""
    if _text("DATABASE", ""):
        raise ImproperlyConfigured("RELATIONS_DATABASE is called RELATIONS_DATABASE_URL now.")
    address = _text("DATABASE_URL", "")
    if not address:
        return {
            "ENGINE": "relations.privacy.cipher",
            "NAME": home / "register.db",
            "CONN_MAX_AGE": None,
            # A deferred transaction that has read cannot become a writer under load.
            "OPTIONS": {"transaction_mode": "IMMEDIATE", "timeout": 20},
        }
    from relations.privacy import reaching  # the driver is read only where there is a server

    try:
        found = reaching.read(address, os.environ)
    except reaching.Unreachable as error:
        raise ImproperlyConfigured(f"RELATIONS_DATABASE_URL: {error}.") from error
    # Whatever the server is set to: what our pages acknowledge is on its disk.
    found["OPTIONS"]["options"] = "-c synchronous_commit=on"
    # A server that was started again since is found before a page needs it.
    kept = {"CONN_MAX_AGE": None, "CONN_HEALTH_CHECKS": True}
    return {"ENGINE": "django.db.backends.postgresql", **kept, **found}


LANGUAGES = [("en", "English"), ("fr", "Français"), ("ar", "العربية"), ("ne", "नेपाली")]
LANGUAGE_CODE = _language("LANGUAGE", "en")
LOCALE_PATHS = [BASE_DIR / "locale"]
USE_I18N = USE_TZ = True
TIME_ZONE = _zone("ZONE", "Europe/Paris")

# The home: keys, sealed database and sealed files of one project.
# `demo` never touches another home than the rehearsal's.
_REHEARSAL = BASE_DIR / "var" / "rehearsal"
RELATIONS_HOME = (
    _REHEARSAL
    if sys.argv[1:2] == ["demo"]
    else Path(_text("HOME", str(BASE_DIR / "var" / "real"))).absolute()
)
# A day set here stands still for lists, rings and weighing; sign-ins and the log go on.
RELATIONS_TODAY = _day("TODAY")
RELATIONS_COUNTRY = _country("COUNTRY", "FR")
# Letters of the form's second language, the one the project is run in.
RELATIONS_OFFICE_LANGUAGE = _language("OFFICE_LANGUAGE", "fr")
# The language the artist writes the papers in; every other one is a translation of it.
RELATIONS_SOURCE_LANGUAGE = _tag("SOURCE_LANGUAGE", "en")
# Who is answerable, on every form and in records for others, where what is left empty is missing.
RELATIONS_PROJECT, RELATIONS_STOP_NUMBER = _text("PROJECT", ""), _text("STOP_NUMBER", "")
RELATIONS_PROJECT_ADDRESS = _text("PROJECT_ADDRESS", "")
RELATIONS_PROJECT_CONTACT = _text("PROJECT_CONTACT", "")
RELATIONS_LAW_OF, RELATIONS_STORED_IN = _country("LAW_OF", ""), _country("STORED_IN", "")
RELATIONS_PAPER_SIZE = _paper_size("PAPER_SIZE", "A4")
# An open home that nobody signed in has used for so long locks itself: the server ends.
RELATIONS_IDLE_MINUTES = _minutes("IDLE_MINUTES", 30)

# Commands that `begin` runs once a real home and its first users are made.
RELATIONS_AFTER_BEGIN = ["load_wordings"]
# What is called each time a home is opened, before anybody is let in; one that raises locks it.
_OPENING = "privacy.tables.stand privacy.travelling.stand rights.checks.stand"
_OPENING += " rights.erasing.catch_up privacy.outbox.stand"
RELATIONS_ON_OPENING = [f"relations.{name}" for name in _OPENING.split()]

# Where rows keep the keys of sealed files, by the folder of the home that the files lie in.
RELATIONS_SEALED_FILES = {
    "scans": [
        *(("documents.Scan", "file"), ("documents.Sheet", "kept"), ("documents.Upload", "file")),
        *(("documents.Page", "file"), ("meetings.Recording", "file"), ("consent.KeptCopy", "file")),
    ],
    "pictures": [("pictures.Picture", "light_copy")],
}

DEBUG = False
SECRET_KEY = _secret(RELATIONS_HOME)  # signs cookies; a session lives in the sealed database
ALLOWED_HOSTS = [host for host in _text("HOSTS", "127.0.0.1 localhost").split() if host]
# Behind a proxy with TLS in front, cookies travel sealed only; on the laptop itself they cannot.
SECURE_COOKIES = _flag("TLS", default=False)

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "crispy_forms",
    "relations.languages",
    "relations.privacy",
    "relations.documents",
    "relations.people",
    "relations.meetings",
    "relations.pictures",
    "relations.referrals",
    "relations.consent",
    "relations.prints",
    "relations.uses",
    "relations.rights",
    "relations.trips",
    "relations.today",
]

MIDDLEWARE = [
    "relations.privacy.middleware.HeadersMiddleware",
    "django.middleware.security.SecurityMiddleware",
    # A locked site answers its unlocking page and nothing else, static files included.
    "relations.privacy.middleware.LockedMiddleware",
    "relations.privacy.middleware.MethodsMiddleware",
    # Above the static files: the one style sheet is the largest part of a first visit.
    "django.middleware.gzip.GZipMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "relations.privacy.failing.KeptSessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "relations.privacy.ending.EndingMiddleware",
    "relations.privacy.turned_away.TurnedAwayMiddleware",
    "relations.privacy.middleware.LanguageMiddleware",
    "relations.privacy.failing.ClockMiddleware",
    "relations.privacy.reading_only.ReadingOnlyMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "relations.documents.faults.FaultsMiddleware",
]

ROOT_URLCONF = "relations.urls"
WSGI_APPLICATION = "relations.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.template.context_processors.i18n",
                "relations.privacy.context.page",
            ],
        },
    }
]
CRISPY_TEMPLATE_PACK = CRISPY_ALLOWED_TEMPLATE_PACKS = "plain"

DATABASES = {"default": _database(RELATIONS_HOME)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
TEST_RUNNER = "tests.runner.PytestRunner"

AUTH_USER_MODEL = "privacy.User"
LOGIN_URL = "privacy:sign_in"
LOGIN_REDIRECT_URL = "today:today"
PASSWORD_HASHERS = ["relations.privacy.hashers.SiteArgon2"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "relations.privacy.passwords.LongEnough"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]

# A session ends 30 minutes after the last page, and 8 hours after signing in whatever is done.
SESSION_COOKIE_AGE = 30 * 60
SESSION_TOTAL_AGE = 8 * 3600
SESSION_SAVE_EVERY_REQUEST = True
SESSION_EXPIRE_AT_BROWSER_CLOSE = True
# Behind TLS the browser itself refuses such a cookie from another host or over a plain line.
_HOST, _SECURE = ("__Host-", "__Secure-") if SECURE_COOKIES else ("", "")
SESSION_COOKIE_NAME, CSRF_COOKIE_NAME = f"{_HOST}sessionid", f"{_HOST}csrftoken"
LANGUAGE_COOKIE_NAME = f"{_HOST}language"
# Sent to the sign-in page only; a __Host- cookie would go to every page.
DEVICE_COOKIE_NAME = f"{_SECURE}device"
# The token of a form stands in the form; no script reads the cookie.
SESSION_COOKIE_HTTPONLY = CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Strict"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_COOKIES
CSRF_FAILURE_VIEW = "relations.privacy.views.csrf_failure"
CSRF_TRUSTED_ORIGINS = [o for o in _text("ORIGINS", "").split() if o]
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if SECURE_COOKIES else None
SECURE_SSL_REDIRECT = SECURE_COOKIES
SECURE_HSTS_SECONDS = 365 * 24 * 3600 if SECURE_COOKIES else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = SECURE_COOKIES
X_FRAME_OPTIONS = "DENY"

STATIC_URL = "/static/"
STATICFILES_DIRS = [BASE_DIR / "relations" / "static"]
# Served from where they lie; nothing is collected.
WHITENOISE_USE_FINDERS = True
STORAGES = {
    "default": {"BACKEND": "relations.privacy.files.SealedStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}

# A scan goes from the line straight into its sealed file; nothing is spooled in clear on the way.
FILE_UPLOAD_HANDLERS = ["relations.privacy.uploads.MemoryOnly"]
UPLOAD_BYTES = 25 * 1024 * 1024
# All words of one form together; reading ten times as many would hold a worker for as long.
DATA_UPLOAD_MAX_MEMORY_SIZE = 640 * 1024

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "plain": {
            "format": "{asctime} {levelname} {name}: {message}",
            "style": "{",
            "datefmt": "%Y-%m-%dT%H:%M:%S%z",
        }
    },
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    # It warns whenever somebody waits for one of four threads: a busy day is no fault.
    "loggers": {"waitress.queue": {"level": "ERROR"}},
}
if "test" in sys.argv[1:2]:
    LOGGING["root"] = {"handlers": [], "level": "WARNING"}
