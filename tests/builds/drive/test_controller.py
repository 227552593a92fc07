"""The archive for the controller, and the eight signs that it tells at its start."""

from io import BytesIO, StringIO
from zipfile import ZipFile

import pytest
from django.core.management import CommandError, call_command

from builds.demo.factories.controller import make_told_digest
from builds.demo.factories.drive import STICK, make_accepted_calibration, make_accepted_fit, make_timed_runs
from builds.demo.factories.proving import DRIVE, make_proving_run, make_stop, time_other_ceilings
from builds.drive.captures import fit_in_use
from builds.drive.controller import controller_of
from builds.drive.controller_rules import record_told, runs
from builds.drive.proving import how_it_sits, passed_run
from builds.engineering.drive_numbers import settings_digest
from builds.engineering.proving import raw_values
from builds.record import registry
from builds.record.holds import Hold
from builds.record.releasing import conditions
from builds.record.rules import Refused, configure
from tests.builds.bench.making import let_stand
from tests.builds.wiring.making import fresh

TEXT = "The controller runs the recorded settings"
MEASURED_WITH = "Speeds and stops are measured with the settings that the controller runs"


@pytest.fixture
def tuned(build, builder):
    """A build with an accepted fit and every setting of the drive."""
    configure(build, builder, "Settings of the drive", **DRIVE)
    make_accepted_fit(build, builder)
    return build


def controller(build):
    configuration = build.configuration()
    return controller_of(configuration, fit_in_use(build, configuration))


def condition(build):
    found = [one for one in conditions(build, Hold.FIRST_RIDE, registry.reports(build)) if one.text == TEXT]
    return found[0] if found else None


def ticket_finding(build):
    found = registry.reports(build)["drive"].findings
    return next(one for _, one in found if one.name == "settings of the controller")


def test_the_archive_holds_the_settings_of_the_record(tuned, page):
    answer = page.get("controller_archive")
    assert answer["Content-Type"] == "application/zip"
    assert f"{tuned.number}-c{tuned.configuration().number}-drive.zip" in answer["Content-Disposition"]
    with ZipFile(BytesIO(answer.content)) as archive:
        header = archive.read("drive/drive_settings.h").decode()
        assert {"drive/drive_core.c", "drive/drive_core.h", "drive/README.txt"} <= set(archive.namelist())
    told = controller(tuned)
    assert told.digest == settings_digest(told.settings) and f"Settings {told.digest}." in header
    assert f"Equipment {tuned.unit.number}" in header and tuned.client.case_code not in header
    fit = tuned.configuration().fit.results
    assert told.settings.centre_x == fit["centre_x"] and told.settings.rotation_deg == fit["rotation_deg"]
    assert told.settings.ceilings == (0.4, 0.5) and told.settings.inverted_right


def test_without_a_fit_nothing_can_be_loaded_and_the_page_says_what_lacks(build, builder, page):
    configure(build, builder, "Settings of the drive", **DRIVE)
    assert b"a fit of the stick on the side in use" in page.get("controller").content
    assert page.get("controller_archive").status_code == 302
    with pytest.raises(Refused, match="not complete"):
        record_told(build, builder, "0000-0000")


def test_each_unknown_setting_is_named(tuned, builder, page):
    configure(tuned, builder, "Measured again", band_high=None, expo=None, selector="unknown", ceilings=None)
    told = page.get("controller").content.decode()
    for name in (
        "Highest possible reading of the stick", "Expo shape", "whether a speed selector is fitted",
        "Positions of the speed selector with their ceilings",
    ):  # fmt: skip
        assert f"<li>{name}</li>" in told


def test_settings_that_do_not_go_together_are_told_in_one_line(tuned, builder, page):
    configure(tuned, builder, "Measured again", band_low=400, band_high=600)
    assert "must lie within the possible 400 to 600 counts" in page.get("controller").content.decode()
    assert controller(tuned).settings is None and condition(tuned).met is None


def test_the_digest_typed_back_meets_first_ride(tuned, page):
    assert condition(tuned).met is None and ticket_finding(tuned).verdict == "unknown"
    typed = controller(tuned).digest.lower().replace("-", " ")
    assert page.post("controller_told", data={"told": typed}).status_code == 302
    registry.forget_prefetched(tuned)
    assert condition(tuned).met is True and ticket_finding(tuned).verdict == "fits"


