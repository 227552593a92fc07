"""Write every paper of a build's plan into a folder: `python manage.py papers B-0007 --to DIR`."""

from pathlib import Path

from django.core.management.base import CommandError

from builds.papers import clinician, rules
from builds.papers.facts import Facts
from builds.papers.models import PaperKind
from builds.papers.render import SIZES, PaperError, file_name, put_paper, render_html, render_pdf
from builds.record.models import Build
from labsite.lab_command import LabCommand


class Command(LabCommand):
    help = "Write all papers of a build as PDF. What may not leave the lab is marked as a draft."

    def add_arguments(self, parser):
        parser.add_argument("build", help="build number, for example B-0007")
        parser.add_argument("--to", required=True, help="folder for the files; it must exist or can be made")
        parser.add_argument("--size", help="letter or a4; the lab's own size where it is left out")

    def handle(self, *args, **options):
        build = self.found(options["build"])
        folder = self.folder(options["to"])
        if options["size"] not in (None, *SIZES):
            raise CommandError(f"Paper size must be letter or a4, not {options['size'][:20]}.")
        for name, content in self.rendered(build, options["size"]):
            try:
                put_paper(folder / name, content)
            except OSError as error:
                raise CommandError(f"{name} could not be written to {folder}: {error.strerror}.") from error
            self.stdout.write(str(folder / name))

    def found(self, number):
        related = ("client", "unit__type", "plan_revision__plan")
        build = Build.objects.select_related(*related).filter(number=number).first()
        if build is None:
            raise CommandError(f"There is no build {number[:40]}. Enter its number, for example B-0007.")
        return build

    def folder(self, path):
        folder = Path(path)
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise CommandError(f"The folder {path} cannot be made: {error.strerror}.") from error
        return folder

    def rendered(self, build, size):
        """(name, content) of every paper, all of them rendered before the first is written."""
        facts = Facts(build)
        made = []
        for kind in rules.kinds(build):
            if kind == PaperKind.CLINICIAN_SUMMARY and clinician.refusal(build):
                self.stderr.write(clinician.refusal(build))
                continue
            is_draft = bool(rules.why_not(kind, build, facts))
            try:
                content = render_pdf(render_html(kind, build, size, facts=facts), build)
            except PaperError as error:
                raise CommandError(f"{kind.label}: {error}") from error
            made.append((file_name(build, kind, configuration=facts.configuration, draft=is_draft), content))
        return made
