"""Write the family packs of many builds: `python manage.py papers_pack --to DIR`, in as many processes as cores."""

import os
from pathlib import Path

from django.core.management.base import CommandError

from builds.papers.batch import draw_all, sheets
from builds.papers.render import SIZES
from builds.record.holds import Stage
from builds.record.models import Build
from labsite.lab_command import LabCommand

MOST_PROCESSES = 64


class Command(LabCommand):
    help = (
        "Write what each family takes home as PDF, a folder for each build. What may not leave the lab is marked as a "
        "draft. These are prints: a copy that a family keeps is issued on the page of its build."
    )

    def add_arguments(self, parser):
        parser.add_argument("build", nargs="*", help="build numbers; every build in use where they are left out")
        parser.add_argument("--to", required=True, help="folder for the packs; it must exist or can be made")
        parser.add_argument("--size", help="letter or a4; the lab's own size where it is left out")
        parser.add_argument("--processes", type=int, help="how many at once; as many as cores where it is left out")

    def handle(self, *args, **options):
        processes = self.processes(options["processes"])
        if options["size"] not in (None, *SIZES):
            raise CommandError(f"Paper size must be letter or a4, not {options['size'][:20]}.")
        builds, folder = self.found(options["build"]), self.folder(options["to"])
        drawn = draw_all(sheets(builds, folder, options["size"]), processes)
        written, wrong = 0, []
        for path, problem in drawn:
            if problem:
                wrong.append(f"{Path(path).name}: {problem}")
                self.stderr.write(wrong[-1])
            else:
                written += 1
        self.stdout.write(f"{written} papers of {len(builds)} builds in {folder}")
        if wrong:
            raise CommandError(f"{len(wrong)} papers could not be made. Everything else is there.")

    def processes(self, asked):
        if asked is None:
            return os.cpu_count() or 1
        if not 1 <= asked <= MOST_PROCESSES:
            raise CommandError(f"Processes must be from 1 to {MOST_PROCESSES}, not {asked}.")
        return asked

    def found(self, numbers):
        known = Build.objects.select_related("client", "unit__type", "plan_revision__plan").order_by("serial")
        if not numbers:
            return list(known.filter(stage=Stage.IN_USE))
        builds = {build.number: build for build in known.filter(number__in=numbers)}
        lost = [number[:40] for number in numbers if number not in builds]
        if lost:
            raise CommandError(f"There is no build {', '.join(lost)}. Enter numbers such as B-0007.")
        return list(builds.values())

    def folder(self, path):
        folder = Path(path)
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise CommandError(f"The folder {path} cannot be made: {error.strerror}.") from error
        return folder
