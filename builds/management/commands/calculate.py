"""Computes one calculator from the shell: `manage.py calculate wire-run gauge="14 AWG" length="2 m" current="18 A"`."""

import json
import sys

from django.core.management.base import BaseCommand, CommandError

from builds.engineering.calculators import CALCULATORS, INPUT_ERRORS, InputError, calculate
from builds.engineering.typed import quoted

WRONG_INPUT = 2


class Command(BaseCommand):
    help = "Computes a calculator and prints one JSON object. Names: " + ", ".join(CALCULATORS)
    requires_system_checks = []

    def create_parser(self, prog_name, subcommand, **options):
        parser = super().create_parser(prog_name, subcommand, **options)
        parser.error = _exit_with_one_line
        return parser

    def add_arguments(self, parser):
        parser.add_argument("name", metavar="NAME", nargs="?", default="", help="Which calculator")
        parser.add_argument("pairs", metavar="key=value", nargs="*", help="Its inputs")

    def handle(self, *args, name, pairs, **options):
        try:
            answer = calculate(name, _by_name(pairs))
        except INPUT_ERRORS as error:
            raise CommandError(_one_line(error), returncode=WRONG_INPUT) from error
        self.stdout.write(json.dumps(answer, indent=2, allow_nan=False))


def _by_name(pairs):
    given = {}
    for pair in pairs:
        key, equals, text = pair.partition("=")
        if not equals:
            raise InputError(f"{quoted(pair)} is not key=value. Enter it like length=2, with quotes around spaces.")
        if key in given:
            raise InputError(f"{quoted(key)} is there more than once. Enter it once.")
        given[key] = text
    return given


def _one_line(message):
    return " ".join(str(message).split())


def _exit_with_one_line(message):
    sys.stderr.write(f"{_one_line(message)}\n")
    sys.exit(WRONG_INPUT)
