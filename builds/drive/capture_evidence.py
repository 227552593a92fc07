"""What a fit of the stick offers to the hold points, and what First ride asks of the stick."""

from builds.drive.captures import is_neutral
from builds.engineering.capture import PUSHES
from builds.engineering.finding import plain
from builds.record.registry import Evidence


def fit_evidence(found):
    if found.fit:
        yield Evidence(
            "stick-fit",
            "stick-fit",
            "Fit of the stick",
            {"fit": results_in_words(found.fit.results), "side": found.fit.capture.get_side_display()},
        )


def results_in_words(told):
    """What the drive is set by, in words that are the same every time."""
    throws = ", ".join(f"{mark} {plain(told[f'throw_{mark}'])}" for mark in PUSHES)
    smoothing = "none" if told["cutoff_hz"] is None else f"{plain(told['cutoff_hz'])} Hz"
    mirrored = ", mirrored" if told["mirrored"] else ""
    return (
        f"rest {plain(told['centre_x'])}, {plain(told['centre_y'])} of {2 ** told['adc_bits'] - 1}, deadband "
        f"{plain(told['deadband'])}, turned {plain(told['rotation_deg'])}\u00b0{mirrored}, throws {throws}, "
        f"smoothing {smoothing}"
    )


def fit_workers(build):
    made = [one for row in build.captures.all() for one in (row.made_by_id, row.struck_by_id)]
    return {*made, *(row.decided_by_id for row in build.stick_fits.all())} - {None}


def by_hand(found):
    """The calibration that sets the drive. None once a fit was accepted, also when that fit counts no longer: the
    controller still runs it."""
    return None if found.configuration.fit_id else found.calibration


def calibrated(found):
    text = "A calibration, or a fit from a capture, of the stick is accepted for the side in use"
    if found.fit or by_hand(found):
        return text, True, ""
    if found.calibration:
        return text, False, "The fit that was accepted counts no longer. Accept another one, or the calibration again."
    side = found.configuration.get_side_display().lower()
    return text, False, f"None stands for this side: {side}."


def neutral(found):
    text = "Both axes command exactly 0 at rest"
    if found.fit:
        seen = is_neutral(found.fit)
        why = {None: "The stick was not seen coming back to rest.", False: "The fit in use does not."}
        return text, seen, why.get(seen, "")
    if by_hand(found) is None:
        return text, None, "There is no calibration and no fit for the side in use."
    return text, found.is_neutral, "" if found.is_neutral else "The calibration in use does not."
