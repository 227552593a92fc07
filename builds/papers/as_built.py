"""The as-built record: how the unit really is, for the workshop. It names no client and no family."""

from dataclasses import dataclass, field

from builds.bench.models import Section
from builds.bench.progress import Bench
from builds.bench.readings import with_unit
from builds.bench.rules import limits_of
from builds.drive.capture_evidence import results_in_words
from builds.papers import as_built_drive, as_built_wiring, words
from builds.papers.tables import Table, known, measure, place, who_when
from builds.record.models import Configuration
from labsite.figures import day, moment


@dataclass
class Part:
    """One numbered part of the record: its tables in order."""

    title: str
    tables: list = field(default_factory=list)


def parts_of(facts):
    """The parts on upright pages. The wiring comes after them: a page turned on its side cuts off the one before."""
    build = facts.build
    bench = Bench(build)
    return [
        Part("The unit", [unit(facts), battery_and_charger(facts)]),
        Part("Configuration", [current_configuration(facts), history(build)]),
        Part("Parts (BOM)", [parts(build)]),
        Part("Calibration and speed", [*calibrations(build), *captures(build), timed_runs(build)]),
        *drive_part(facts),
        Part("Tests and steps", [steps(bench, section) for section in Section]),
        Part("Deviations from the plan", [deviations(build, bench)]),
        Part("Nonconformances", [nonconformances(build)]),
        Part("Hold points", [releases(build)]),
        Part("Restore kit", [restore_kit(build), restore_items(build)]),
    ]


def wiring_of(facts):
    """The part that lies on its side, with the diagram."""
    return Part("Wire runs, fuses and switching parts", as_built_wiring.tables(facts.build))


def drive_part(facts):
    tables = as_built_drive.tables(facts)
    return [Part("Drive: settings, inversions, proof", tables)] if tables else []


def unit(facts):
    one, kind = facts.unit, facts.unit.type
    revision = facts.build.plan_revision
    on = day(one.recall_looked_up_on) if one.recall_looked_up_on else ""
    looked_up = " ".join(filter(None, [on, one.recall_where]))
    return Table.of_facts(
        "Unit and plan",
        ("Equipment number", one.number),
        ("Build", facts.build.number),
        ("Case code", facts.build.client.case_code),
        ("Type", f"{kind.name}: {kind.get_kind_display().lower()}"),
        ("Serial or date code", one.serial),
        ("Rated load", measure(kind.rated_load_kg, "mass")),
        ("Own mass", measure(kind.own_mass_kg, "mass")),
        ("Track and wheelbase", f"{measure(kind.track_m, 'length')}, {measure(kind.wheelbase_m, 'length')}"),
        ("Recall", f"{one.get_recall_display()} {looked_up}".strip()),
        ("Plan", str(revision)),
        ("Digest of the plan", revision.digest),
    )


def battery_and_charger(facts):
    battery, charger = facts.battery, facts.charger
    rows = []
    if battery:
        rows.append((
            "Battery", battery.number, battery.get_chemistry_display(), measure(battery.voltage_v, "voltage"),
            f"{known(battery.capacity_ah, 'Ah')} at the {known(battery.hours_rate, 'h')} rate",
        ))  # fmt: skip
    if charger:
        rows.append((
            "Charger", charger.number, charger.get_chemistry_display(), measure(charger.voltage_v, "voltage"),
            f"{known(charger.current_a, 'A')}; stops by itself: {charger.get_stops_by_itself_display().lower()}",
        ))  # fmt: skip
    return Table(
        "Battery and charger", ("What", "Number", "Chemistry", "Voltage", "More"), rows, weights=(2, 3, 4, 3, 7)
    )


def settings(configuration):
    """(name, label) of every setting of a configuration; those of the drive and the arm belong to a stick."""
    of_a_stick = (*Configuration.DRIVE_SETTINGS, *Configuration.ARM_SETTINGS)
    for name in Configuration.SETTINGS:
        if name in of_a_stick and not configuration.build.has_stick:
            continue
        label = str(Configuration._meta.get_field(name).verbose_name)
        yield name, label[:1].upper() + label[1:]


def setting(configuration, name):
    """One setting of a configuration in words."""
    value = getattr(configuration, name)
    if name in Configuration.DRIVE_SETTINGS:
        return configuration.drive_setting_in_words(name)
    if name in Configuration.MEASURED:
        return measure(value, Configuration.MEASURED[name])
    if name == "ceiling_m_s":
        return known(value, "m/s")
    if name == "supports":
        return ", ".join(words.SUPPORTS.get(one, one) for one in value) or "none"
    if name.endswith("_place"):
        return place(value)
    if hasattr(configuration, f"get_{name}_display"):
        return getattr(configuration, f"get_{name}_display")()
    return known(value)


