"""Fill an empty database with the demo lab, and say who signs in."""

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from builds.demo import family_links
from builds.demo.lab import fill
from builds.demo.people import sign_ins
from labsite.models import Account

NOT_EMPTY = "This database has accounts already, so the demo lab was not added."


class Command(BaseCommand):
    help = "Fill an empty database with the Alder Creek Adaptive Equipment Lab, which is invented throughout."

    def add_arguments(self, parser):
        parser.add_argument("--if-empty", action="store_true", help="Do nothing when there are accounts already")

    def handle(self, *args, if_empty, **options):
        if settings.PRODUCTION:
            raise CommandError("The demo lab is not for production: its password is known to everybody.")
        if Account.objects.exists():
            if not if_empty:
                raise CommandError(f"{NOT_EMPTY} Use an empty database.")
            self.stdout.write(NOT_EMPTY)
            self.tell_sign_ins("The demo lab in it is kept as it is. Sign in as:")
            return
        fill()
        self.tell_sign_ins("The demo lab is ready. Everything in it is invented. Sign in as:")

    def tell_sign_ins(self, heading):
        """Only people of the demo with its well-known password; a lab's own accounts are never listed."""
        people = list(sign_ins())
        if people:
            self.stdout.write(heading)
        for roles, name, username, password in people:
            self.stdout.write(f"  {roles:<42} {name:<14} {username:<8} {password}")
        if people and (link := family_links.told()):
            self.stdout.write(f"A family opens its link without signing in: {link[0]} with the word {link[1]}")
