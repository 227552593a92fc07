"""Rules a plan must keep as a whole: what points where, what must be asked, and in which order."""

from builds.engineering.instruments import bounds_in_words, can_be_read
from builds.plans.schema import refuse
from builds.plans.words import DIRECTIONS, SECTIONS, STOPS

RIDE_ON_ORDER = (
    "continuity", "supply", "quiescent", "proving", "rest", "held", "motor", "direction", "stop", "ballast",
)  # fmt: skip
RIDE_ON_NEEDS = (
    *("continuity", "supply", "quiescent", "rest", "held", "stall", "low_battery", "charging", "heat"),
    *("ballast", "ceiling", "stopping", "stability", "push", "disconnect", "straps"),
    *(f"stop:{way}" for way in STOPS if way not in ("unplug", "signal")),
)
# What a proving run goes through line by line; a plan with one asks for none of it again.
PROVED = ("rest", "held", "motor", "direction", "stop")
MOST_WORDS = 20  # in a sentence that a family reads (common practice)


def check_whole(content):
    check_steps(content)
    check_wiring(content)
    check_plain_words(content)
    if content["equipment"] == "ride_on":
        check_ride_on(content)
    elif "first_ride" in content["hold_points"]:
        refuse("hold_points", "first_ride is for ride-ons; a toy is not ridden")


def all_steps(content):
    for part in SECTIONS:
        for step in content[part]:
            yield f"{part}[{step['code']}]", step


def check_steps(content):
    seen = set()
    for place, step in all_steps(content):
        if step["code"] in seen:
            refuse(place, "code is used by another step; codes are different in the whole plan")
        seen.add(step["code"])
        check_reading(f"{place}.reading", step["reading"])
    for wanted in ("photos", "battery"):
        if wanted not in {step["tests"] for step in content["incoming"]}:
            refuse("incoming", f'needs a step with tests = "{wanted}"')


def check_reading(place, reading):
    if reading is None:
        return
    low, high = reading["at_least"], reading["at_most"]
    if low is not None and high is not None and low > high:
        refuse(place, f"at_least {low:g} is above at_most {high:g}")
    for name in ("at_least", "at_most"):
        if reading[name] is not None and not can_be_read(reading[name], reading["unit"]):
            refuse(place, f"{name} {reading[name]:g} must lie {bounds_in_words(reading['unit'])}")
    if (low is not None or high is not None) and not reading["source"]:
        refuse(place, 'a limit needs its source, or source = "common practice"')


def check_wiring(content):
    fuses = {row["code"] for row in content["fuses"]}
    runs = {row["code"] for row in content["wire_runs"]}
    for run in content["wire_runs"]:
        if run["fuse"] and run["fuse"] not in fuses:
            refuse(f"wire_runs[{run['code']}].fuse", f"names {run['fuse']}, which is not among the fuses")
        if run["in_arm"] == "yes" and run["spliced"] == "yes":
            refuse(f"wire_runs[{run['code']}].spliced", "no splice lies in a flexing arm")
    for part in content["switching_parts"]:
        lost = [one for one in part["runs"] if one not in runs]
        if lost:
            refuse(f"switching_parts[{part['code']}].runs", f"names {', '.join(lost)}, not among the wire runs")
        if part["kind"] == "plug" and part["motor_circuit"] != "no":
            refuse(f"switching_parts[{part['code']}].motor_circuit", "a 3.5 mm plug never carries motor current")


def check_plain_words(content):
    for place, line in family_lines(content):
        for sentence in line.replace("!", ".").replace("?", ".").split("."):
            if len(sentence.split()) > MOST_WORDS:
                refuse(place, f"has a sentence of more than {MOST_WORDS} words")


def family_lines(content):
    """Every line of the plan that a family reads, with its place."""
    for name in ("check_before_use", "do_not_use_when"):
        yield from ((f"{name}[{position}]", line) for position, line in enumerate(content[name], 1))
    for caution in content["cautions"]:
        place = f"cautions[{caution['code']}]"
        yield from ((place, line) for line in (caution["hazard"], caution["can_happen"], *caution["do"]))
    yield from ((f"teach_back[{item['code']}]", item["text"]) for item in content["teach_back"])


def check_ride_on(content):
    if "first_ride" not in content["hold_points"]:
        refuse("hold_points", "a ride-on needs first_ride")
    tests = [step["tests"] for step in content["commissioning"]]
    lacking = [one for one in RIDE_ON_NEEDS if one not in tests]
    steering = {test.partition(":")[2] for test in tests if test.startswith("direction:")}
    if "two_motor" in content["unit_kinds"]:
        lacking += [f"direction:{one}" for one in DIRECTIONS if one not in steering]
        lacking += [f"stop:{one}" for one in STOPS if f"stop:{one}" not in tests]
    if "proving" in tests:
        if not content["stick"]:
            refuse("commissioning", "a proving run is of a drive with a stick")
        lacking = [one for one in lacking if one.partition(":")[0] not in PROVED]
    if lacking:
        refuse("commissioning", f"needs a step for {', '.join(lacking)}")
    firsts = [[test.partition(":")[0] for test in tests].index(kind) for kind in RIDE_ON_ORDER if kind_in(kind, tests)]
    if firsts != sorted(firsts):
        refuse("commissioning", f"the tests come in the order {', '.join(RIDE_ON_ORDER)}")


def kind_in(kind, tests):
    return any(test.partition(":")[0] == kind for test in tests)
