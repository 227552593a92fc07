"""Captures of the stick: kept whole or not at all, fitted, pictured, compared, accepted or refused."""

import hashlib
import re
from html import unescape
from pathlib import Path

import pytest
from auditlog.models import LogEntry
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from builds.demo.factories.drive import (
    STICK,
    make_accepted_calibration,
    make_accepted_fit,
    make_calibration,
    make_capture,
    make_ride_settings,
)
from builds.demo.factories.record import make_build, make_crew
from builds.demo.sticks import MadeStick, log_of
from builds.drive.capture_models import Capture, FittedStick
from builds.drive.capture_picture import COLUMNS, over_time, plane
from builds.drive.capture_rules import accept_fit, refuse_fit, strike_capture
from builds.drive.captures import fit_in_use, is_neutral
from builds.drive.captures import log_of as log_kept
from builds.drive.rules import Outdated, accept_calibration
from builds.engineering.capture import PUSHES, read_capture
from builds.engineering.stick_fit import fit_stick
from builds.models import Build, Configuration, HoldDecision
from builds.papers import as_built
from builds.record.holds import Hold, Stage
from builds.record.registry import reports
from builds.record.rules import Refused, configure

HOLD = (*STICK.order, "hold", "rest")
NEVER_BACK = STICK.but(order=("rest", *PUSHES))


@pytest.fixture
def page(build, builder, as_person):
    browser = as_person(builder)

    class Page:
        @staticmethod
        def get(name, *args, **query):
            return browser.get(reverse(name, args=[build.number, *args]), query)

        @staticmethod
        def post(name, *args, **data):
            return browser.post(reverse(name, args=[build.number, *args]), data)

    return Page


@pytest.fixture
def kept_files(settings):
    """What lies in the folder of captures; it outlives a test, so it is compared before and after."""
    return lambda: {path.name for path in Path(settings.MEDIA_ROOT).glob("captures/**/*.txt")}


def file_of(log):
    return SimpleUploadedFile("stick.log", log if isinstance(log, bytes) else log.encode())


def sent(log=None, **changes):
    return {"when": "as_left", "side": "left", "adc_bits": "10", "note": "", "log": "",
            **({} if log is None else {"file": file_of(log)}), **changes}  # fmt: skip


def text_of(answer):
    return unescape(answer.content.decode())


def met(build, words):
    lines = [one for report in reports(Build.objects.get(pk=build.pk)).values() for one in report.conditions]
    return next(one for one in lines if one.hold == Hold.FIRST_RIDE and words in one.text)


CALIBRATED, NEUTRAL = "fit from a capture", "exactly 0 at rest"


def test_a_sent_file_is_kept_byte_for_byte_with_who_when_and_its_fit(page, build, builder):
    log = "\ufeff" + log_of(STICK).replace("\n", "\r\n")
    answer = page.post("capture_new", **sent(log, note="After trimming"))
    kept = build.captures.get()
    assert (answer.status_code, answer["Location"]) == (302, reverse("capture", args=[build.number, kept.pk]))
    assert log_kept(kept) == log.encode()
    assert kept.digest == hashlib.sha256(log.encode()).hexdigest()
    assert (kept.made_by, kept.when, kept.side, kept.adc_bits, kept.note) == (
        builder, "as_left", "left", 10, "After trimming",
    )  # fmt: skip
    assert kept.readings == 9 * 60
    assert kept.fitted.fit == fit_stick(read_capture(log))
    assert kept.fitted.decision == "open"
    assert f"captures/{build.number}/" in kept.log.name
    assert "stick.log" not in kept.log.name


def test_pasted_text_is_the_same_log(page, build):
    assert page.post("capture_new", **sent(log=None) | {"log": log_of(STICK)}).status_code == 302
    assert build.captures.get().fitted.results["rotation_deg"] == pytest.approx(12, abs=0.5)