def test_another_digest_is_kept_and_stops(tuned, page):
    page.post("controller_told", data={"told": "0123-ABCD"})
    registry.forget_prefetched(tuned)
    row = tuned.told_digests.get()
    assert (row.told, row.recorded, row.agrees) == ("0123-ABCD", controller(tuned).digest, False)
    assert condition(tuned).met is False and ticket_finding(tuned).verdict == "stop"


@pytest.mark.parametrize("typed", ["", "4F3A", "4F3A-9C2G", "4F3A-9C210"])
def test_what_cannot_be_a_digest_is_asked_for_again(tuned, page, typed):
    answer = page.post("controller_told", data={"told": typed})
    assert answer.status_code == 422 and not tuned.told_digests.exists()


def test_a_changed_setting_makes_the_controller_run_something_else(tuned, builder):
    make_told_digest(tuned, builder)
    assert runs(tuned, controller(tuned)) is True
    configure(tuned, builder, "Calmer", expo=0.4)
    assert runs(tuned, controller(tuned)) is False and condition(tuned).met is False


def test_settings_that_were_changed_and_changed_back_are_asked_for_again(tuned, builder):
    """What was loaded in between is not known by going back."""
    make_told_digest(tuned, builder)
    configure(tuned, builder, "Livelier", expo=0.0)
    configure(tuned, builder, "As before", expo=DRIVE["expo"])
    assert runs(tuned, controller(tuned)) is None and condition(tuned).met is None
    assert condition(tuned).why == "The settings were others meanwhile. Type back what it tells now."
    make_told_digest(tuned, builder)
    assert condition(tuned).met is True


def test_what_the_controller_does_not_hear_of_leaves_the_digest_standing(tuned, builder):
    make_told_digest(tuned, builder)
    configure(tuned, builder, "Softer", seat="Foam wedge", at_signal_end="coast")
    assert condition(tuned).met is True


def test_a_proving_run_is_of_the_program_that_ran(tuned, builder, reviewer):
    """Loaded and typed back only afterwards, it was another program that was proved."""
    let_stand(tuned, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER)
    make_told_digest(tuned, builder, "0123-ABCD")
    make_proving_run(fresh(tuned), builder)
    make_told_digest(fresh(tuned), builder)
    run = tuned.proving_runs.get()
    assert run.voided_at is not None and "told was 0123-ABCD" in run.void_changes[0]
    make_proving_run(fresh(tuned), builder)
    make_told_digest(fresh(tuned), builder)
    assert passed_run(fresh(tuned))


def measured_with(build):
    found = conditions(fresh(build), Hold.FIRST_RIDE, registry.reports(fresh(build)))
    return next(((one.met, one.why) for one in found if one.text == MEASURED_WITH), None)


def measure(build, builder):
    make_timed_runs(fresh(build), builder)
    time_other_ceilings(fresh(build), builder)
    make_stop(fresh(build), builder)


def test_what_was_measured_on_another_program_is_measured_again(tuned, builder):
    """Timed slow on what was loaded before, it would stand for what was loaded after."""
    measure(tuned, builder)
    assert measured_with(tuned) is None  # what it runs is asked for first
    make_told_digest(fresh(tuned), builder)
    why = "From before it was known to run these settings: timed runs at slow, timed runs at medium, stop on the floor."
    assert measured_with(tuned) == (False, why)
    measure(tuned, builder)
    assert measured_with(tuned) == (True, "")
    make_told_digest(fresh(tuned), builder)  # looked at again, and the same
    assert measured_with(tuned) == (True, "")
    make_told_digest(fresh(tuned), builder, "0123-ABCD")
    make_told_digest(fresh(tuned), builder)
    assert measured_with(tuned) == (False, why)


def test_a_heavy_run_on_an_unknown_program_proves_no_ballast(tuned, builder):
    """One light run afterwards would let the heavy ones before it count. The fastest of all still tells the speed."""
    heavy, fast, light = {"ballast_kg": 40.0}, {"times_s": [4.4, 4.4, 4.4]}, {"ballast_kg": 5.0}
    make_timed_runs(tuned, builder, **heavy, **fast)
    time_other_ceilings(tuned, builder, **heavy)
    make_stop(tuned, builder, **heavy)
    make_told_digest(fresh(tuned), builder)
    for measurement in (make_timed_runs, time_other_ceilings, make_stop):
        measurement(fresh(tuned), builder, **light)
    assert measured_with(tuned) == (True, "")
    found = registry.reports(fresh(tuned))["drive"].section["drive"]
    assert (found.ballast_kg, [one.ballast_kg for one in found.ceilings]) == (5.0, [5.0, 5.0])
    assert found.fastest_m_s == pytest.approx(3 / 4.4)  # distance over time, derived
    measured = next(one for one in registry.reports(fresh(tuned))["drive"].evidence if one.key == "timed-runs")
    assert measured.fields["ballast"] == "5 kg"


