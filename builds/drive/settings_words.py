"""The settings of a configuration in words, and what changed from one to the next."""

from builds.engineering.quantities import format_quantity
from builds.record.models import Configuration
from clients.models import SittingProfile
from labsite.place_field import place_in_words
from labsite.units import lab_units

PLACES = ("rider_place", "shoulder_place", "control_place")
SUPPORTS = dict(SittingProfile.Support.choices)


def label_of(name):
    label = str(Configuration._meta.get_field(name).verbose_name)
    return label[:1].upper() + label[1:]


def in_words(configuration, name):
    value = getattr(configuration, name)
    if name in Configuration.DRIVE_SETTINGS:
        return configuration.drive_setting_in_words(name)
    if name in Configuration.MEASURED:
        return format_quantity(value, Configuration.MEASURED[name], system=lab_units())
    if name in PLACES:
        return place_in_words(value) or "unknown"
    if name == "ceiling_m_s":
        return format_quantity(value, "speed", system=lab_units())
    if name == "supports":
        return ", ".join(str(SUPPORTS.get(code, code)) for code in value) or "none"
    if configuration._meta.get_field(name).choices:
        return getattr(configuration, f"get_{name}_display")()
    return "unknown" if value in (None, "") else str(value)


def settings_of(configuration):
    """The names of the settings that a build of this kind has: those of the drive belong to a stick."""
    of_a_stick = (*Configuration.DRIVE_SETTINGS, *Configuration.ARM_SETTINGS)
    names = Configuration.SETTINGS
    return names if configuration.build.has_stick else [one for one in names if one not in of_a_stick]


def all_in_words(configuration):
    """(label, words) of every setting."""
    return [(label_of(name), in_words(configuration, name)) for name in settings_of(configuration)]


def changes_between(before, after):
    """(label, before, after) for each setting that differs."""
    return [
        (label_of(name), in_words(before, name), in_words(after, name))
        for name in Configuration.SETTINGS
        if getattr(before, name) != getattr(after, name)
    ]


def history(build):
    """Every configuration, the newest first, each with what it changed."""
    rows = sorted(build.configurations.all(), key=lambda one: one.number)
    told = [(one, changes_between(rows[place - 1], one) if place else None) for place, one in enumerate(rows)]
    return list(reversed(told))