def test_what_a_capture_and_its_fit_are_is_in_the_audit_trail(page, build):
    page.post("capture_new", **sent(log_of(STICK)))
    kept = build.captures.get()
    assert LogEntry.objects.get_for_object(kept).exists()
    assert LogEntry.objects.get_for_object(kept.fitted).exists()


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"file": file_of("")}, "file", "empty"),
        ({}, "file", "Choose the file of the log, or paste the log"),
        ({"log": " \n "}, "file", "Choose the file of the log, or paste the log"),
        ({"file": file_of(log_of(STICK)), "log": log_of(STICK)}, "file", "once: as a file or as text"),
        ({"file": file_of(b"\x7fELF\x00\x01")}, "file", "no plain text"),
        ({"file": file_of(b"#" * 8_000_001)}, "file", "8,000,000 bytes or fewer, not 8,000,001"),
        ({"log": "# rest\n512,5;510,2\n"}, "log", "commas as decimals"),
        ({"log": "# rest\n512,nan\n"}, "log", "Check the wires of the stick and take the capture again"),
        ({"log": "# rest\n2,1,1\n1,1,1\n"}, "log", "times run backwards"),
        ({"log": "# rest\n512,510\n"}, "log", "nothing after # forward"),
        ({"log": log_of(STICK).replace("# left", "# port")}, "log", "A mark is one of"),
        ({"log": log_of(STICK.but(throws=(0.05, 0.6, 0.6, 0.6)))}, "log", "and must go 61.38 or more"),
        ({"log": log_of(STICK), "adc_bits": "8"}, "log", "Say how many bits the converter has"),
        ({"log": log_of(STICK), "adc_bits": "20"}, "adc_bits", "16"),
        ({"log": log_of(STICK), "side": ""}, "side", "Choose"),
        ({"log": log_of(STICK), "when": ""}, "when", "Choose"),
    ],
)
def test_a_bad_capture_is_refused_in_words_and_nothing_is_half_stored(page, build, changes, field, words, kept_files):
    before = kept_files()
    answer = page.post("capture_new", **{**sent(), **changes})
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [field]
    assert words in answer.context["form"].errors[field][0]
    assert not Capture.objects.exists() and not FittedStick.objects.exists()
    assert kept_files() == before


