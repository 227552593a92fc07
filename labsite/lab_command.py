"""A command that reads the record: the day and the time of day it prints are the lab's, as on every page."""

from django.core.management.base import BaseCommand

from labsite.models import Lab


class LabCommand(BaseCommand):
    def execute(self, *args, **options):
        with Lab.current().own_time():
            return super().execute(*args, **options)
