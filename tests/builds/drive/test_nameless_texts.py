"""What is typed at the drive and the harness is read by builders and printed with the record: it names nobody."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from builds.demo.factories.clients import CaregiverFactory
from builds.demo.factories.drive import READINGS, STICK, make_accepted_calibration, make_capture
from builds.demo.sticks import log_of
from builds.models import ProvingRun
from builds.record import voiding, voids
from builds.wiring.checks import run_digest
from builds.wiring.models import WireCheck
from clients.names import NOT_TOLD

SAID = "ottoline held the ballast"
BOX = "Kept with the unit"


@pytest.fixture
def named(build, builder):
    make_accepted_calibration(build, builder)
    CaregiverFactory(client=build.client, name="Ottoline Quillfeather")
    return build


def log_with(text):
    return f"# {text}\n{log_of(STICK)}"


def sent_log(text):
    return SimpleUploadedFile("stick.log", log_with(text).encode("utf-16"))


def begun(build, builder):
    """A proving run of the drive as it is, at its first line."""
    now = voiding.snapshot(voids.PROVING, voiding.all_evidence(build))
    return ProvingRun.objects.create(
        build=build, configuration=build.configuration(), supply="12 V, 2 A", evidence=now, made_by=builder
    )


def posts(build, builder, text):
    """(what, url name, more of its address, what is sent, the field of the text)"""
    capture = {"when": "as_left", "side": "left", "adc_bits": "10"}
    fitted, wire, run = make_capture(build, builder), build.wire_runs.first(), begun(build, builder)
    ticks = {**dict.fromkeys(WireCheck.TICKS, "right"), "seen_digest": run_digest(wire)}
    timed = {"distance_m": "3", "times_s": "4.5 4.6", "position": "slow", "surface": "Lab floor"}
    stop = {"place": "floor", "speed_m_s": "0.6", "stopped": "no", "did": "brake"}
    return [
        ("calibration", "calibration_new", [], {**READINGS, "note": text}, "note"),
        ("instrument", "calibration_new", [], {**READINGS, "instrument": text}, "instrument"),
        ("timed runs", "timed_runs_new", [], {**timed, "surface": text}, "surface"),
        ("stop", "stop_new", [], {**stop, "note": text}, "note"),
        ("proving run", "proving_new", [], {"supply": text}, "supply"),
        ("proving line", "proving_line", [run.pk], {"left": "forward", "right": "still", "note": text}, "note"),
        ("capture", "capture_new", [], {**capture, "log": log_of(STICK), "note": text}, "note"),
        ("pasted log", "capture_new", [], {**capture, "log": log_with(text)}, "log"),
        ("log as a file", "capture_new", [], {**capture, "file": sent_log(text)}, "file"),
        ("fit", "capture_accept", [fitted.pk], {"reason": text}, "reason"),
        ("first check", "wire_check", [wire.pk], {**ticks, "note": text}, "note"),
    ]


def answers(browser, build, builder, text):
    told = {}
    for what, name, more, data, field in posts(build, builder, text):
        answer = browser.post(reverse(name, args=[build.number, *more]), data)
        form = answer.context["form"] if answer.context else None
        told[what] = list(form.errors.get(field, []))[:1] if form else []
    return told


def test_no_text_of_drive_or_harness_names_the_family(named, builder, as_person):
    told = answers(as_person(builder), named, builder, SAID)
    assert told == dict.fromkeys(told, [NOT_TOLD])
    assert not named.captures.filter(note=SAID).exists() and named.calibrations.count() == 1


def test_a_text_that_names_nobody_is_kept(named, builder, as_person):
    told = answers(as_person(builder), named, builder, BOX)
    assert told == dict.fromkeys(told, [])
    assert named.captures.filter(note=BOX).exists() and named.calibrations.filter(note=BOX).exists()
    assert named.stop_measurements.filter(note=BOX).exists() and named.timed_runs.filter(surface=BOX).exists()
    assert WireCheck.objects.filter(run__build=named, note=BOX).exists()


def test_the_second_person_names_nobody_either(named, builder, coordinator, as_person):
    wire = named.wire_runs.first()
    sent = {**dict.fromkeys(WireCheck.TICKS, "right"), "seen_digest": run_digest(wire), "note": SAID}
    answer = as_person(coordinator).post(reverse("second_check_run", args=[named.number, wire.pk]), sent)
    assert "“ottoline”" in answer.context["form"].errors["note"][0]
