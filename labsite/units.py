"""The lab's units while a request runs, so that a page of many quantities asks the database once."""

from contextvars import ContextVar

from labsite.models import Lab

_active = ContextVar("lab_units", default=None)


def activate(units):
    _active.set(units)


def deactivate():
    _active.set(None)


def lab_units():
    """metric or us, as the lab's settings say."""
    return _active.get() or Lab.current().units
