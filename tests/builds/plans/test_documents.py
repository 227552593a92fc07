"""The plans that come with the program, and what a plan document may not say."""

import copy
import math
import tomllib

import pytest

from builds.bench.models import Section
from builds.engineering import proving
from builds.papers.kinds import FOR_FAMILIES
from builds.papers.models import PaperKind
from builds.parts.models import BaseUnitType, Chemistry, RestoreItem
from builds.plans import words
from builds.plans.document import digest, parse_plan, read_content, read_plan
from builds.plans.loading import DATA
from builds.plans.models import Plan
from builds.plans.rules import all_steps, check_whole, family_lines
from builds.plans.schema import PlanError
from builds.wiring.models import SwitchingPart, WireRun
from labsite.marks import YesNoUnknown

FILES = sorted(DATA.glob("*.toml"))
PLANS = {path.stem: read_plan(path) for path in FILES}


@pytest.fixture
def raw():
    """The first plan as it stands in its file, to be spoiled."""
    return tomllib.loads((DATA / "one-hand-stick.toml").read_text())


def check(document):
    content = read_content(document, "")
    check_whole(content)
    return content


def test_the_three_plans_are_there():
    assert set(PLANS) == {"one-hand-stick", "press-switch", "switch-socket"}
    assert all(content["code"] == name for name, content in PLANS.items())


@pytest.mark.parametrize("content", PLANS.values(), ids=PLANS)
def test_every_limit_has_a_source_and_leaves_room_for_a_reading(content):
    limited = [step["reading"] for _, step in all_steps(content) if step["reading"]]
    for reading in limited:
        low, high = reading["at_least"], reading["at_most"]
        assert all(value is None or math.isfinite(value) for value in (low, high))
        assert low is None or high is None or low < high
        assert (low is None and high is None) or reading["source"]


@pytest.mark.parametrize(
    ("name", "proof"),
    [("one-hand-stick", ["proving"]), ("press-switch", ["rest", "held", "motor", "stop:release", "stop:power"])],
)
def test_a_ride_on_is_proved_in_the_order_of_the_trade(name, proof):
    tests = [step["tests"] for step in PLANS[name]["commissioning"] if step["tests"]]
    order = ["continuity", "supply", "quiescent", *proof, "ballast"]
    assert [tests.index(one) for one in order] == sorted(tests.index(one) for one in order)


def test_the_stick_is_pushed_in_all_eight_directions_and_stopped_in_every_way():
    """Line by line in the proving run, and not once more as steps."""
    tests = {step["tests"].partition(":")[0] for step in PLANS["one-hand-stick"]["commissioning"] if step["tests"]}
    assert "proving" in tests
    assert not tests & {"rest", "held", "motor", "direction", "stop"}
    assert set(words.DIRECTIONS) <= set(proving.POSITIONS)
    stops = " ".join(line.code for line in proving.LINES if line.kind == proving.STOPPING)
    assert [way for way in ("release", "unplug", "wire", "cutoff", "power") if way not in stops] == []


def as_single_steps(raw):
    """The plan as it was before proving runs: a step for each line of one."""
    place = next(at for at, step in enumerate(raw["commissioning"]) if step.get("tests") == "proving")
    tests = ["rest", "held", "motor", *(f"direction:{one}" for one in words.DIRECTIONS),
             *(f"stop:{one}" for one in words.STOPS)]  # fmt: skip
    raw["commissioning"][place : place + 1] = [
        {"code": f"P{number}", "title": "A test", "check": "Seen.", "tests": one}
        for number, one in enumerate(tests, 1)
    ]  # fmt: skip


def test_a_plan_may_ask_for_single_steps_instead(raw):
    as_single_steps(raw)
    assert check(raw)


def test_a_proving_run_needs_a_stick(raw):
    raw["stick"] = False
    with pytest.raises(PlanError, match="a proving run is of a drive with a stick"):
        check(raw)


def test_the_toy_is_never_ridden():
    toy = PLANS["switch-socket"]
    assert toy["hold_points"] == ["sound_unit", "first_power", "hand_off"]
    assert not {step["tests"] for _, step in all_steps(toy)} & {"ballast", "ceiling", "stability"}


@pytest.mark.parametrize("content", PLANS.values(), ids=PLANS)
def test_no_plug_of_a_switch_carries_motor_current(content):
    assert all(part["motor_circuit"] == "no" for part in content["switching_parts"] if part["kind"] == "plug")


@pytest.mark.parametrize("content", PLANS.values(), ids=PLANS)
def test_families_read_short_sentences(content):
    longest = max(len(part.split()) for _, line in family_lines(content) for part in line.split("."))
    assert longest <= 20


@pytest.mark.parametrize("content", PLANS.values(), ids=PLANS)
def test_labels_of_a_run_are_different_at_both_ends(content):
    labels = [run[end] for run in content["wire_runs"] for end in ("label_start", "label_end")]
    assert all(labels) and len(set(labels)) == len(labels)


def test_the_words_are_those_of_the_rooms():
    assert set(words.EQUIPMENT) == set(Plan.Equipment.values)
    assert set(words.UNIT_KINDS) == set(BaseUnitType.Kind.values)
    assert set(words.CHEMISTRIES) == set(Chemistry.values) - {"unknown"}
    assert set(words.PAPERS) == {*FOR_FAMILIES, PaperKind.AS_BUILT}
    assert set(words.YES_NO_UNKNOWN) == set(YesNoUnknown.values)
    assert set(words.ROLES) == set(WireRun.Role.values)
    assert set(words.SIDES) == set(WireRun.RunSide.values)
    assert set(words.TERMINATIONS) == set(WireRun.Termination.values) - {"crimp_on_tinned"}
    assert set(words.SWITCHING_KINDS) == set(SwitchingPart.Kind.values)
    assert set(words.MARKS) == set(RestoreItem.Mark.values)
    assert {section for section, _ in words.SECTIONS.values()} == set(Section.values)


