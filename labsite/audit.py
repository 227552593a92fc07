"""The trail of who looked: every opening of an identified person's file is written down."""

from labsite.models import FileOpening


def note_opening(account, client, what):
    """Write down that this account saw who this client is."""
    FileOpening.objects.create(account=account, case_code=client.case_code, what=what)


def note_opening_without_account(by, client, what):
    """Write down that somebody without an account, for example over a family link, looked at this case."""
    FileOpening.objects.create(by=by, case_code=client.case_code, what=what)
