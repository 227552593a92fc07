"""Make the first account of an empty database; everybody else is added from the pages."""

import getpass
import sys

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError
from django.db import transaction

from labsite.account_forms import clean_username
from labsite.models import Account


class Command(BaseCommand):
    help = "Make the first lab coordinator. Refuses when one exists."

    def add_arguments(self, parser):
        parser.add_argument("--username", help="Sign-in name")
        parser.add_argument("--full-name", help="Full name")
        parser.add_argument("--password-stdin", action="store_true", help="Read the password from standard input")

    @transaction.atomic
    def handle(self, *args, username, full_name, password_stdin, **options):
        self._refuse_if_one_exists()
        account = Account(
            full_name=(full_name or self._ask("Full name")).strip(),
            username=clean_username(username or self._ask("Sign-in name")),
            is_coordinator=True,
        )
        password = sys.stdin.readline().rstrip("\r\n") if password_stdin else self._ask_password()
        self._check(account, password)
        account.set_password(password)
        account.save(force_insert=True)
        self.stdout.write(f"{account.full_name} is the lab coordinator and signs in as {account.username}.")

    def _refuse_if_one_exists(self):
        if Account.objects.filter(is_coordinator=True).exists():
            raise CommandError("A lab coordinator exists. Accounts are added on the accounts page.")

    def _ask(self, label):
        try:
            return input(f"{label}: ")
        except EOFError as end:
            raise CommandError(f"{label} is missing. Give it as an option; --help names them.") from end

    def _ask_password(self):
        password = getpass.getpass("Password: ")
        if getpass.getpass("Password, once more: ") != password:
            raise CommandError("The two passwords differ. Run the command again.")
        return password

    def _check(self, account, password):
        try:
            account.full_clean(exclude=["password"])
            validate_password(password, account)
        except ValidationError as refusal:
            raise CommandError(" ".join(refusal.messages)) from refusal
