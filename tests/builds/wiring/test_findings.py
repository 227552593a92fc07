"""What the harness is found to be. Expected figures are rows of published tables, named beside each check."""

import pytest

from builds.demo.factories.wiring import SwitchingPartFactory, WireFuseFactory, WireRunFactory
from builds.wiring.findings import harness
from tests.builds.wiring.making import fresh


@pytest.fixture
def bare(build):
    """The build without the plan's harness."""
    build.switching_parts.all().delete()
    build.wire_runs.all().delete()
    build.fuses.all().delete()
    return build


def findings(build):
    found = harness(fresh(build))
    return {finding.name: finding for row in found.runs for finding in row.findings}


def of_fuse(build):
    return {finding.name: finding for _, _, findings in harness(fresh(build)).fuses for finding in findings}


def of_part(build):
    return [finding for _, findings in harness(fresh(build)).parts for finding in findings]


def test_drop_and_ampacity_of_a_run_as_published(bare):
    # 12 V, 15 A, 3 m one way, IEC 60228 class 5 2.5 mm² (7.98 Ω/km): 0.718 V, 5.99 %.
    # 33 CFR 183.425 Table 5, 14 AWG at 105 °C: 35 A, the row below 2.5 mm².
    WireRunFactory(build=bare, gauge="2.5 mm²", length_m=3, running_a=15, conductor_c=20, bundle=1)
    found = findings(bare)
    assert found["voltage drop"].value == pytest.approx(5.985, abs=0.01)
    assert found["current in the wire"].limit == 35


def test_three_loaded_conductors_carry_seven_tenths(bare):
    # Coast Guard compliance guideline, reprint: 14 AWG, 105 °C, 3 loaded conductors: 24.5 A.
    WireRunFactory(build=bare, bundle=3, running_a=24.6)
    assert findings(bare)["current in the wire"].verdict == "stop"


@pytest.mark.parametrize(
    ("name", "finding"),
    [
        ("length_m", "voltage drop"),
        ("running_a", "voltage drop"),
        ("conductor_c", "voltage drop"),
        ("insulation_c", "current in the wire"),
        ("bundle", "current in the wire"),
        ("running_a", "current in the wire"),
        ("stall_a", "voltage drop at stall"),
    ],
)
def test_what_is_not_recorded_stays_unknown(bare, name, finding):
    WireRunFactory(build=bare, **{name: None})
    assert findings(bare)[finding].verdict == "unknown"


def test_without_a_battery_the_drop_is_unknown(bare, coordinator):
    from builds.record.rules import configure

    configure(bare, coordinator, "Battery taken back", battery=None)
    WireRunFactory(build=bare)
    assert findings(bare)["voltage drop"].verdict == "unknown"


def test_a_drop_at_stall_beyond_the_limit_asks_for_a_look(bare):
    WireRunFactory(build=bare, gauge="16 AWG", length_m=2, running_a=5, stall_a=60)
    found = findings(bare)
    assert (found["voltage drop"].verdict, found["voltage drop at stall"].verdict) == ("fits", "check")


def test_a_wire_outside_any_motor_circuit_has_no_stall(bare):
    WireRunFactory(build=bare, motor_circuit="no", stall_a=None)
    assert "voltage drop at stall" not in findings(bare)


@pytest.mark.parametrize(
    ("size", "verdict"), [("16 AWG", "fits"), ("18 AWG", "check"), ("22 AWG", "check"), ("", "unknown")]
)
def test_thin_wire_asks_for_a_look(bare, size, verdict):
    # 33 CFR 183.425 (d), (e): 16 AWG alone, 18 AWG in a sheath.
    WireRunFactory(build=bare, gauge=size)
    assert findings(bare)["thickness of the wire"].verdict == verdict


def test_a_power_wire_without_a_fuse_stops(bare):
    WireRunFactory(build=bare)
    assert findings(bare)["fuse of a power wire"].verdict == "stop"


@pytest.mark.parametrize(("motor", "verdict"), [("yes", "stop"), ("unknown", "stop"), ("no", None)])
def test_a_control_wire_that_may_carry_motor_current_needs_a_fuse(bare, motor, verdict):
    WireRunFactory(build=bare, role="control", motor_circuit=motor)
    found = findings(bare).get("fuse of a power wire")
    assert (found and found.verdict) == verdict


def test_crimping_on_tinned_strands_stops(bare):
    # NASA-STD-8739.4.
    WireRunFactory(build=bare, termination_end="crimp_on_tinned")
    assert findings(bare)["termination at the end"].verdict == "stop"


@pytest.mark.parametrize(
    ("rating", "protects", "load"),
    [(20.0, "fits", "fits"), (10.0, "fits", "check"), (40.0, "stop", "fits"), (None, "unknown", "unknown")],
)
def test_a_fuse_against_its_wires_and_its_load(bare, rating, protects, load):
    # 33 CFR 183.425 Table 5: 14 AWG at 105 °C carries 35 A. 80 % rule: 12 A needs 15 A.
    fuse = WireFuseFactory(build=bare, rating_a=rating)
    WireRunFactory(build=bare, fuse=fuse, running_a=12)
    WireRunFactory(build=bare, fuse=fuse, running_a=6)
    found = of_fuse(bare)
    assert found["fuse against the thinnest wire"].verdict == protects
    assert found["continuous load on the fuse"].verdict == load
    assert found["fuse rating"].value == 15


