#!/usr/bin/env python
"""Run Django's management commands for Reachwright."""
import os
import sys


def main():
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "labsite.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