def test_a_ballast_from_before_the_digest_counts_no_longer_after_it(tuned, builder):
    """First ride waits for the digest anyway; a controller that was set by hand is asked for none."""
    make_timed_runs(tuned, builder, ballast_kg=40.0)
    assert registry.reports(fresh(tuned))["drive"].section["drive"].ballast_kg == 40.0
    make_told_digest(fresh(tuned), builder)
    assert registry.reports(fresh(tuned))["drive"].section["drive"].ballast_kg is None


def test_nothing_measured_is_no_measurement_on_this_program(tuned, builder):
    make_told_digest(tuned, builder)
    assert measured_with(tuned) == (None, "Nothing is measured yet.")


def test_a_swapped_side_leaves_no_settings_until_that_side_is_fitted(tuned, builder):
    make_told_digest(tuned, builder)
    configure(tuned, builder, "The arm changed sides", side="right")
    assert controller(tuned).missing == ["a fit of the stick on the side in use"]
    assert runs(tuned, controller(tuned)) is None
    make_accepted_fit(tuned, builder, STICK.but(turn_deg=-168), side="right")
    assert controller(tuned).settings.rotation_deg == pytest.approx(-168, abs=2)
    assert runs(tuned, controller(tuned)) is False


def test_a_struck_entry_counts_no_longer(tuned, builder, page):
    row = make_told_digest(tuned, builder)
    page.post("controller_strike", row.pk, data={"reason": "Read from another unit"})
    registry.forget_prefetched(tuned)
    assert runs(tuned, controller(tuned)) is None
    assert "Read from another unit" in page.get("controller").content.decode()


def test_no_selector_means_the_slowest_ceiling(tuned, builder):
    configure(tuned, builder, "No selector after all", selector="no")
    assert controller(tuned).settings.has_selector is False
    assert dict(controller(tuned).numbers)["ceiling_slowest"] == int(0.4 * 2**15)


def test_the_shell_writes_the_same_files(tuned, tmp_path, page):
    said = StringIO()
    call_command("settings_header", tuned.number, "--to", str(tmp_path / "new"), stdout=said)
    assert said.getvalue().strip() == controller(tuned).digest
    with ZipFile(BytesIO(page.get("controller_archive").content)) as archive:
        for name in archive.namelist():
            assert (tmp_path / "new" / name).read_bytes() == archive.read(name)


def test_the_shell_says_what_lacks(build, tmp_path):
    with pytest.raises(CommandError, match="a fit of the stick"):
        call_command("settings_header", build.number, "--to", str(tmp_path))
    with pytest.raises(CommandError, match="no build B-9999"):
        call_command("settings_header", "B-9999", "--to", str(tmp_path))
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_written_is_told(tuned, tmp_path):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(CommandError, match="Choose another folder"):
        call_command("settings_header", tuned.number, "--to", str(tmp_path / "file"))


def test_the_proving_run_asks_for_what_this_stick_reads(tuned, builder):
    """A stick that sits turned half round reads a push forward as falling, and drives as it should."""
    make_accepted_fit(tuned, builder, STICK.but(turn_deg=-168))
    sits = how_it_sits(tuned.configuration())
    assert raw_values(**sits) == {"forward": ("y-",), "right": ("x-",)}


@pytest.mark.parametrize(
    ("sideways", "forward", "raw"),
    [("no", "no", "y+ x+"), ("yes", "no", "y+ x-"), ("no", "yes", "y- x+"), ("yes", "yes", "y- x-")],
)
def test_a_calibration_by_hand_says_it_too(build, builder, sideways, forward, raw):
    make_accepted_calibration(build, builder, x_reversed=sideways, y_reversed=forward)
    found = raw_values(**how_it_sits(build.configuration()))
    assert [*found["forward"], *found["right"]] == raw.split()