def test_a_load_that_no_fuse_and_wire_carry_stops(bare):
    # House rule F-10: 18 A needs 25 A, the wire carries 20 A.
    fuse = WireFuseFactory(build=bare, rating_a=20)
    WireRunFactory(build=bare, fuse=fuse, gauge="18 AWG", bundle=1, running_a=18)
    assert of_fuse(bare)["fuse rating"].verdict == "stop"


@pytest.mark.parametrize(
    ("distance", "sheathed", "verdict"),
    [(0.178, "no", "fits"), (0.179, "no", "stop"), (1.016, "yes", "fits"), (1.017, "yes", "stop"),
     (0.5, "unknown", "unknown"), (None, "yes", "unknown")],
)  # fmt: skip
def test_a_fuse_sits_close_to_the_battery(bare, distance, sheathed, verdict):
    # 33 CFR 183.455 (b).
    fuse = WireFuseFactory(build=bare, distance_m=distance, sheathed=sheathed)
    WireRunFactory(build=bare, fuse=fuse)
    assert of_fuse(bare)["wire from the battery to the fuse"].verdict == verdict


def test_a_plug_in_a_run_of_a_motor_circuit_stops_whatever_is_said_of_it(bare):
    run = WireRunFactory(build=bare)
    part = SwitchingPartFactory(build=bare, kind="plug", motor_circuit="no", rating_dc_a=100)
    part.runs.add(run)
    assert [finding.verdict for finding in of_part(bare)] == ["stop"]


@pytest.mark.parametrize(
    ("motor", "rating", "stall", "verdicts"),
    [("yes", 30, 22, ["fits"]), ("yes", 20, 22, ["stop"]), ("yes", None, 22, ["unknown"]),
     ("yes", 30, None, ["unknown"]), ("unknown", 30, 22, ["unknown"]), ("no", None, None, [])],
)  # fmt: skip
def test_contacts_against_the_stall_current(bare, motor, rating, stall, verdicts):
    SwitchingPartFactory(build=bare, motor_circuit=motor, rating_dc_a=rating, stall_a=stall)
    assert [finding.verdict for finding in of_part(bare)] == verdicts


def test_a_part_bears_the_greatest_stall_of_its_runs(bare):
    part = SwitchingPartFactory(build=bare, rating_dc_a=30, stall_a=20)
    part.runs.add(WireRunFactory(build=bare, stall_a=40))
    assert of_part(bare)[0].verdict == "stop"


def test_a_splice_in_the_arm_stops_and_an_unknown_one_is_unknown(bare):
    WireRunFactory(build=bare, in_arm="yes", spliced="yes")
    assert findings(bare)["splice in the flexing arm"].verdict == "stop"
    bare.wire_runs.update(spliced="unknown")
    assert findings(bare)["splice in the flexing arm"].verdict == "unknown"


@pytest.mark.parametrize("name", ["length_m", "gauge", "running_a"])
def test_no_verdict_ever_fits_where_the_wire_is_not_known(bare, name):
    WireRunFactory(build=bare, **{name: None if name != "gauge" else ""})
    found = harness(fresh(bare)).runs[0]
    assert found.verdict in ("stop", "unknown")


@pytest.fixture
def asks(lab):
    def ask(**limits):
        for name, value in limits.items():
            setattr(lab, name, value)
        lab.save(update_fields=[*limits])

    return ask


@pytest.mark.parametrize(
    ("role", "column", "asked", "usual"),
    [("power", "most_power_drop_percent", 4.0, 10.0), ("control", "most_control_drop_percent", 2.0, 3.0)],
)
def test_a_lab_that_asks_for_less_drop_is_heard_and_named(bare, asks, role, column, asked, usual):
    # 12 V, 15 A, 3 m one way, IEC 60228 class 5 2.5 mm²: 5.99 %.
    WireRunFactory(build=bare, gauge="2.5 mm²", length_m=3, running_a=15, conductor_c=20, bundle=1, role=role)
    assert findings(bare)["voltage drop"].limit == usual
    asks(**{column: asked})
    found = findings(bare)["voltage drop"]
    assert (found.limit, found.verdict) == (asked, "check")
    assert f"tightened from {usual:g} % by the lab" in found.source


def test_a_lab_that_loads_its_fuses_less_is_heard_and_named(bare, asks):
    fuse = WireFuseFactory(build=bare, rating_a=15)
    WireRunFactory(build=bare, gauge="14 AWG", bundle=1, running_a=11, fuse=fuse)
    found = of_fuse(bare)["continuous load on the fuse"]
    assert (found.limit, found.verdict) == (pytest.approx(12), "fits")  # 80 % of 15 A
    asks(most_fuse_share=0.7)
    found = of_fuse(bare)
    assert found["continuous load on the fuse"].limit == pytest.approx(10.5)
    assert found["continuous load on the fuse"].verdict == "check"
    for name in ("continuous load on the fuse", "fuse rating"):
        assert "tightened from 0.8 by the lab" in found[name].source


def test_a_looser_share_that_got_into_the_record_makes_it_unknown(bare, asks):
    WireRunFactory(build=bare, gauge="14 AWG", bundle=1, running_a=11, fuse=WireFuseFactory(build=bare, rating_a=15))
    asks(most_fuse_share=0.95)
    assert of_fuse(bare)["fuse rating"].verdict == "unknown"
