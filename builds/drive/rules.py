"""What sets the drive: calibrations of the stick, timed runs, and the next configuration."""

import re

from django.db import transaction

from builds.drive.models import Calibration, TimedRuns
from builds.drive.settings_words import changes_between
from builds.engineering.calibration import AxisFit, command, fit_axis
from builds.engineering.finding import EngineeringError
from builds.engineering.speed import timed_runs
from builds.record.models import Build
from builds.record.powering import why_not_driven
from builds.record.rules import Refused, configure, forget_prefetched
from labsite.marks import Side

AXES = {"x": "Sideways", "y": "Forward"}
SAID_OF = (  # what an error of the fit is about -> the reading it concerns
    ("spread at rest", "spread"),
    ("lower side", "low"),
    ("upper side", "high"),
    ("the lowest reading", "low"),
    ("the highest reading", "high"),
    (": lowest reading", "low"),
    (": highest reading", "high"),
    ("rest", "rest"),
)


class UnfitReading(Exception):
    """A reading that cannot be; `field` is the box it stands in."""

    def __init__(self, field, text):
        super().__init__(text)
        self.field = field


def fit_readings(readings):
    """Fit both axes. Returns what is kept with the calibration: inputs, results and findings of each axis."""
    return {axis: fit_one(axis, name, readings) for axis, name in AXES.items()}


def fit_one(axis, name, readings):
    inputs = {
        "rest": readings[f"{axis}_rest"],
        "lowest": readings[f"{axis}_low"],
        "highest": readings[f"{axis}_high"],
        "spread": readings.get(f"{axis}_spread"),
        "full_scale": readings["full_scale"],
        "reversed": readings[f"{axis}_reversed"],
    }
    try:
        fit = fit_axis(name=name, **inputs)
    except EngineeringError as error:
        raise UnfitReading(field_of(axis, str(error)), str(error)) from error
    return {"inputs": inputs, "results": fit.as_dict(), "findings": [one.as_dict() for one in fit.findings]}


def field_of(axis, text):
    if text.startswith("Full scale"):
        return "full_scale"
    return f"{axis}_{next((reading for words, reading in SAID_OF if words in text), 'rest')}"


def axis_fit(calibration, axis):
    """The fit that is kept with a calibration, ready to command; None where there is none."""
    results = (calibration.fit or {}).get(axis, {}).get("results")
    return AxisFit(**results) if results else None


def neutral_at_rest(calibration):
    """Whether both axes command exactly 0 at the rest reading, computed anew from what is kept."""
    fits = {axis: axis_fit(calibration, axis) for axis in AXES}
    if None in fits.values():
        return False
    return all(command(fit, getattr(calibration, f"{axis}_rest")) == 0 for axis, fit in fits.items())


@transaction.atomic
def record_calibration(build, account, **readings):
    """Keep the readings of both axes with what is computed from them."""
    fit = fit_readings(readings)
    columns = {name: value for name, value in readings.items() if not name.endswith("_reversed")}
    calibration = Calibration.objects.create(build=build, made_by=account, fit=fit, **columns)
    forget_prefetched(build)
    return calibration


@transaction.atomic
def accept_calibration(calibration, account):
    """Set a calibration for the client: the next configuration. On another side the places of the arm are unknown."""
    build = Build.objects.select_for_update(of=("self",)).get(pk=calibration.build_id)
    calibration = Calibration.objects.get(pk=calibration.pk)
    why = why_not_accepted(calibration)
    if why:
        raise Refused(why)
    now = build.configuration()
    if now and now.calibration_id == calibration.pk and now.side == calibration.side and now.fit_id is None:
        raise Refused("This calibration is in use already.")
    settings = {"calibration": calibration, "fit": None, "side": calibration.side}
    if now and now.side != calibration.side:
        settings.update(shoulder_place=None, control_place=None)
    return configure(build, account, f"Calibration accepted: {calibration}", **settings)


