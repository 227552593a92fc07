"""What a controller tells at its start, typed back through the rule that a person uses."""

from builds.drive.captures import fit_in_use
from builds.drive.controller import controller_of
from builds.drive.controller_rules import record_told
from builds.record.registry import forget_prefetched


def make_told_digest(build, account, told=None):
    """The controller tells what the record says, unless it tells something else."""
    configuration = build.configuration()
    if told is None:
        told = controller_of(configuration, fit_in_use(build, configuration)).digest
    row = record_told(build, account, told)
    forget_prefetched(build)
    return row
