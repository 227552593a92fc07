"""The project's own settings, with data in a folder that goes away and a password hash that is quick."""

import atexit
import os
import shutil
import tempfile

DATA = tempfile.mkdtemp(prefix="reachwright-tests-")
atexit.register(shutil.rmtree, DATA, ignore_errors=True)
os.environ["REACHWRIGHT_DATA"] = DATA
os.environ["REACHWRIGHT_MODE"] = "local"
os.environ["REACHWRIGHT_DEBUG"] = "no"
os.environ["DATABASE_URL"] = os.environ.get("TEST_DATABASE_URL", "")

from labsite.settings import *  # noqa: E402, F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
AXES_ENABLED = False  # the throttle has a test of its own, which turns it on

# The browser driver keeps a loop in the thread that also asks the database.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):  # noqa: F405
    # A file, so that threads have connections of their own, as they do in use.
    DATABASES["default"]["TEST"] = {"NAME": os.path.join(DATA, "tests.sqlite3")}  # noqa: F405
    DATABASES["default"]["OPTIONS"]["init_command"] += " PRAGMA synchronous=OFF;"  # noqa: F405
