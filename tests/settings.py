"""The house's own settings on a throw-away data folder, with a quick password hasher."""

import os
import tempfile

os.environ["HOOKLEDGER_DATA"] = tempfile.mkdtemp(prefix="hookledger-tests-")
os.environ["HOOKLEDGER_SECRET_KEY"] = "a key for tests only, that guards nothing at all, fifty long"
os.environ.pop("HOOKLEDGER_SITE", None)
os.environ.pop("HOOKLEDGER_DEBUG", None)

from hookledger.settings import *  # noqa: F403 - after the environment above; all of them
from hookledger.settings import STORAGES

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    **STORAGES,
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
WHITENOISE_AUTOREFRESH = True
ALLOWED_HOSTS = ["testserver", "localhost", "127.0.0.1"]