def current_configuration(facts):
    configuration = facts.configuration
    if configuration is None:
        return Table.of_facts("There is no configuration yet")
    rows = [(label, setting(configuration, name)) for name, label in settings(configuration)]
    return Table.of_facts(f"Configuration {configuration.number}", *rows)


def history(build):
    rows, before = [], None
    related = ("made_by", "battery", "charger", "calibration", "fit__capture")
    for one in build.configurations.select_related(*related).order_by("number"):
        rows.append((str(one.number), who_when(one.made_by, one.made_at), one.reason, changed(before, one)))
        before = one
    return Table(
        "History of the configuration", ("Number", "Who and when", "Why", "What changed"), rows, weights=(3, 6, 7, 20)
    )


def changed(before, now):
    if before is None:
        return "first"
    pairs = [(label, setting(before, name), setting(now, name)) for name, label in settings(now)]
    return "; ".join(f"{label}: {old} became {new}" for label, old, new in pairs if old != new) or "nothing"


def parts(build):
    rows = [
        (
            str(one.find_number),
            f"{one.name}{f' (substitute: {one.substitute})' if one.substitute else ''}",
            f"{one.quantity:g}",
            known(one.quantity_used),
            one.lot,
            measure(one.mass_kg, "mass"),
            place(one.place),
            "removed" if one.removed else "stays on" if one.stays_on else "not on the unit",
            struck_or(one, one.deviation_reason),
        )
        for one in build.parts.all()
    ]
    columns = ("No.", "Part", "Planned", "Used", "Lot", "Mass each", "Place (m)", "On the unit", "Deviation")
    return Table("Bill of materials", columns, rows, weights=(3, 12, 5, 5, 5, 5, 7, 6, 9))


def struck_or(row, text):
    return f"Struck: {row.struck_reason}" if row.is_struck else text


def calibrations(build):
    rows = []
    for one in build.calibrations.select_related("made_by").all():
        for axis, name in (("x", "sideways"), ("y", "forward")):
            low, rest, high = (known(getattr(one, f"{axis}_{end}")) for end in ("low", "rest", "high"))
            rows.append((
                one.get_when_display(), one.get_side_display(), name, low, rest, high,
                known(fitted(one, axis, "deadband")), inverted(one, axis),
                f"{one.instrument}, {known(one.supply_v, 'V')}",
                struck_or(one, who_when(one.made_by, one.made_at)),
            ))  # fmt: skip
    columns = ("When", "Side", "Axis", "Lowest", "Rest", "Highest", "Deadband", "Inverted", "Instrument, supply", "Who")
    return (
        [Table("Calibration as found and as left (counts)", columns, rows, weights=(4, 6, 5, 4, 4, 4, 5, 5, 6, 6))]
        if rows
        else []
    )


def captures(build):
    """The logs of the stick and what was fitted to each, with the digest that tells the log."""
    rows = [
        (
            str(one.capture_id), f"{one.capture.get_when_display()}, {one.capture.get_side_display().lower()}",
            results_in_words(one.results), one.capture.digest[:12],
            struck_or(one.capture, f"{one.get_decision_display()}{f': {one.reason}' if one.reason else ''}"),
            who_when(one.capture.made_by, one.capture.made_at),
        )
        for one in build.stick_fits.select_related("capture__made_by").order_by("pk")
    ]  # fmt: skip
    columns = ("No.", "When, side", "Fit (counts)", "Digest of the log", "Decision", "Who")
    return [Table("Captures of the stick", columns, rows, weights=(2, 4, 10, 4, 5, 5))] if rows else []


def fitted(calibration, axis, name):
    """A computed value of one axis, as the calibration keeps it."""
    return (calibration.fit or {}).get(axis, {}).get("results", {}).get(name)


def inverted(calibration, axis):
    return {True: "inverted", False: "no"}.get(fitted(calibration, axis, "reversed"), "unknown")


def timed_runs(build):
    rows = [
        (
            str(one.configuration.number),
            one.position,
            measure(one.distance_m, "length"),
            ", ".join(f"{time:g}" for time in one.times_s),
            f"{one.distance_m / min(one.times_s):.2f} m/s" if one.times_s else "unknown",
            known(one.ballast_kg, "kg"),
            one.surface,
            struck_or(one, who_when(one.made_by, one.made_at)),
        )
        for one in build.timed_runs.select_related("configuration", "made_by").all()
    ]
    columns = ("Config.", "Position", "Distance", "Times (s)", "Fastest", "Ballast", "Surface", "Who")
    return Table("Timed runs", columns, rows, weights=(4, 5, 5, 7, 6, 5, 6, 8))


