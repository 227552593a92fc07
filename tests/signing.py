"""A session as signing in would make it, for browsers that need not type a password each time."""

from django.conf import settings
from django.test import Client


def session_cookie(account):
    client = Client()
    client.force_login(account)
    return client.cookies[settings.SESSION_COOKIE_NAME].value