def test_a_row_that_cannot_be_written_leaves_no_file(build, builder, kept_files, monkeypatch):
    before = kept_files()
    monkeypatch.setattr(FittedStick.objects, "create", lambda **given: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        make_capture(build, builder)
    assert kept_files() == before


def test_a_file_that_was_changed_on_the_server_is_not_shown_as_kept(page, build, builder):
    kept = make_capture(build, builder)
    with open(kept.log.path, "ab") as file:
        file.write(b"0,1,1\n")
    with pytest.raises(Refused, match="not what was kept"):
        log_kept(kept)
    assert "is not what was kept" in text_of(page.get("capture", kept.pk))
    assert page.get("capture_log", kept.pk)["Location"] == reverse("capture", args=[build.number, kept.pk])


def test_a_file_that_is_gone_leaves_the_results_readable(page, build, builder):
    kept = make_capture(build, builder)
    kept.log.storage.delete(kept.log.name)
    shown = text_of(page.get("capture", kept.pk))
    assert "The file of this capture is missing." in shown
    assert page.get("capture_log", kept.pk)["Location"] == reverse("capture", args=[build.number, kept.pk])
    assert "Throw forward" in shown


def test_the_log_is_handed_out_as_it_came(page, build, builder):
    log = log_of(STICK).encode()
    kept = make_capture(build, builder, log=log)
    answer = page.get("capture_log", kept.pk)
    assert (answer.content, answer["Content-Type"]) == (log, "text/plain; charset=utf-8")
    assert "attachment" in answer["Content-Disposition"]


def test_the_page_shows_every_result_with_its_sentence_its_limit_and_its_working(page, build, builder):
    kept = make_capture(build, builder, STICK.but(order=HOLD, tremor_hz=5.0))
    shown = text_of(page.get("capture", kept.pk))
    for finding in kept.fitted.fit.findings:
        assert finding.name.capitalize() in shown
        assert finding.formula in shown
    assert "While holding, the hand trembles about 5 times a second." in shown
    assert "A stop is never delayed" in shown
    assert "Seen from above, the base is turned 12" in shown
    assert shown.count("<svg") >= 2


def test_the_pictures_are_also_told_in_words(page, build, builder):
    kept = make_capture(build, builder)
    shown = text_of(page.get("capture", kept.pk))
    assert "Rest at 508, 521 of 0 to 1023 (x, y); neutral within" in shown
    assert "forward 368 counts to" in shown
    for mark, start, length in (("rest", "0.0 s", "1.2 s, 60 readings"), ("forward", "1.2 s", "1.2 s, 60 readings")):
        assert mark in shown and start in shown and length in shown


def numbers(path):
    return [float(part) for part in path.replace("M", " ").replace("L", " ").replace("Z", " ").split()]


def test_a_long_log_is_drawn_with_the_least_and_largest_of_each_column():
    """A single spike among 12,000 readings is still drawn, and the picture stays small."""
    lines = log_of(MadeStick(seconds=6.6)).splitlines()
    at = lines.index("# left") + 900
    lines[at] = lines[at].rpartition(",")[0] + ",1000"
    log = read_capture("\n".join(lines))
    assert len(log.xy) > 11_000
    picture = over_time(log, fit_stick(log))
    assert picture["is_envelope"]
    strip = picture["strips"][1]
    highs = numbers(strip["path"])[1::2]
    assert min(highs) == pytest.approx(strip["top"] + strip["height"] * (1 - 1000 / 1023), abs=0.1)
    assert len(highs) <= 2 * (COLUMNS + 1)


def test_a_short_log_is_drawn_reading_by_reading():
    log = read_capture(log_of(STICK))
    picture = over_time(log, fit_stick(log))
    assert not picture["is_envelope"]
    assert len(numbers(picture["strips"][0]["path"])) == 2 * len(log.xy)
    assert [mark["mark"] for mark in picture["marks"]] == list(STICK.order)


def test_a_hole_in_the_log_is_a_hole_in_the_picture():
    lines = log_of(STICK).splitlines()
    at = lines.index("# left") + 20
    log = read_capture("\n".join(lines[:at] + lines[at + 25 :]))
    assert over_time(log, fit_stick(log))["strips"][0]["path"].count("M") == 2


@pytest.mark.parametrize("times", [True, False])
@pytest.mark.parametrize("bits", [8, 16])
def test_every_reading_lies_in_a_square_of_the_plane_and_the_throws_end_where_they_were_held(bits, times):
    stick = STICK.but(bits=bits, centre=(2**bits / 2, 2**bits / 2), times=times, turn_deg=-70, mirrored=True)
    log = read_capture(log_of(stick), bits)
    drawn = plane(log, fit_stick(log))
    assert 0 < drawn["cells"].count("M") <= len(log.xy)
    for throw in drawn["throws"]:
        assert throw["x"] == pytest.approx(throw["seen_x"], abs=4)
        assert throw["y"] == pytest.approx(throw["seen_y"], abs=4)
        assert 0 <= throw["label_x"] <= drawn["side"]


def test_two_captures_are_compared_oldest_first_whichever_is_asked(page, build, builder):
    found = make_capture(build, builder, STICK.but(turn_deg=30), when="as_found")
    left = make_capture(build, builder)
    for pair in ((found.pk, left.pk), (left.pk, found.pk)):
        shown = text_of(page.get("capture_compare", *pair))
        assert re.search(r"turn of the stick is 1[78][.0-9]* \S+ less", shown)
        assert shown.index("as found") < shown.index("as left")
        assert "What moved: turn of the stick" in shown


def test_a_capture_that_is_not_there_is_not_compared(page, build, builder):
    mine = make_capture(build, builder)
    assert page.get("capture_compare", mine.pk, mine.pk + 999).status_code == 404


def test_an_accepted_fit_makes_the_next_configuration(page, build, builder):
    kept = make_capture(build, builder)
    before = build.configuration()
    assert page.post("capture_accept", kept.pk, reason="", based_on=before.number).status_code == 302
    now = Build.objects.get(pk=build.pk).configuration()
    assert (now.number, now.fit, now.side) == (before.number + 1, kept.fitted, "left")
    fitted = FittedStick.objects.get(pk=kept.fitted.pk)
    assert (fitted.decision, fitted.decided_by) == ("accepted", builder)
    assert fitted.decided_at is not None
    assert now.reason.startswith("Stick fit accepted: As left on the occupant's left")


def test_a_fit_on_the_other_side_moves_the_control_and_forgets_its_places(build, builder, coordinator):
    make_ride_settings(build, coordinator)
    make_accepted_fit(build, builder, side="right")
    now = Build.objects.get(pk=build.pk).configuration()
    assert (now.side, now.shoulder_place, now.control_place) == ("right", None, None)


def test_a_mirrored_fit_needs_a_tick_and_a_reason(page, build, builder):
    kept = make_capture(build, builder, STICK.but(mirrored=True))
    number = build.configuration().number
    assert "two wires are crossed or two marks" in text_of(page.get("capture_accept", kept.pk))
    for missing in ({}, {"reason": "Wheels-up run is today"}, {"mirrored_seen": "on"}):
        answer = page.post("capture_accept", kept.pk, based_on=number, **missing)
        assert answer.status_code == 422
        assert "error-summary" in text_of(answer)
    assert Build.objects.get(pk=build.pk).configuration().fit is None
    whole = {"reason": "Wheels-up run is today", "mirrored_seen": "on"}
    assert page.post("capture_accept", kept.pk, based_on=number, **whole).status_code == 302
    now = Build.objects.get(pk=build.pk).configuration()
    assert now.fit == kept.fitted
    assert now.reason.endswith("Wheels-up run is today")


def test_no_script_accepts_a_mirrored_fit_without_saying_so(build, builder):
    kept = make_capture(build, builder, STICK.but(mirrored=True))
    with pytest.raises(Refused, match="This fit is mirrored"):
        accept_fit(kept.fitted, builder, based_on=build.configuration().number, reason="It is fine")


@pytest.mark.parametrize(
    ("stick", "facts", "words"),
    [
        (STICK, {"when": "as_found"}, "Only a capture as left is accepted"),
        (STICK, {"side": "unknown"}, "The side of this capture is unknown"),
        (NEVER_BACK, {}, "not seen coming back to rest"),
        (STICK.but(noise=6.0, throws=(0.13, 0.6, 0.6, 0.6)), {}, "deadband eats more than half"),
    ],
)
def test_what_is_not_fit_for_use_is_not_accepted(page, build, builder, stick, facts, words):
    kept = make_capture(build, builder, stick, **facts)
    with pytest.raises(Refused, match=words):
        accept_fit(kept.fitted, builder, based_on=build.configuration().number)
    assert "Accept this fit" not in text_of(page.get("capture", kept.pk))
    assert words in text_of(page.get("capture", kept.pk))
    answer = page.post("capture_accept", kept.pk, reason="", based_on=build.configuration().number)
    assert answer.status_code == 422


def test_a_fit_in_use_is_not_accepted_twice(build, builder):
    fitted = make_accepted_fit(build, builder)
    with pytest.raises(Refused, match="in use already"):
        accept_fit(fitted, builder, based_on=build.configuration().number)


def test_a_configuration_that_moved_on_is_not_overwritten(page, build, builder, coordinator):
    kept = make_capture(build, builder)
    seen = build.configuration().number
    configure(build, coordinator, "Softer", seat="Another seat")
    with pytest.raises(Outdated, match="was made since this page was opened"):
        accept_fit(kept.fitted, builder, based_on=seen)
    answer = page.post("capture_accept", kept.pk, reason="", based_on=seen)
    assert answer.status_code == 422
    assert FittedStick.objects.get(pk=kept.fitted.pk).decision == "open"


def test_a_refused_fit_says_why_and_is_never_set(page, build, builder):
    kept = make_capture(build, builder)
    assert page.post("capture_refuse", kept.pk, reason="").status_code == 422
    assert page.post("capture_refuse", kept.pk, reason="The stick was held").status_code == 302
    shown = text_of(page.get("capture", kept.pk))
    assert "Refused by" in shown and "The stick was held" in shown
    with pytest.raises(Refused, match="This fit was refused: The stick was held"):
        accept_fit(FittedStick.objects.get(capture=kept), builder, based_on=build.configuration().number)
    with pytest.raises(Refused, match="refused already"):
        refuse_fit(FittedStick.objects.get(capture=kept), builder, "Again")


def test_a_fit_in_use_is_not_refused_but_its_capture_may_be_struck(page, build, builder):
    fitted = make_accepted_fit(build, builder)
    with pytest.raises(Refused, match="in use"):
        refuse_fit(fitted, builder, "No")
    assert page.post("capture_strike", fitted.capture_id, reason="Another stick").status_code == 302
    again = Build.objects.get(pk=build.pk)
    assert fit_in_use(again, again.configuration()) is None
    assert page.get("capture_strike", fitted.capture_id).status_code == 404
    assert "Struck by" in text_of(page.get("capture", fitted.capture_id))


def test_a_calibration_by_hand_still_meets_the_condition(build, builder):
    assert met(build, CALIBRATED).met is False
    assert met(build, NEUTRAL).met is None
    make_accepted_calibration(build, builder)
    assert met(build, CALIBRATED).met is True
    assert met(build, NEUTRAL).met is True


def test_an_accepted_fit_meets_the_conditions_of_the_side_in_use(build, builder, coordinator):
    make_accepted_fit(build, builder)
    assert met(build, CALIBRATED).met is True
    assert met(build, NEUTRAL).met is True
    configure(Build.objects.get(pk=build.pk), coordinator, "The arm is on the other side", side="right")
    assert met(build, CALIBRATED).met is False
    assert met(build, NEUTRAL).met is None
    make_accepted_fit(Build.objects.get(pk=build.pk), builder, STICK.but(turn_deg=-168), side="right")
    assert met(build, CALIBRATED).met is True


def test_the_fit_of_the_side_left_behind_may_be_used_again(build, builder, coordinator):
    first = make_accepted_fit(build, builder)
    make_accepted_fit(build, builder, STICK.but(turn_deg=-168), side="right")
    accept_fit(first, builder, based_on=build.configuration().number)
    now = Build.objects.get(pk=build.pk).configuration()
    assert (now.fit, now.side) == (first, "left")


def test_a_fit_sets_the_drive_until_a_calibration_by_hand_is_accepted(page, build, builder):
    calibration = make_accepted_calibration(build, builder)
    fitted = make_accepted_fit(build, builder)
    now = Build.objects.get(pk=build.pk).configuration()
    assert (now.fit, now.calibration) == (fitted, calibration)
    assert "Not in use" in text_of(page.get("calibrations"))
    accept_calibration(calibration, builder)
    now = Build.objects.get(pk=build.pk).configuration()
    assert (now.fit, now.calibration) == (None, calibration)


def test_a_struck_capture_does_not_bring_the_calibration_before_it_back(build, builder):
    """The controller still runs the fit that was struck, and nothing asks what it runs where no fit counts."""
    make_accepted_calibration(build, builder)
    fitted = make_accepted_fit(build, builder)
    strike_capture(fitted.capture, builder, "Another stick")
    assert met(build, CALIBRATED).met is False
    assert met(build, CALIBRATED).why.startswith("The fit that was accepted counts no longer")
    assert met(build, NEUTRAL).met is None
    accept_calibration(build.calibrations.get(), builder)
    assert met(build, CALIBRATED).met is True
    assert met(build, NEUTRAL).met is True


def test_a_fit_whose_rest_is_not_neutral_does_not_meet_the_condition(build, builder):
    fitted = make_accepted_fit(build, builder)
    told = fitted.results
    finding = next(one for one in told["findings"] if one["name"] == "neutral at rest")
    finding.update(value=3, verdict="stop")
    fitted.save(update_fields=["results"])
    assert is_neutral(fitted) is False
    assert met(build, NEUTRAL).met is False
    assert met(build, NEUTRAL).why == "The fit in use does not."


def test_who_kept_or_decided_a_capture_did_work_on_the_build(build, builder, coordinator):
    kept = make_capture(build, builder)
    accept_fit(kept.fitted, coordinator, based_on=build.configuration().number)
    assert {builder.pk, coordinator.pk} <= reports(Build.objects.get(pk=build.pk))["drive"].workers


def test_a_new_fit_a_side_swap_and_a_struck_capture_each_void_the_first_ride(riding, builder, coordinator):
    build, release = riding
    changes = {
        "a new fit": lambda: make_accepted_fit(build, builder, STICK.but(turn_deg=40)),
        "a side swap": lambda: configure(build, coordinator, "Swapped", side="right"),
        "a struck capture": lambda: build.configuration().fit.capture.strike(builder, "Another stick"),
    }
    for name, change in changes.items():
        with transaction.atomic():
            change()
            told = HoldDecision.objects.get(pk=release.pk)
            assert told.voided_at is not None, name
            assert any("Fit of the stick" in one for one in told.void_changes), (name, told.void_changes)
            transaction.set_rollback(True)
        build.refresh_from_db()
        getattr(build, "_prefetched_objects_cache", {}).clear()


@pytest.fixture
def riding(lab, coordinator, builder, reviewer):
    """A build whose first ride is released on an accepted fit."""
    made = make_build(stage=Stage.FITTING, crew=make_crew(coordinator=coordinator, builder=builder, reviewer=reviewer))
    release = HoldDecision.objects.filter(build=made, hold=Hold.FIRST_RIDE, voided_at__isnull=True).latest("pk")
    assert made.configurations.order_by("-number").first().fit is not None
    return made, release


def test_the_pages_ask_the_same_number_of_times_for_one_capture_and_for_five(page, build, builder):
    first = make_capture(build, builder)

    def asked(name, *args):
        page.get(name, *args)
        with CaptureQueriesContext(connection) as queries:
            assert page.get(name, *args).status_code == 200
        return len(queries)

    few = [asked("captures"), asked("capture", first.pk), asked("configurations")]
    for seed in range(4):
        make_accepted_fit(build, builder, STICK.but(seed=seed + 5))
    assert [asked("captures"), asked("capture", first.pk), asked("configurations")] == few


def test_the_history_of_configurations_names_the_fit(page, build, builder):
    make_accepted_fit(build, builder)
    shown = text_of(page.get("configurations"))
    assert "Fit of the capture As left on the occupant's left" in shown


def test_the_as_built_record_names_each_capture_its_fit_and_its_digest(build, builder):
    kept = make_capture(build, builder)
    refuse_fit(kept.fitted, builder, "The stick was held")
    (table,) = as_built.captures(build)
    (row,) = table.rows
    assert row[1] == "As left, occupant's left"
    assert row[2].startswith("rest 508, 521 of 1023, deadband 11")
    assert "turned 11.99\u00b0" in row[2] and "smoothing none" in row[2]
    assert row[3] == kept.digest[:12]
    assert row[4] == "Refused: The stick was held"
    assert as_built.captures(Build(pk=0)) == []


def test_a_fit_is_a_setting_of_the_configuration():
    assert "fit" in Configuration.SETTINGS
    assert Configuration._meta.get_field("fit").remote_field.on_delete.__name__ == "PROTECT"


def test_the_way_to_the_captures_leads_from_the_ticket_only_where_there_is_a_stick(page, build):
    assert reverse("captures", args=[build.number]) in text_of(page.get("ticket"))


def test_a_calibration_and_a_capture_of_one_stick_do_not_know_each_other(page, build, builder):
    make_calibration(build, builder)
    assert "No capture is kept yet." in text_of(page.get("captures"))
