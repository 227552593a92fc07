"""Captures as a person reads them: the list with what became of each, and one with its results in words."""

from builds.drive.capture_models import FittedStick
from builds.drive.captures import why_not_accepted
from builds.engineering.capture import PUSHES
from builds.engineering.finding import plain, worst
from builds.engineering.stick_maths import AIMS, reading_of
from builds.engineering.stick_words import at_the_bench, differences

Decision = FittedStick.Decision
STATES = {  # decision: shape of the state, its word
    Decision.OPEN: ("open", "Not decided"),
    Decision.ACCEPTED: ("closed", "Accepted, not in use"),
    Decision.REFUSED: ("refused", "Refused"),
}


def rows_of(build):
    """Every capture, the newest first; `stick_fits` with their captures are already fetched."""
    now = build.configuration()
    return [row_of(one, now) for one in sorted(build.stick_fits.all(), key=lambda fitted: -fitted.capture_id)]


def row_of(fitted, now):
    capture = fitted.capture
    return {
        "capture": capture,
        "fitted": fitted,
        "state": state_of(fitted, now),
        "is_in_use": is_in_use(fitted, now),
        "facts": facts_of(fitted.results),
        "worst": worst(fitted.fit.findings),
        "why_not": why_not_accepted(fitted),
    }


def is_in_use(fitted, now):
    capture = fitted.capture
    return now is not None and now.fit_id == fitted.pk and now.side == capture.side and not capture.is_struck


def state_of(fitted, now):
    if fitted.capture.is_struck:
        return "struck", "Struck"
    return ("standing", "In use") if is_in_use(fitted, now) else STATES[fitted.decision]


def facts_of(results):
    """(label, words) of what a builder looks for first."""
    tremor = results["tremor_hz"]
    throws = ", ".join(f"{mark} {plain(results[f'throw_{mark}'], 3)}" for mark in PUSHES)
    return [
        ("Rest", f"{plain(results['centre_x'])}, {plain(results['centre_y'])} counts"),
        ("Deadband", f"{plain(results['deadband'], 3)} counts"),
        ("Turn", f"{plain(results['rotation_deg'], 3)}\u00b0" + (", mirrored" if results["mirrored"] else "")),
        ("Throws", f"{throws} counts"),
        ("Tremor", "none known" if tremor is None else f"{plain(tremor, 3)} Hz"),
    ]


def findings_with_words(fit):
    """(finding, what it means at the bench)."""
    words = at_the_bench(fit)
    return [(finding, words[finding.name]) for finding in fit.findings]


def marks_in_words(capture):
    """(mark, from, how long or how many) of each part of the log."""
    rows = []
    for section in capture.sections:
        count = section.end - section.start
        if capture.times_ms is None or not count:
            rows.append((section.mark, f"reading {section.start + 1}", f"{count} readings"))
            continue
        first, last = capture.times_ms[section.start], capture.times_ms[section.end - 1]
        begun = (first - capture.times_ms[0]) / 1000
        rows.append((section.mark, f"{begun:.1f} s", f"{(last - first) / 1000:.1f} s, {count} readings"))
    return rows


def plane_in_words(fit):
    """The picture of the plane, told."""
    full = 2**fit.adc_bits - 1
    pushes = []
    for mark in PUSHES:
        x, y = reading_of(*AIMS[mark], fit.rotation_deg, fit.mirrored)
        throw = getattr(fit, f"throw_{mark}")
        end = plain(round(fit.centre_x + throw * x)), plain(round(fit.centre_y + throw * y))
        pushes.append(f"{mark} {plain(round(throw))} counts to {end[0]}, {end[1]}")
    return (
        f"Rest at {plain(fit.centre_x)}, {plain(fit.centre_y)} of 0 to {full} (x, y); neutral within "
        f"{plain(fit.deadband, 3)} counts of it. Fitted throws: {'; '.join(pushes)}."
    )


def comparison(before, after):
    """What differs, what moved first."""
    told = differences(before.fit, after.fit)
    return sorted(told, key=lambda one: not one.moved)


def shown(value):
    return "unknown" if value is None else value if isinstance(value, str) else plain(value, 4)
