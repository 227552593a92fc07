"""For each field of evidence, the row of the record that it is read from and a change of it.

`CHANGERS[kind, field]` takes a build in use and returns (row, {column: new value}).
"""

from datetime import timedelta

from django.utils import timezone

from builds.demo.factories.parts import TwoMotorTypeFactory
from builds.models import Configuration, PlanRevision, StepResult
from clients.models import Measure
from labsite.models import Lab


def columns(find, **changes):
    """Field of evidence -> a change of the columns of the row that `find` returns."""
    return {field: lambda build, change=change: (find(build), change) for field, change in changes.items()}


def of(kind, changes):
    return {(kind, field): change for field, change in changes.items()}


def steps(kind, *sections):
    def step(build):
        of_section = build.steps.filter(section__in=sections).exclude(tests="ballast")
        return of_section.order_by("-reading_label", "pk").first()

    def result(build):
        return step(build).results.get()

    return of(
        kind,
        {
            **columns(result, outcome={"outcome": StepResult.Outcome.FAILED}),
            "reading": lambda build: (result(build), {"reading": (result(build).reading or 0) + 0.001}),
            "note": lambda build: (result(build), {"note": "It rattles at slow"}),
            **columns(step, step={"title": "Something else"}, limits={"limit_low": -5.0, "limit_high": 9000.0}),
        },
    )


def unit(build):
    return build.unit


def unit_type(build):
    return build.unit.type


def other_type(build):
    kind = unit_type(build)
    names = {field.attname for field in kind._meta.fields} - {"id", "name"}
    same = {name: getattr(kind, name) for name in names}
    return build.unit, {"type": TwoMotorTypeFactory(name="Another type, otherwise the same", **same)}


def other_revision(build):
    old = build.plan_revision
    new = PlanRevision.objects.create(plan=old.plan, number=old.number + 1, content=old.content, digest="other")
    return build, {"plan_revision": new}


def run(build):
    return build.wire_runs.get(code="W5")


def part_of_switch(build):
    return build.switching_parts.get(code="S1")


def other_fuse(build):
    return run(build), {"fuse": build.fuses.get(code="F2")}


def check(round):
    return lambda build: run(build).checks.get(round=round)


def configuration(build):
    return build.configurations.order_by("-number").first()


def calibration(build):
    return configuration(build).calibration


def other_fit(build):
    fit = calibration(build).fit
    return calibration(build), {"fit": {**fit, "x": {**fit["x"], "results": {**fit["x"]["results"], "deadband": 11.5}}}}


def stick(build):
    return configuration(build).fit


def timed(build):
    return build.timed_runs.get(is_ceiling_in_use=True)


def stop_measured(build):
    return build.stop_measurements.get(place="floor")


def client_row(name):
    return lambda build: getattr(build.client, name)


def measure(kind, **which):
    return lambda build: build.client.measures.get(kind=kind, **which)


def clearance(build):
    return build.client.clearances.get()


def one_paper(build):
    return build.issued_papers.order_by("kind").first()


def lab(build):
    return Lab.objects.get()


def in_days(days):
    return timezone.localdate() + timedelta(days=days)


def later(time):
    return time.replace(minute=(time.minute + 15) % 60)


def home(field):
    return lambda build: (build.client.household, {field: later(getattr(build.client.household, field))})


RUN = columns(
    run,
    start={"start": "Somewhere else"}, end={"end": "Somewhere else"}, gauge={"gauge": "14 AWG"},
    insulation={"insulation_c": 75.0}, bundle={"bundle": 3}, temperature={"conductor_c": 50.0},
    length={"length_m": 0.9}, running={"running_a": 5.5}, stall={"stall_a": 30.0}, role={"role": "control"},
    motor_circuit={"motor_circuit": "unknown"}, side={"side": "right"}, in_arm={"in_arm": "yes"},
    spliced={"spliced": "yes"}, labels={"label_end": ""}, terminations={"termination_start": "solder"},
)  # fmt: skip

