"""What is true of captures and their fits: which one is in use, whether rest is neutral, what keeps one from use.

Where a fit from a capture is in use, it sets the drive; a calibration that was typed in beside it stays a record.
"""

import hashlib

from builds.drive.capture_models import Capture, FittedStick
from builds.engineering.finding import FITS, STOP
from builds.engineering.stick_words import at_the_bench
from builds.record.rules import Refused
from labsite.marks import Side

NEUTRAL = "neutral at rest"


def log_of(capture):
    """The log as it came; refused where the file is not what was kept."""
    with capture.log.open("rb") as file:
        log = file.read()
    if hashlib.sha256(log).hexdigest() != capture.digest:
        raise Refused("The file of this capture is not what was kept. Tell whoever keeps the server.")
    return log


def fit_in_use(build, configuration):
    """The accepted fit, unless its capture was struck or is of another side; from rows already fetched."""
    found = next((one for one in build.stick_fits.all() if one.pk == configuration.fit_id), None)
    capture = found and next((one for one in build.captures.all() if one.pk == found.capture_id), None)
    if capture is None or capture.is_struck or capture.side != configuration.side:
        return None
    found.capture = capture
    return found


def is_neutral(fitted):
    """Whether not one settled reading at rest lies beyond the deadband: True, False, or None where it was not seen."""
    told = next((one for one in fitted.fit.findings if one.name == NEUTRAL), None)
    if told is None or told.value is None:
        return None
    return told.verdict == FITS


def why_not_accepted(fitted):
    """Why a fit cannot be set, in words; empty when it can."""
    capture = fitted.capture
    if capture.is_struck:
        return "This capture is struck."
    if fitted.decision == FittedStick.Decision.REFUSED:
        return f"This fit was refused: {fitted.reason}. Take another capture."
    if capture.when != Capture.When.AS_LEFT:
        return "Only a capture as left is accepted. Take another once the stick is left as it is to be used."
    if capture.side == Side.UNKNOWN:
        return "The side of this capture is unknown. Take one that says the side."
    fit = fitted.fit
    stops = [at_the_bench(fit)[one.name] for one in fit.findings if one.verdict == STOP]
    if stops:
        return stops[0]
    if not is_neutral(fitted):
        return "The stick was not seen coming back to rest. Take a capture with # rest after the pushes."
    return ""
