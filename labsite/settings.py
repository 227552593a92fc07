"""Settings of Reachwright, all in one file; DEVELOPERS.md lists the environment variables."""

from importlib.util import find_spec
from pathlib import Path

from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured

from labsite import env

BASE_DIR = Path(__file__).resolve().parent.parent
MODE = env.choice("REACHWRIGHT_MODE", "local", ("local", "production"))
PRODUCTION = MODE == "production"
DATA_DIR = env.folder("REACHWRIGHT_DATA", BASE_DIR / "var")
SECRET_KEY = env.secret("REACHWRIGHT_SECRET_KEY", DATA_DIR / "secret-key", PRODUCTION)
DEBUG = env.flag("REACHWRIGHT_DEBUG", False)
if DEBUG and PRODUCTION:
    raise ImproperlyConfigured("REACHWRIGHT_DEBUG is on in production. Set it to no.")
ALLOWED_HOSTS = env.words("REACHWRIGHT_HOSTS", () if PRODUCTION else ("127.0.0.1", "localhost", "[::1]"))
if PRODUCTION and not ALLOWED_HOSTS:
    raise ImproperlyConfigured("REACHWRIGHT_HOSTS is not set. Set it to the site's host names, with commas.")

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.contrib.humanize",
    "axes",
    "auditlog",
    "csp",
    "crispy_forms",
    "crispy_bootstrap5",
    "labsite",
    "clients",
    "builds",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "labsite.middleware.SignInFirstMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "auditlog.middleware.AuditlogMiddleware",
    "labsite.middleware.LabMiddleware",
    "labsite.middleware.PasswordChangeMiddleware",
    "labsite.middleware.OneSubmissionMiddleware",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "labsite.urls"
WSGI_APPLICATION = "labsite.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "labsite.context.lab",
            ],
        },
    },
]

DATABASES = {"default": env.database("DATABASE_URL", f"sqlite:///{DATA_DIR / 'reachwright.sqlite3'}")}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # Writers wait for each other instead of failing; readers never wait.
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        # What is deleted is overwritten: an erased family is to be gone from the file itself.
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA foreign_keys=ON; "
        "PRAGMA secure_delete=ON;",
    }
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "labsite.Account"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "labsite.passwords.LongEnough", "OPTIONS": {"min_length": 12}},
    {"NAME": "labsite.passwords.NotCommon"},
    {"NAME": "labsite.passwords.NotTheName", "OPTIONS": {"user_attributes": ("username", "full_name")}},
]
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign_in"
SESSION_COOKIE_AGE = 60 * 60 * env.number("REACHWRIGHT_SESSION_HOURS", 10, 1, 72)
AXES_FAILURE_LIMIT = 6
AXES_COOLOFF_TIME = 0.25  # hours
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_CLIENT_IP_CALLABLE = "labsite.knocks.address_of"  # behind a proxy too, where REMOTE_ADDR is the proxy's
AXES_LOCKOUT_CALLABLE = "labsite.door.locked_out"
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False  # so that the time given on the page stays true
AXES_RESET_ON_SUCCESS = True
AXES_VERBOSE = False

LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English"), ("es", "Spanish")]  # those that papers are printed in; pages are in English
LOCALE_PATHS = [BASE_DIR / "builds" / "locale"]
TIME_ZONE = "UTC"
USE_TZ = True


def _package_folder(package, inside):
    return Path(find_spec(package).submodule_search_locations[0]) / inside


STATIC_URL = "static/"
STATIC_ROOT = env.folder("REACHWRIGHT_STATIC", DATA_DIR / "static")
STATICFILES_DIRS = [
    BASE_DIR / "static",
    ("fonts", _package_folder("fontpkg_atkinson_hyperlegible", "files")),
    ("bootstrap", _package_folder("bootstrap", "css")),
]
WHITENOISE_USE_FINDERS = not PRODUCTION
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
        if PRODUCTION
        else "django.contrib.staticfiles.storage.StaticFilesStorage"
    },
}
MEDIA_ROOT = DATA_DIR / "files"  # never served by address: every file goes through a view that asks who
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
FILE_UPLOAD_PERMISSIONS = 0o600

CRISPY_ALLOWED_TEMPLATE_PACKS = "bootstrap5"
CRISPY_TEMPLATE_PACK = "bootstrap5"

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "font-src": [SELF],
        "img-src": [SELF, "data:"],
        "connect-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
if PRODUCTION:
    SECURE_SSL_REDIRECT = env.flag("REACHWRIGHT_HTTPS_REDIRECT", True)
    SECURE_HSTS_SECONDS = env.number("REACHWRIGHT_HSTS_SECONDS", 31536000, 0, 63072000)
    SECURE_HSTS_INCLUDE_SUBDOMAINS = True
    SECURE_HSTS_PRELOAD = True
    SESSION_COOKIE_SECURE = True
    CSRF_COOKIE_SECURE = True
    if env.flag("REACHWRIGHT_BEHIND_PROXY", False):
        SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in ALLOWED_HOSTS]
