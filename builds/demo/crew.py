"""The people who take a build along its path: nobody checks or releases their own work."""

from dataclasses import dataclass, replace

from labsite.models import Account


@dataclass(frozen=True)
class Crew:
    coordinator: Account
    builder: Account  # does the work at the bench
    second: Account  # is on the build only to check the wiring blind
    reviewer: Account  # releases

    def but(self, **others):
        """The same crew with somebody else in one place."""
        return replace(self, **others)
