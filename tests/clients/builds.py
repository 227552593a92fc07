"""A build of a client, as far as the clients' pages look at it."""

from builds.demo.factories.accounts import AccountFactory
from builds.demo.factories.parts import BaseUnitFactory
from builds.demo.factories.plans import make_plan_revision
from builds.record.models import Build
from labsite.roles import Role


def make_build(client, *builders, **facts):
    build = Build.objects.start(
        client=client,
        unit=BaseUnitFactory(),
        plan_revision=make_plan_revision(),
        made_by=AccountFactory(role=Role.COORDINATOR),
        **facts,
    )
    build.builders.set(builders)
    return build
