"""Moments of a build that rooms may act on without the record knowing them."""

build_started = []  # callables (build, account): copy the plan into the build
configuration_changed = []  # callables (build, configuration, account)
evidence_failed = []  # callables (nonconformance)
proved_ballast = []  # callables (build) -> ballast of the floor run [kg] or None
