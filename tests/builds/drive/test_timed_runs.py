"""Timed runs: how times are read, what is refused, and which runs count."""

import pytest

from builds.demo.factories.drive import make_timed_runs
from builds.drive.findings import drive
from builds.drive.rules import read_times
from builds.record.rules import Refused, configure
from tests.builds.wiring.making import fresh

TYPED = {
    "distance_m": "10 ft", "times_s": "4.6 4.5 4.7", "is_ceiling_in_use": "on", "position": "slow",
    "ballast_kg": "44 lb", "surface": "Lab floor",
}  # fmt: skip


def test_runs_are_kept_in_si_whatever_was_typed(page, build, builder):
    assert page.post("timed_runs_new", data=TYPED).status_code == 302
    kept = build.timed_runs.get()
    assert kept.distance_m == pytest.approx(3.048)
    assert kept.ballast_kg == pytest.approx(19.958, abs=0.001)
    assert (kept.times_s, kept.configuration) == ([4.6, 4.5, 4.7], build.configuration())


def test_the_fastest_run_counts(build, builder):
    # Distance over time: 3 m in 4.5 s is 0.6667 m/s.
    make_timed_runs(build, builder)
    assert drive(fresh(build)).fastest_m_s == pytest.approx(0.66667, abs=1e-4)


@pytest.mark.parametrize(
    ("typed", "times"),
    [("3.1 3.0 3.2", [3.1, 3.0, 3.2]), ("3.1, 3.0, 3.2", [3.1, 3.0, 3.2]), ("3,1 3,0", [3.1, 3.0]),
     ("3.1;3.0", [3.1, 3.0]), ("3.1s 3 s", [3.1, 3.0]), ("3.1,3.0", [3.1, 3.0]), ("3", [3.0]), ("3,4,5", [3, 4, 5])],
)  # fmt: skip
def test_times_are_read_as_people_type_them(typed, times):
    assert read_times(typed) == times


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [
        ({"times_s": "3,1"}, "times_s", "read in two ways"),
        ({"times_s": "fast"}, "times_s", "numbers of seconds"),
        ({"times_s": "3.1 nan"}, "times_s", "numbers of seconds"),
        ({"times_s": "-3"}, "times_s", "numbers of seconds"),
        ({"times_s": "1e3"}, "times_s", "numbers of seconds"),
        ({"times_s": ""}, "times_s", "Enter the times"),
        ({"times_s": "0"}, "times_s", "0.05 to 600"),
        ({"times_s": "0.1"}, "times_s", "20 m/s or less"),
        ({"times_s": " ".join(["3"] * 21)}, "times_s", "1 to 20 runs"),
        ({"times_s": "3 " * 50_000}, "times_s", "200 characters or fewer"),
        ({"distance_m": "3 kg"}, "distance_m", "must be a length"),
        ({"distance_m": "2 km"}, "distance_m", "100 m or less"),
        ({"distance_m": ""}, "distance_m", "Enter the distance"),
        ({"ballast_kg": "-4"}, "ballast_kg", "or more"),
        ({"ballast_kg": "900 kg"}, "ballast_kg", "200 kg or less"),
        ({"position": ""}, "position", "Enter the position"),
        ({"position": "fast"}, "__all__", "The ceiling in use is at this position of the selector: slow"),
    ],
)
def test_what_cannot_be_is_refused_in_words(page, build, changes, field, told):
    answer = page.post("timed_runs_new", data={**TYPED, **changes})
    assert answer.status_code == 422
    assert told in " ".join(answer.context["form"].errors[field])
    assert not build.timed_runs.exists()


def test_runs_at_another_position_do_not_count(build, builder):
    make_timed_runs(build, builder, position="fast", is_ceiling_in_use=False)
    assert drive(fresh(build)).runs == []


@pytest.mark.parametrize("settings", [{"ceiling_m_s": 0.9}, {"ceiling_position": "fast"}, {"ceiling_m_s": None}])
def test_runs_under_another_ceiling_do_not_count(build, builder, coordinator, settings):
    make_timed_runs(build, builder)
    configure(build, coordinator, "Another ceiling", **settings)
    assert drive(fresh(build)).runs == []


def test_an_unknown_ceiling_cannot_be_the_one_in_use(build, builder, coordinator):
    configure(build, coordinator, "Not known", ceiling_m_s=None)
    with pytest.raises(Refused, match="speed ceiling of the configuration is unknown"):
        make_timed_runs(build, builder)


def test_struck_runs_do_not_count_and_stay_readable(page, build, builder):
    made = make_timed_runs(build, builder)
    assert page.post("timed_runs_strike", made.pk, data={"reason": "Marks had moved"}).status_code == 302
    assert drive(fresh(build)).runs == []
    assert "Marks had moved" in page.get("timed_runs").content.decode()


def test_the_page_says_which_runs_count(page, build, builder):
    make_timed_runs(build, builder)
    make_timed_runs(build, builder, position="fast", is_ceiling_in_use=False)
    text = page.get("timed_runs").content.decode()
    assert text.count("Does not count for the ceiling in use") == 1
    assert "Position slow, fastest 0.667 m/s" in text
