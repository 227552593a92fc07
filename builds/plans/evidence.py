"""The plan itself is evidence of the record; this room only copies it into a build that starts."""

from builds.plans.copying import copy_to_build
from builds.record import hooks


def register(registry):
    if copy_to_build not in hooks.build_started:
        hooks.build_started.append(copy_to_build)
