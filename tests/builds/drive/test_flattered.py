"""What would flatter a drive: a stop from creeping, rolling down a gentler slope, a position beyond the clearance."""

import pytest

from builds.demo.factories.drive import make_timed_runs
from builds.demo.factories.proving import DRIVE, make_stop, make_stops, time_other_ceilings
from builds.record.rules import configure
from tests.builds.drive.test_configuration import sent
from tests.builds.drive.test_drive_map import MEASURED, STANDS, build, condition  # noqa: F401
from tests.builds.wiring.making import fresh


@pytest.mark.parametrize(("speed", "way", "met"), [(0.66, 0.2, True), (0.3, 0.05, True), (0.1, 0.05, False)])
def test_a_stop_from_creeping_tells_the_way_from_the_fastest_run(build, builder, speed, way, met):  # noqa: F811
    """3 m in 4.5 s is 0.667 m/s. 0.1^2 / (2 x 0.05) = 0.1 m/s2, and from 0.667 m/s that is 2.2 m; derived."""
    make_timed_runs(build, builder)
    make_stops(build, builder)
    make_stop(build, builder, speed_m_s=speed, distance_m=way)
    assert condition(build, STANDS)[0] is met
    if not met:
        assert condition(build, STANDS)[1] == (
            "Let go at 0.1 m/s, braking like that takes 2.222 m from the fastest timed run of 0.6667 m/s, and 0.5 m is "
            "the most. Let go at full speed."
        )


def test_rolling_down_a_gentler_slope_than_the_steepest_is_not_overlooked(build, builder):  # noqa: F811
    make_stops(build, builder)
    steepest, _ = build.client.steepest_slope()
    make_stop(build, builder, place="slope", slope_deg=steepest - 0.5, stopped=False, distance_m=None)
    assert condition(build, STANDS)[0] is False
    make_stop(build, builder, place="slope", slope_deg=steepest)
    assert condition(build, STANDS) == (True, "")


@pytest.mark.parametrize(
    ("ceiling", "times"), [(1.2, [5.0, 5.1, 5.0]), (1.2, [6.3, 6.3, 6.3]), (0.900004, [5.6, 5.6, 5.6])]
)
def test_no_position_of_the_selector_goes_beyond_the_clearance(build, builder, coordinator, ceiling, times):  # noqa: F811
    """Cleared up to 0.9 m/s; 5 m in 5.6 s is 0.893 m/s. Whoever turns the selector does not read the clearance."""
    rows = [DRIVE["ceilings"][0], {"position": "medium", "share": 0.5, "ceiling_m_s": ceiling}]
    configure(build, coordinator, "A faster position", ceilings=rows)
    build = fresh(build)
    make_timed_runs(build, builder)
    time_other_ceilings(build, builder)
    for one in build.timed_runs.filter(position="medium"):
        one.times_s = times
        one.save(update_fields=["times_s"])
    met, why = condition(build, MEASURED)
    if ceiling > 0.91:
        assert (met, why) == (False, "Faster than the clearance of 0.9 m/s: medium.")
    else:
        assert (met, why) == (True, "")


def test_a_position_written_otherwise_is_the_position_of_the_selector(page, build, builder):  # noqa: F811
    """Under another spelling nothing would say at which share of full command a stop was measured."""
    assert sent(page, ceiling_position="SLOW").status_code == 302
    assert fresh(build).configuration().ceiling_position == "slow"
    make_stops(fresh(build), builder)
    assert condition(build, STANDS) == (True, "")
    faster = "slow; 80 %; 0.7 m/s\nmedium; 90 %; 0.85 m/s"
    assert sent(page, ceiling_position="Slow", ceilings=faster).status_code == 302
    assert condition(build, STANDS)[0] is None
