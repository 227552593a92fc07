"""What First power asks of the harness, clause by clause. Nothing is met by an empty harness or an unknown answer."""

from django.urls import reverse

from builds.engineering.finding import FITS, STOP, UNKNOWN
from builds.record.holds import Hold
from builds.record.registry import Condition
from builds.wiring.checks import may_be_compared
from builds.wiring.findings import in_motor_circuit, those_with
from builds.wiring.models import SwitchingPart

MOST_NAMED = 8
NO_RUNS = "No wire run is recorded."
PLACES = ("harness", "wire_checks", "second_check", "check_differences")


def first_power(build, rows, found):
    if Hold.FIRST_POWER not in build.holds():
        return
    place = {name: reverse(name, args=[build.number]) for name in PLACES}
    # What is recorded comes before what is checked: a change to the record asks for the checks again.
    for text, met, why in (
        no_splice(rows),
        fuse_places(found),
        fuse_sizes(found),
        contacts(found),
        plugs(found),
        no_stop(rows, found),
    ):
        yield condition(text, met, why, place["harness"])
    yield from ticked(rows, place)
    text, met, why = agreement(rows)
    _, whose = whose_turn(rows)
    yield condition(text, met, why, place[whose or "check_differences"])


def condition(text, met, why, url):
    return Condition(Hold.FIRST_POWER, text, met, why, url)


def name(codes):
    """A list of names that stays readable."""
    codes = list(codes)
    more = f" and {len(codes) - MOST_NAMED} more" if len(codes) > MOST_NAMED else ""
    return ", ".join(codes[:MOST_NAMED]) + more


CLAUSES = (
    ("terminated", "Every wire run is terminated at both ends"),
    ("labelled", "Every wire run is labelled at both ends"),
    ("continuity", "Every wire run is checked for continuity"),
    ("polarity", "Every wire run is checked for polarity"),
    ("relief", "Every wire run is relieved of strain"),
)


def ticked(rows, place):
    """One condition for each tick. Which ticks were right is said only when both rounds are whole."""
    waiting, whose = whose_turn(rows)
    for tick, text in CLAUSES:
        lacking = [row.run.code for row in rows if lacks_entry(row.run, tick)]
        if not rows:
            yield condition(text, None, NO_RUNS, place["harness"])
        elif lacking:
            yield condition(text, None, f"Not recorded yet: {name(lacking)}.", place["harness"])
        elif waiting:
            yield condition(text, None, waiting, place[whose])
        else:
            wrong = [row.run.code for row in rows if not row.is_right(tick)]
            why = f"Not right to both persons: {name(wrong)}." if wrong else ""
            yield condition(text, not wrong, why, place["check_differences"])


def whose_turn(rows):
    """(what is not checked yet, in words; the page of the round that checks it), the first person's round first."""
    for person, page in (("first", "wire_checks"), ("second", "second_check")):
        waiting = [row.run.code for row in rows if getattr(row, person) is None]
        if waiting:
            return f"Not checked by the {person} person yet: {name(waiting)}.", page
    return "", ""


def lacks_entry(run, tick):
    if tick == "terminated":
        return "unknown" in (run.termination_start, run.termination_end)
    return tick == "labelled" and not (run.label_start and run.label_end)


def no_splice(rows):
    text = "No splice lies in a flexing arm"
    spliced = [row.run.code for row in rows if row.run.in_arm == row.run.spliced == "yes"]
    doubtful = [
        row.run.code for row in rows
        if "no" not in (row.run.in_arm, row.run.spliced) and "unknown" in (row.run.in_arm, row.run.spliced)
    ]  # fmt: skip
    if spliced:
        return text, False, f"Spliced in the arm: {name(spliced)}."
    if doubtful or not rows:
        return text, None, f"Not known of: {name(doubtful)}." if rows else NO_RUNS
    return text, True, ""


def judged(text, pairs, empty=""):
    """Met when every finding fits or asks only for a look; `empty` says what is wrong with having none."""
    pairs = list(pairs)
    stops = those_with(pairs, STOP)
    doubts = those_with(pairs, UNKNOWN)
    if stops:
        return text, False, f"Stop: {name(stops)}."
    if doubts:
        return text, None, f"Not known: {name(doubts)}."
    return (text, True, "") if pairs or not empty else (text, None, empty)


def fuse_places(found):
    text = "Each fuse is within 178 mm of wire from the battery's positive post, 1016 mm when sheathed all the way"
    pairs = [(fuse.code, findings[0]) for fuse, _, findings in found.fuses]
    return judged(text, pairs, "No fuse is recorded for any wire run.")


def fuse_sizes(found):
    text = "Each fuse is sized to the thinnest wire behind it, and every power wire has one"
    pairs = [(f"Fuse {fuse.code}", finding) for fuse, _, findings in found.fuses for finding in findings[1:]]
    pairs += [
        (f"Wire run {row.run.code}", finding)
        for row in found.runs for finding in row.findings if finding.name == "fuse of a power wire"
    ]  # fmt: skip
    return judged(text, pairs, "No fuse is recorded for any wire run.")


def contacts(found):
    text = "Every switch, relay and connector in a motor circuit is rated in direct current for the stall current"
    pairs = [(part.code, finding) for part, findings in found.parts for finding in findings]
    return judged(text, pairs, "" if found.parts else "No switch, relay or connector is recorded.")


def plugs(found):
    text = "No 3.5 mm plug carries motor current"
    of_plugs = [(part, in_motor_circuit(part)) for part, _ in found.parts if part.kind == SwitchingPart.Kind.PLUG]
    carrying = [part.code for part, motor in of_plugs if motor]
    doubtful = [part.code for part, motor in of_plugs if motor is None]
    if carrying:
        return text, False, f"It carries motor current: {name(carrying)}."
    return (text, None, f"Not known of: {name(doubtful)}.") if doubtful else (text, True, "")


def no_stop(rows, found):
    text = "No wiring finding says stop, and none of a power or motor circuit is unknown"
    control = [(label, finding) for label, finding in found.of_control() if finding.verdict in (STOP, FITS)]
    return judged(text, [*found.of_power(), *control], "" if rows else NO_RUNS)


def agreement(rows):
    text = "A second person has checked every wire run without seeing the first person's ticks, and agrees"
    if not may_be_compared(rows):
        return text, None, whose_turn(rows)[0] if rows else NO_RUNS
    differing = [row.run.code for row in rows if row.differing]
    return text, not differing, f"They differ on: {name(differing)}." if differing else ""
