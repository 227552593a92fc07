"""Load the build plans that come with the program, or a lab's own, from their files."""

from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from builds.plans.loading import DATA, load_folder
from builds.plans.schema import PlanError


class Command(BaseCommand):
    help = "Load build plans from *.toml files. Loading the same content again changes nothing."

    def add_arguments(self, parser):
        parser.add_argument("--folder", type=Path, default=DATA, help="folder with the plan files")

    def handle(self, *, folder, verbosity, **options):
        try:
            done = load_folder(folder)
        except PlanError as error:
            raise CommandError(str(error)) from error
        if verbosity:
            for revision, is_new in done:
                self.stdout.write(f"{revision}: {'loaded' if is_new else 'unchanged'}")
