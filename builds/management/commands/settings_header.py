"""Writes the drive core and the header of settings of one build: `manage.py settings_header B-0007 --to DIR`."""

from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

from django.core.management.base import CommandError

from builds.drive.captures import fit_in_use
from builds.drive.controller import archive_of, controller_of
from builds.record.models import Build
from labsite.lab_command import LabCommand


class Command(LabCommand):
    help = "Writes the drive core with the settings of a build's configuration, and prints the digest."

    def add_arguments(self, parser):
        parser.add_argument("build", metavar="BUILD", help="Number of the build, for example B-0007")
        parser.add_argument("--to", metavar="DIR", required=True, help="Folder to write to; made where it is missing")

    def handle(self, *args, build, to, **options):
        found = Build.objects.filter(number=build).first()
        if found is None:
            raise CommandError(f"There is no build {build}. Enter its number, for example B-0007.")
        configuration = found.configuration()
        if configuration is None or not found.has_stick:
            raise CommandError(f"Build {build} has no configuration with a stick, so there is nothing to write.")
        controller = controller_of(configuration, fit_in_use(found, configuration))
        if controller.settings is None:
            why = controller.problem or f"Unknown yet: {', '.join(controller.missing)}."
            raise CommandError(f"The settings of build {build} are not complete. {why}")
        folder = Path(to)
        try:
            folder.mkdir(parents=True, exist_ok=True)
            with ZipFile(BytesIO(archive_of(found, configuration, controller))) as archive:
                archive.extractall(folder)
        except OSError as error:
            raise CommandError(f"Nothing could be written to {to}: {error.strerror}. Choose another folder.") from error
        self.stdout.write(controller.digest)