def steps(bench, section):
    rows = []
    for state in bench.of(section):
        result = state.result
        rows.append((
            state.step.code,
            state.step.title,
            state.code.replace("_", " ") if state.code != "outside" else "outside the limits",
            with_unit(result.reading, state.step.reading_unit) if result and result.reading is not None else "",
            limits_of(state.step) or "",
            # What is written while the client sits in the unit stays out of a paper of the workshop.
            "" if section == Section.FITTING or result is None else result.note,
            who_when(result.made_by, result.made_at) if result else "",
        ))  # fmt: skip
    return Table(
        section.label,
        ("Step", "What", "Result", "Reading", "Limits", "Note", "Who and when"),
        rows,
        weights=(3, 14, 5, 5, 6, 8, 8),
    )


def deviations(build, bench):
    rows = [
        ("Step", one.code, struck_or(one, one.deviation_reason), known(one.deviation_by))
        for one in bench.all_steps
        if one.deviation_reason or one.is_struck
    ]
    for label, many in (
        ("Part", build.parts), ("Wire run", build.wire_runs), ("Fuse", build.fuses),
        ("Switching part", build.switching_parts),
    ):  # fmt: skip
        for one in many.select_related("deviation_by"):
            if one.deviation_reason or one.is_struck:
                code = getattr(one, "code", "") or f"{one.find_number}"
                rows.append((label, code, struck_or(one, one.deviation_reason), known(one.deviation_by)))
    return Table("Deviations", ("What", "Which", "Reason", "Who"), rows, weights=(4, 3, 12, 5))


def nonconformances(build):
    rows = [
        (
            one.text,
            who_when(one.made_by, one.made_at),
            one.cause,
            one.get_disposition_display() if one.disposition else "open",
            one.fix,
            who_when(one.closed_by, one.closed_at) if one.closed_at else "",
        )
        for one in build.nonconformances.select_related("made_by", "closed_by").all()
    ]
    columns = ("What was wrong", "Found by", "Cause", "Disposition", "What was done", "Closed by")
    return Table("Nonconformances and dispositions", columns, rows, weights=(10, 6, 6, 5, 8, 6))


def releases(build):
    rows = [
        (
            one.get_hold_display(),
            one.get_verdict_display(),
            who_when(one.made_by, one.made_at),
            known(one.configuration and one.configuration.number),
            one.digest or "none",
            " ".join(said_with(one)),
        )
        for one in build.hold_decisions.select_related("made_by", "configuration").all()
    ]
    columns = ("Hold point", "Decision", "Who and when", "Config.", "Digest of the evidence", "Reason; agreed to; void")
    return Table("Releases and refusals", columns, rows, weights=(4, 4, 6, 3, 8, 10))


def said_with(decision):
    """The reason of a refusal, what a release agreed to though it departs from the plan, and what voided it."""
    if decision.reason:
        yield decision.reason
    yield from (f"Agreed to: {sentence}" for sentence in decision.agreed)
    if decision.voided_at:
        yield f"Void since {moment(decision.voided_at)}: {'; '.join(decision.void_changes)}"


def restore_kit(build):
    kit = getattr(build, "restore_kit", None)
    if kit is None:
        return Table.of_facts("Nothing is written down of the restore kit")
    return Table.of_facts(
        "The kit",
        ("Where it lies", kit.location),
        ("Complete", kit.get_complete_display()),
        ("What is missing", kit.missing),
    )


def restore_items(build):
    rows = [
        (one.name, str(one.quantity), one.get_mark_display(), struck_or(one, one.location))
        for one in build.restore_items.all()
    ]
    return Table(
        "What was taken out", ("What", "How many", "Side it came from", "Where it lies"), rows, weights=(10, 3, 5, 8)
    )


def free_texts(build):
    """What people wrote freely and this record prints; none of it may name the client."""
    for one in build.configurations.all():
        yield from (one.reason, one.mount, one.seat, one.disconnect, one.stop_switch, one.power_switch)
        yield from (one.stop_reset, one.straps_open)
    for rows in (build.parts, build.wire_runs, build.fuses, build.switching_parts, build.steps):
        yield from (f"{one.deviation_reason} {one.struck_reason}" for one in rows.all())
    for one in build.nonconformances.all():
        yield from (one.text, one.cause, one.fix)
    for one in build.hold_decisions.all():
        yield from (one.reason, *one.agreed)
    for step in Bench(build).states:
        if step.result and step.step.section != Section.FITTING:
            yield step.result.note
    yield from (f"{one.name} {one.location}" for one in build.restore_items.all())
    yield from as_built_drive.free_texts(build)
