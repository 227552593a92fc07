"""Everything a test makes, under one name each. The demo lab is built by the same factories."""

from builds.demo.factories.accounts import PASSWORD, AccountFactory, LabFactory

__all__ = ["PASSWORD", "AccountFactory", "LabFactory", "make_account", "make_lab"]


def make_account(role=None, **facts):
    """An open account; further roles by is_coordinator=True and the like."""
    return AccountFactory(role=role, **facts)


def make_lab(**facts):
    return LabFactory(**facts)
