"""Settings for tests: the same program, with a fixed key, a cheap password hasher and tasks run at once."""

import os
import tempfile
from pathlib import Path

os.environ.setdefault("LEVELWRIGHT_SECRET_KEY", "only-for-tests-" + "x" * 50)
os.environ.setdefault("LEVELWRIGHT_VAR", str(Path(tempfile.gettempdir()) / f"levelwright-tests-{os.getuid()}"))

from project.settings import *  # noqa: F403
from project.settings import DATABASES, STORAGES, VAR_DIR

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
TASKS = {"default": {"BACKEND": "django_tasks.backends.immediate.ImmediateBackend"}}
STORAGES = {**STORAGES, "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}
WHITENOISE_AUTOREFRESH = True
# A file, not memory: the live server of the browser tests has threads of its own, and WAL needs a file.
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["TEST"] = {"NAME": str(VAR_DIR / f"test-{os.getpid()}.sqlite3")}
