"""Whether the controller runs what the record says: typed back at the bench, never taken for granted."""

from django.db import transaction

from builds.drive.captures import fit_in_use
from builds.drive.controller import controller_of
from builds.drive.controller_models import ToldDigest
from builds.record.models import Build
from builds.record.powering import why_not_powered
from builds.record.registry import forget_prefetched
from builds.record.rules import Refused

# (state, words) for the pages and the ticket.
WORDS = {
    True: ("fits", "it runs the recorded settings"),
    False: ("stop", "it runs other settings than the record"),
    None: ("unknown", "nobody knows what it runs"),
}


def last_told(build):
    """The newest entry that stands, from rows already fetched."""
    standing = [row for row in build.told_digests.all() if not row.is_struck]
    return max(standing, key=lambda row: row.pk, default=None)


def runs(build, controller):
    """Whether the controller runs the settings of now: True, False, or None where nobody knows."""
    last = last_told(build)
    if controller is None or controller.settings is None or last is None:
        return None
    if last.told != controller.digest:
        return False
    return None if were_others_since(build, last) else True


def were_others_since(build, last):
    """Whether a configuration since that entry made the controller run anything else: it may have been loaded."""
    since = [one for one in build.configurations.all() if one.pk >= last.configuration_id]
    return any(controller_of(one, fit_in_use(build, one)).digest != last.told for one in since)


def known_since(build, controller):
    """When it was first told that the controller runs the settings of now, with nothing else told or set since."""
    if not runs(build, controller):
        return None
    since = None
    for row in sorted((one for one in build.told_digests.all() if not one.is_struck), key=lambda row: -row.pk):
        if row.told != controller.digest or were_others_since(build, row):
            break
        since = row.made_at
    return since


def state_of(answer):
    return WORDS[answer]


@transaction.atomic
def record_told(build, account, told):
    """Keep what the controller told, also where it is not what the record says."""
    build = Build.objects.select_for_update(of=("self",)).select_related("unit").get(pk=build.pk)
    why = why_not_powered(build)
    if why:
        raise Refused(why)
    configuration = build.configuration()
    controller = configuration and controller_of(configuration, fit_in_use(build, configuration))
    if not controller or controller.settings is None:
        raise Refused("The settings of the controller are not complete, so there is nothing to compare with")
    row = ToldDigest.objects.create(
        build=build, configuration=configuration, told=told, recorded=controller.digest, made_by=account
    )
    forget_prefetched(build)
    return row
