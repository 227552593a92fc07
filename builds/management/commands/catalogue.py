"""Bring the catalogues of the papers up to date: `python manage.py catalogue`, or only look with `--check`."""

from django.core.management.base import BaseCommand, CommandError

from builds.papers import catalogue, extracting


class Command(BaseCommand):
    help = "Collect the sentences of the papers and the plans into the catalogues of the other languages."

    def add_arguments(self, parser):
        parser.add_argument("--check", action="store_true", help="write nothing; fail when a catalogue is out of date")

    def handle(self, *, check, **options):
        for language in catalogue.languages():
            if language != catalogue.SOURCE:
                self.bring_up_to_date(language, check)

    def bring_up_to_date(self, language, check):
        path = catalogue.file_of(language, "po")
        try:
            now, before = extracting.merged(language), path.read_text()
        except OSError as error:
            raise CommandError(f"The catalogue could not be made: {error}.") from error
        if check and now != before:
            raise CommandError(f"The catalogue of {language} is out of date. Run: python manage.py catalogue")
        if not check:
            path.write_text(now)
        self.stdout.write(f"{path}: {'up to date' if now == before else 'changed'}")
