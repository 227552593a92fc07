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