def spoil(document, *path, value):
    at = document
    for key in path[:-1]:
        at = at[key]
    at[path[-1]] = value


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        (("code",), "", "code: is empty"),
        (("revision",), 0, "revision: is 0; it must lie from 1 to 9999"),
        (("revision",), 1.5, "revision: must be a whole number"),
        (("equipment",), "boat", "equipment: is 'boat'; it must be one of ride_on, toy"),
        (("hold_points",), ["first_ride", "first_ride"], "hold_points: names the same entry twice"),
        (("hold_points",), ["sound_unit"], "hold_points: a ride-on needs first_ride"),
        (("chemistry",), [], "chemistry: has 0 entries"),
        (("check_before_use",), ["Look."], "check_before_use: has 1 entries; it must have from 5 to 5"),
        (("colour",), "red", "has no field colour"),
        (("incoming", 0, "tests"), "fotos", "incoming[I1].tests: is 'fotos'"),
        (("incoming", 0, "tests"), "battery", 'incoming: needs a step with tests = "photos"'),
        (("incoming", 1, "reading", "at_least"), 20, "incoming[I2].reading: at_least 20 is above at_most 13.2"),
        (("incoming", 1, "reading", "at_most"), 61, "incoming[I2].reading: at_most 61 must lie from -60 to 60 V"),
        (("incoming", 1, "reading", "source"), "x" * 201, "incoming[I2].reading.source: has 201 characters"),
        (("incoming", 1, "reading", "unit"), "furlong", "incoming[I2].reading.unit: is 'furlong'"),
        (("incoming", 1, "reading", "at_most"), float("nan"), "incoming[I2].reading.at_most: must be a number"),
        (("teardown", 0, "code"), "I1", "teardown[I1]: code is used by another step"),
        (("teardown", 1, "code"), "T1", "teardown[T1]: code is used twice"),
        (("teardown", 0, "photo"), "yes", "teardown[T1].photo: must be true or false"),
        (("commissioning", 10, "tests"), "direction:up", "commissioning[C29].tests: is 'direction:up'"),
        (("wire_runs", 0, "fuse"), "F9", "wire_runs[W1].fuse: names F9"),
        (("wire_runs", 0, "length_m"), -1, "wire_runs[W1].length_m: is -1; it must lie from 0.01 to 20"),
        (("wire_runs", 10, "spliced"), "yes", "wire_runs[W11].spliced: no splice lies in a flexing arm"),
        (("switching_parts", 0, "runs"), ["W99"], "switching_parts[S1].runs: names W99"),
        (("switching_parts", 0, "kind"), "plug", "a 3.5 mm plug never carries motor current"),
        (("bom", 1, "find_number"), 1, "bom[1]: find_number is used twice"),
        (("cautions", 0, "signal"), "NOTICE", "cautions[supervision].signal: is 'NOTICE'"),
        (("cautions", 0, "can_happen"), "word " * 21, "has a sentence of more than 20 words"),
    ],
)
def test_a_spoiled_plan_is_refused_at_its_place(raw, path, value, says):
    spoil(raw, *path, value=value)
    with pytest.raises(PlanError) as refusal:
        check(raw)
    assert says in str(refusal.value)
    assert "\n" not in str(refusal.value)


def test_a_missing_field_is_named(raw):
    del raw["wire_runs"][0]["role"]
    with pytest.raises(PlanError, match=r"wire_runs\[W1\]: lacks role"):
        check(raw)


def test_a_limit_without_a_source_is_refused(raw):
    del raw["incoming"][1]["reading"]["source"]
    with pytest.raises(PlanError, match="a limit needs its source"):
        check(raw)


@pytest.mark.parametrize("lacking", ["stop:power", "held", "direction:backward-left", "stop:unplug", "disconnect"])
def test_a_ride_on_plan_without_a_proof_is_refused(raw, lacking):
    as_single_steps(raw)
    raw["commissioning"] = [step for step in raw["commissioning"] if step.get("tests") != lacking]
    with pytest.raises(PlanError, match=f"commissioning: needs a step for {lacking}"):
        check(raw)


def test_a_stick_without_a_proving_run_is_refused(raw):
    raw["commissioning"] = [step for step in raw["commissioning"] if step.get("tests") != "proving"]
    with pytest.raises(PlanError, match="commissioning: needs a step for rest, held, stop:release"):
        check(raw)


def test_proofs_out_of_order_are_refused(raw):
    tests = [step.get("tests") for step in raw["commissioning"]]
    raw["commissioning"].insert(0, raw["commissioning"].pop(tests.index("ballast")))
    with pytest.raises(PlanError, match="the tests come in the order"):
        check(raw)


def test_a_file_that_is_no_toml_is_named(tmp_path):
    path = tmp_path / "odd.toml"
    path.write_text("code = ")
    with pytest.raises(PlanError, match="odd.toml: "):
        read_plan(path)


def test_what_the_plan_does_not_know_is_none():
    run = PLANS["one-hand-stick"]["wire_runs"][0]
    assert run["running_a"] is None and run["stall_a"] is None and run["amperes_from"] == "all_motors"


def test_the_digest_follows_the_content():
    content = PLANS["press-switch"]
    changed = copy.deepcopy(content)
    changed["bom"][0]["quantity"] = 2
    assert digest(content) == digest(copy.deepcopy(content)) != digest(changed)
    assert parse_plan((DATA / "press-switch.toml").read_text()) == content
