"""Moments of a build that rooms may act on without the record knowing them."""

build_started = []  # callables (build, account): copy the plan into the build
configuration_changed = []  # callables (build, configuration, account)
evidence_failed = []  # callables (nonconformance)
measured = []  # callables (build, what a step tests, unit) -> its passed reading in that unit, or None
proved_ballast = []  # callables (build) -> ballast of the floor run [kg] or None
