"""Who may be closed, whose role may be taken, and how a forgotten password is replaced."""

import secrets

from axes.utils import reset as lift_throttle
from django.core.exceptions import ValidationError

from labsite.models import Account
from labsite.roles import Role

LAST_COORDINATOR = "{name} is the last lab coordinator. Give the role to somebody else first."
OWN_ACCOUNT = "You cannot close your own account. Ask another coordinator or the director."
EASY_TO_READ = "abcdefghjkmnpqrstuvwxyz23456789"  # nothing that is mistaken for another sign


def refuse_if_last_coordinator(account):
    """The lab always keeps one open coordinator; the rows are locked so that two cannot leave at once."""
    coordinators = Account.objects.with_role(Role.COORDINATOR).select_for_update()
    if [each.pk for each in coordinators] == [account.pk]:
        raise ValidationError(LAST_COORDINATOR.format(name=account.full_name))


def refuse_closing(account, by):
    if account == by:
        raise ValidationError(OWN_ACCOUNT)
    refuse_if_last_coordinator(account)


def close_account(account, by, reason):
    refuse_closing(account, by)
    account.close(reason)


def give_one_time_password(account):
    """A password to hand over; it opens only the page where the person chooses their own."""
    password = "-".join("".join(secrets.choice(EASY_TO_READ) for _ in range(4)) for _ in range(4))
    account.set_one_time_password(password)
    lift_throttle(username=account.username)
    return password
