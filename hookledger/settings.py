"""Settings, all from the environment. DEVELOPERS.md lists the variables.

The readers in `env.py` refuse nonsense by name; `checks.py` refuses what is
unsafe before anything is served.
"""

from pathlib import Path

import django_stubs_ext
from csp.constants import NONE, SELF
from django.utils.translation import gettext_lazy as _

from hookledger import env

django_stubs_ext.monkeypatch()  # lets ModelForm[Person] be written at run time

BASE_DIR = Path(__file__).resolve().parent.parent
DATA = env.read_folder("HOOKLEDGER_DATA", BASE_DIR / "data")
DEBUG = env.read_yes_no("HOOKLEDGER_DEBUG", default=False)
SITE = env.read_site("HOOKLEDGER_SITE")
BEHIND_TLS = SITE is not None and SITE.scheme == "https"

SECRET_KEY_FILE = DATA / "secret-key"
SECRET_KEY = env.read_secret("HOOKLEDGER_SECRET_KEY") or env.read_key_file(SECRET_KEY_FILE)

LOCAL_HOSTS = ["localhost", "127.0.0.1", "[::1]"]
ALLOWED_HOSTS = [*LOCAL_HOSTS, *([SITE.hostname] if SITE and SITE.hostname else [])]
CSRF_TRUSTED_ORIGINS = [f"{SITE.scheme}://{SITE.netloc}"] if SITE else []

INSTALLED_APPS = [
    "hookledger",
    "orders",
    "patterns",
    "yarns",
    "workroom",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.forms",
    "django_htmx",
    "csp",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "hookledger.middleware.StudioClockMiddleware",
    "hookledger.roles.RolesMiddleware",
]

ROOT_URLCONF = "hookledger.urls"
WSGI_APPLICATION = "hookledger.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": False,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.messages.context_processors.messages",
                "hookledger.context.page",
            ],
            "loaders": [
                (
                    "django.template.loaders.cached.Loader",
                    [
                        "django.template.loaders.filesystem.Loader",
                        "django.template.loaders.app_directories.Loader",
                    ],
                ),
            ]
            if not DEBUG
            else [
                "django.template.loaders.filesystem.Loader",
                "django.template.loaders.app_directories.Loader",
            ],
        },
    },
]
FORM_RENDERER = "workroom.forms.Renderer"

DATABASES = {"default": env.read_database("DATABASE_URL", DATA)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "workroom.Person"
LOGIN_URL = "workroom:sign_in"
LOGIN_REDIRECT_URL = "desk"
LOGOUT_REDIRECT_URL = "workroom:sign_in"
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ("handle", "name", "email")},
    },
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]

LANGUAGE_CODE = "en"
LANGUAGES = [("en", _("English")), ("en-gb", _("English (UK)"))]
LOCALE_PATHS = [BASE_DIR / "locale"]
USE_I18N = True
FORMAT_MODULE_PATH = "hookledger.formats"
USE_TZ = True
TIME_ZONE = "UTC"
USE_THOUSAND_SEPARATOR = True

STATIC_URL = "/static/"
STATIC_ROOT = DATA / "static"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATICFILES_FINDERS = [
    "django.contrib.staticfiles.finders.FileSystemFinder",
    "django.contrib.staticfiles.finders.AppDirectoriesFinder",
    "workroom.fonts.FontFinder",
]
STORAGES = {
    "default": {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {"location": DATA / "media", "base_url": "/media/"},
    },
    "staticfiles": {"BACKEND": "workroom.static.HashedStorage"},
}
WHITENOISE_MANIFEST_STRICT = True
WHITENOISE_ALLOW_ALL_ORIGINS = False
WHITENOISE_KEEP_ONLY_HASHED_FILES = True  # pages name these alone; half the work at the first start

DATA_UPLOAD_MAX_MEMORY_SIZE = 16 * 1024 * 1024
FILE_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024

HOOKLEDGER_MAIL = env.read_mail("HOOKLEDGER_MAIL")
if HOOKLEDGER_MAIL is None:
    EMAIL_BACKEND = "django.core.mail.backends.dummy.EmailBackend"
else:
    EMAIL_HOST, EMAIL_PORT = HOOKLEDGER_MAIL.host, HOOKLEDGER_MAIL.port
    EMAIL_HOST_USER, EMAIL_HOST_PASSWORD = HOOKLEDGER_MAIL.user, HOOKLEDGER_MAIL.password
    EMAIL_USE_TLS, EMAIL_USE_SSL = HOOKLEDGER_MAIL.starts_tls, HOOKLEDGER_MAIL.tls_from_start
    EMAIL_TIMEOUT = 10
DEFAULT_FROM_EMAIL = env.read_text("HOOKLEDGER_MAIL_FROM", "workroom@localhost")

MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"
SESSION_COOKIE_AGE = 60 * 60 * 24 * 30
SESSION_COOKIE_NAME = "hookledger_session"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = BEHIND_TLS
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_NAME = "hookledger_csrf"
CSRF_COOKIE_HTTPONLY = True
CSRF_FAILURE_VIEW = "hookledger.errors.csrf_failure"
SECURE_SSL_REDIRECT = False  # the proxy in front does that; /healthz must answer plainly
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if BEHIND_TLS else None
SECURE_HSTS_SECONDS = 60 * 60 * 24 * 365 if BEHIND_TLS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = False
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
SILENCED_SYSTEM_CHECKS = [
    "security.W004",  # no HSTS: right without TLS; hookledger.E003 sees to TLS for an address others can open
    "security.W005",  # HSTS for subdomains: they are not ours to bind
    "security.W008",  # redirect to https: the proxy's work; /healthz must answer plainly
    "security.W021",  # HSTS preload: not ours to ask for
]

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "media-src": [SELF, "blob:"],
        "manifest-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
    },
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
}
