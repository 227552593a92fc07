"""How numbers and times read on every page; the template filters are thin wrappers over these."""

import datetime
import math

from django.utils import dateformat, timezone

UNKNOWN = "unknown"


def significant(value, digits=3):
    """A number to so many significant digits: 0.0123, 12.3, 1,230. None is unknown; words stay as they are."""
    if value is None or value == "":
        return UNKNOWN
    if isinstance(value, (bool, str, int)):
        return {True: "yes", False: "no"}[value] if isinstance(value, bool) else _whole(value)
    if not math.isfinite(value):
        return UNKNOWN
    rounded, exponent = f"{value:.{digits - 1}e}".split("e")
    places = digits - 1 - int(exponent)
    return "0" if float(rounded) == 0 else f"{float(f'{rounded}e{exponent}'):,.{max(places, 0)}f}"


def _whole(value):
    return f"{value:,}" if isinstance(value, int) else value


def day(value):
    """A date as 5 Mar 2026, in the lab's time zone."""
    if not value:
        return UNKNOWN
    return dateformat.format(_local(value), "j M Y")


def moment(value):
    """A date and time as 5 Mar 2026, 14:30, in the lab's time zone."""
    if not value:
        return UNKNOWN
    return dateformat.format(_local(value), "j M Y, H:i")


def _local(value):
    is_aware = isinstance(value, datetime.datetime) and timezone.is_aware(value)
    return timezone.localtime(value) if is_aware else value