def why_not_accepted(calibration):
    """Why a calibration cannot be set, in words; empty when it can."""
    if calibration.is_struck:
        return "This calibration is struck."
    if calibration.when != Calibration.When.AS_LEFT:
        return "Only readings as left are accepted. Read the stick again once it is left as it is to be used."
    if calibration.side == Side.UNKNOWN:
        return "The side of this calibration is unknown. Record one that says the side."
    if not neutral_at_rest(calibration):
        return "This calibration does not command exactly 0 at rest. Read the stick again."
    return ""


def read_times(text):
    """The times of runs as typed: numbers parted by spaces, semicolons or commas.

    >>> read_times("3.1 3.0 3.2 s"), read_times("3.1,3.0, 3.2"), read_times("3,1 3,0")
    ([3.1, 3.0, 3.2], [3.1, 3.0, 3.2], [3.1, 3.0])
    """
    tokens = [one for one in re.split(r"[;\s]+", text.replace(", ", " ").strip()) if one not in ("", "s")]
    tokens = [part for one in tokens for part in (one.split(",") if _is_list(one) else [one])]
    if len(tokens) == 1 and "," in tokens[0]:
        whole, rest = tokens[0].split(",")
        raise ValueError(f"Times can be read in two ways. Enter {whole}.{rest} or {whole} {rest}")
    return [_seconds(one) for one in tokens]


def _is_list(token):
    return token.count(",") > 1 or ("," in token and "." in token)


def _seconds(token):
    if not re.fullmatch(r"[0-9]{1,5}([.,][0-9]{1,4})?s?", token):
        raise ValueError("Times must be numbers of seconds with spaces between, for example 3.1 3.0 3.2")
    return float(token.rstrip("s").replace(",", "."))


@transaction.atomic
def record_timed_runs(build, account, **runs):
    """Keep runs over a marked distance, under the configuration of now. Speeds that cannot be are refused."""
    why = why_not_driven(Build.objects.select_for_update(of=("self",)).select_related("unit").get(pk=build.pk))
    if why:
        raise Refused(why)
    configuration = build.configuration()
    if configuration is None:
        raise Refused("There is no configuration yet. Set the configuration first.")
    if runs["is_ceiling_in_use"] and configuration.ceiling_m_s is None:
        raise Refused("The speed ceiling of the configuration is unknown. Set it first, or say it is another position.")
    if runs["is_ceiling_in_use"] and runs["position"] != configuration.ceiling_position:
        said = configuration.ceiling_position or "unknown"
        text = f"The ceiling in use is at this position of the selector: {said}. Change the configuration first."
        raise Refused(text)
    try:
        timed_runs(distance_m=runs["distance_m"], times_s=runs["times_s"])
    except EngineeringError as error:
        # Distance and times have their bounds in the form; what is left is a speed that cannot be.
        raise UnfitReading("times_s", str(error)) from error
    made = TimedRuns.objects.create(build=build, configuration=configuration, made_by=account, **runs)
    forget_prefetched(build)
    return made


@transaction.atomic
def strike(row, account, reason):
    if row.is_struck:
        raise Refused("This entry is struck already.")
    row.strike(account, reason)
    forget_prefetched(row.build)


class Outdated(Exception):
    """The configuration moved on since the page was opened; the text says how."""


@transaction.atomic
def save_configuration(build, account, reason, based_on, **settings):
    """The next configuration, made from the one the person saw."""
    build = Build.objects.select_for_update(of=("self",)).get(pk=build.pk)
    now = build.configuration()
    if now and now.number != based_on:
        seen = build.configurations.filter(number=based_on).first()
        changed = changes_between(seen, now) if seen else []
        told = "; ".join(f"{label} was {old}, now {new}" for label, old, new in changed)
        raise Outdated(f"Configuration {now.number} was made since this page was opened. {told}".strip())
    return configure(build, account, reason, **settings)