CHANGERS = {
    **of("unit", {**columns(unit, recall={"recall": "remedied"}),
                  **columns(unit_type, rated_load={"rated_load_kg": 28.0}, battery_voltage={"battery_voltage_v": 6.0}),
                  "type": other_type}),
    **of("unit-geometry", columns(
        unit_type, own_mass={"own_mass_kg": 17.0}, own_place={"own_place": [0.31, 0.0, 0.22]}, track={"track_m": 0.45},
        wheelbase={"wheelbase_m": 0.63}, layout={"layout": "one-rear"})),
    **steps("incoming-step", "incoming_test"),
    ("hold-before", "standing"): lambda build: (
        build.steps.get(section="incoming_test", code="I1").results.get(), {"outcome": "failed"}),
    ("plan", "revision"): other_revision,
    **steps("adaptation-step", "teardown", "adaptation"),
    **of("wire-run", {**RUN, "fuse": other_fuse}),
    **of("fuse", columns(lambda build: build.fuses.get(code="F1"), rating={"rating_a": 15.0},
                         distance={"distance_m": 0.1}, sheathed={"sheathed": "yes"})),
    **of("switching-part", columns(
        part_of_switch, what={"name": "Key switch"}, motor_circuit={"motor_circuit": "unknown"},
        rating={"rating_dc_a": 90.0}, stall={"stall_a": 57.0})),
    ("switching-part", "runs"): lambda build: (run(build), {"struck_at": timezone.now()}),
    **of("wire-check", {**columns(check("first"), first={"continuity": "not_seen"}),
                        **columns(check("second"), second={"continuity": "not_seen"})}),
    ("harness", "stops"): lambda build: (lab(build), {"most_fuse_share": 0.1}),
    **of("battery", columns(lambda build: configuration(build).battery, chemistry={"chemistry": "li_ion"},
                            voltage={"voltage_v": 12.8}, capacity={"capacity_ah": 10.0},
                            hours_rate={"hours_rate": 10})),
    **of("charger", columns(lambda build: configuration(build).charger, chemistry={"chemistry": "li_ion"},
                            voltage={"voltage_v": 12.8}, current={"current_a": 1.4},
                            stops_by_itself={"stops_by_itself": "no"})),
    **of("calibration", {"fit": other_fit, **columns(calibration, side={"side": "right"})}),
    ("stick-fit", "fit"): lambda build: (stick(build), {"results": {**stick(build).results, "deadband": 12.5}}),
    ("stick-fit", "side"): lambda build: (stick(build).capture, {"side": "right"}),
    **of("timed-runs", columns(timed, position={"position": "medium"}, speed={"times_s": [7.4, 7.5, 7.7]},
                               ballast={"ballast_kg": 21.0})),
    ("timed-runs", "carries_client"): lambda build: (timed(build), {"ballast_kg": 1.0}),
    **of("drive-settings", columns(
        configuration, selector={"selector": "no"},
        ceilings={"ceilings": [{"position": "slow", "share": 0.35, "ceiling_m_s": 0.7}]}, slew_up={"slew_up": 1.1},
        slew_down={"slew_down": 4.1}, reverse_gain={"reverse_gain": 0.4}, turn_gain={"turn_gain": 0.5},
        expo={"expo": 0.2}, at_signal_end={"at_signal_end": "coast"}, neutral_left_us={"neutral_left_us": 1490},
        neutral_right_us={"neutral_right_us": 1490}, span_us={"span_us": 390}, left_inverted={"left_inverted": True},
        right_inverted={"right_inverted": False}, band_low={"band_low": 41},
        band_high={"band_high": 982})),
    **of("controller", columns(lambda build: build.told_digests.get(), told={"told": "0123-ABCD"})),
    **of("stop-measurement", columns(
        stop_measured, slope={"slope_deg": 1.0}, speed={"speed_m_s": 0.6}, stopped={"stopped": False},
        distance={"distance_m": 0.21}, did={"did": "coast"}, ballast={"ballast_kg": 22.0})),
    ("proving-run", "passed"): lambda build: (build.proving_runs.get(), {"state": "failed"}),
    ("carrying", "load"): lambda build: (build.parts.get(find_number=1), {"mass_kg": 40.0}),
    ("carrying", "balance"): lambda build: (lab(build), {"least_tip_deg": 45.0}),
    **steps("commissioning-step", "commissioning"),
    **of("part", columns(lambda build: build.parts.get(find_number=1), quantity={"quantity_used": 2.0},
                         mass={"mass_kg": 0.3}, place={"place": [0.5, 0.1, 0.4]}, stays_on={"stays_on": False},
                         removed={"removed": True})),
    **of("configuration", columns(
        configuration, side={"side": "right"}, purpose={"purpose": "training"}, ceiling={"ceiling_m_s": 0.75},
        ceiling_position={"ceiling_position": "medium"}, supports={"supports": ["trunk", "pelvis", "belt"]},
        seat={"seat": "Another seat"}, mount={"mount": "Another mount"}, arm={"arm": "swaps"},
        disconnect={"disconnect": "Key switch on the dash"}, stop_switch={"stop_switch": "on the side rail"},
        power_switch={"power_switch": "none"}, stop_reset={"stop_reset": "pull the knob up"},
        straps_open={"straps_open": "lift the flap"}, rider_place={"rider_place": [0.3, 0.0, 0.46]},
        shoulder_place={"shoulder_place": [0.25, 0.13, 0.62]}, control_place={"control_place": [0.41, 0.13, 0.5]})),
    **of("configuration", columns(configuration, **{name: {name: 0.0123} for name in Configuration.ARM_QUANTITIES},
                                  arm_holding_from={"arm_holding_from": "maker"})),
    **of("client-mass", columns(measure(Measure.Kind.MASS), mass={"value_si": 24.0})),
    **of("client-access", columns(
        client_row("access"), side={"side": "right"}, purpose={"purpose": "training"}, site={"site": "finger"},
        method={"method": "press"}, release={"releases_on_request": "no"})),
    **of("client-access", columns(measure(Measure.Kind.REACH, side="left"), reach={"value_si": 0.33})),
    **of("client-supports", columns(client_row("sitting"), supports={"supports": ["pelvis"]})),
    **of("client-cautions", columns(lambda build: build.client.cautions.get(kind="heat"),
                                    answers={"answer": "yes", "plan": "Shade and water"})),
    **of("client-places", columns(lambda build: build.client.places.get(), slopes={"slope_deg": 5.0},
                                  hazards={"hazards": "A pond behind the hedge"})),
    **of("client-hours", {"wake": home("wake_time"), "sleep": home("sleep_time"), "plug_in": home("plug_in_time")}),
    **of("clearance", columns(
        clearance, given={"clinician": "Dr. Una Brask"}, expires={"expires_on": in_days(90)}, scope={"scope": "left"},
        equipment={"equipment": "any"}, speed={"greatest_speed_m_s": 0.85}, supports={"supports": ["trunk"]},
        session={"session_min": 15}, places={"places": ["yard"]}, conditions={"conditions": "Only on dry days"})),
    **steps("fitting-step", "fitting"),
    **of("paper", {
        **columns(one_paper, kind={"kind": "use_guide", "copy_number": 9}, current={"superseded_at": timezone.now()}),
        "configuration": lambda build: (one_paper(build), {"configuration": build.configurations.get(number=1)})}),
    **of("teach-back", {**columns(lambda build: build.client.caregivers.get(), adult={"supervises": False}),
                        **columns(lambda build: build.teach_backs.order_by("pk").last(), passed={"right": False})}),
    **of("consent", columns(lambda build: build.client.consents.get(purpose="service"),
                            given={"withdrawn_on": timezone.localdate()})),
    ("family-answer", "answer"): lambda build: (
        build.client.consents.get(purpose="service"), {"signed_on": in_days(-400)}),
    ("kept", "kept"): lambda build: (build.client.person, {"address": ""}),
    **of("restore-kit", columns(lambda build: build.restore_kit, complete={"complete": "no"},
                                location={"location": "Shelf 9"})),
    **of("hand-off", columns(lambda build: build.hand_off, terms={"terms": "gift"})),
    ("hand-off", "understood"): lambda build: (build.client.caregivers.get(), {"language": "es"}),
    **of("contacts", columns(lambda build: build.contacts.order_by("due_on").first(), dates={"due_on": in_days(60)})),
    **of("printed", columns(lambda build: build.parts.get(find_number=1), rider_limit={"mass_kg": 1.9})),
    **of("printed", columns(unit_type, lifting={"own_mass_kg": 19.5})),
    **of("printed", columns(lab, keeping_up={"walking_pace_m_s": 0.6})),
    **of("printed", columns(lambda build: configuration(build).charger, lights={"light_full": "blue"})),
    **of("printed", columns(lambda build: build.photos.get(on_guide=True), photo={"struck_at": timezone.now()})),
    **of("printed", columns(lambda build: build.hand_off, terms={"terms": "gift"},
                            handed_on={"handed_on": in_days(-1)})),
    **of("printed", columns(lambda build: build.client.caregivers.get(), interpreter={"language": "fr"},
                            adults={"name": "Another Name"})),
    **of("printed", columns(lambda build: build.contacts.order_by("due_on").first(),
                            contact={"struck_at": timezone.now()})),
    **of("lab", columns(lab, name={"name": "Another name"}, phone={"phone": "555 0199"}, hours={"hours": "Mondays"},
                          outside_hours={"outside_hours": "Leave a message"},
                          emergency_number={"emergency_number": "112"})),
}  # fmt: skip
