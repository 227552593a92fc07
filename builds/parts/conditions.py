"""What this room asks for at each hold point."""

from django.urls import reverse

from builds.parts.carrying import met, why
from builds.parts.models import BaseUnit
from builds.parts.power import known_power, one_voltage
from builds.record.holds import Hold
from builds.record.registry import Condition


def kit_of(build):
    return getattr(build, "restore_kit", None)


def every_hold(build):
    unit = build.unit
    url = reverse("base_unit", args=[unit.number])
    for hold in build.holds():
        marked = unit.is_marked_do_not_use
        yield Condition(hold, "The unit is not marked do not use", not marked, unit.do_not_use_reason, url)


def sound_unit(build, configuration, rides):
    if Hold.SOUND_UNIT not in build.holds():
        return
    unit, hold = build.unit, Hold.SOUND_UNIT
    url = reverse("base_unit", args=[unit.number])
    recalled = {BaseUnit.Recall.UNKNOWN: None, BaseUnit.Recall.RECALLED: False}.get(unit.recall, True)
    yield Condition(
        hold, "The recall was looked up, and none is open", recalled, f"{unit.get_recall_display()}.", url
    )
    if rides:
        known = None if unit.type.rated_load_kg is None else True
        yield Condition(hold, "The rated load of the unit is known", known, "", reverse("unit_types"))
    answer, reason = known_power(configuration)
    yield Condition(
        hold, "Battery and charger are known", answer, reason, reverse("configurations", args=[build.number])
    )


def first_power(build, configuration, chemistry):
    if Hold.FIRST_POWER not in build.holds():
        return
    url = reverse("configurations", args=[build.number])
    hold, text = Hold.FIRST_POWER, "Battery, charger and plan are of one chemistry"
    yield Condition(hold, text, met([chemistry]), why([chemistry]), url)
    answer, reason = one_voltage(build, configuration)
    yield Condition(hold, "Unit, battery and charger are of one voltage", answer, reason, url)


def first_ride(build, carried, tips):
    if Hold.FIRST_RIDE not in build.holds():
        return
    hold, url = Hold.FIRST_RIDE, reverse("build_parts", args=[build.number])
    text = "Client and added parts together are no heavier than the rated load"
    yield Condition(hold, text, met(carried), why(carried), url)
    for heading, findings in tips:
        text = f"{heading}: it does not tip on the client's slopes"
        yield Condition(hold, text, met(findings), why(findings), url)


def hand_off(build):
    if Hold.HAND_OFF not in build.holds():
        return
    kit, url = kit_of(build), reverse("restore_kit", args=[build.number])
    answer = {"yes": True, "no": False}.get(kit.complete) if kit else None
    if answer and not kit.location:
        answer = None
    reason = f"Missing: {kit.missing}." if kit and kit.missing else "" if answer else "Nobody has said so yet."
    yield Condition(Hold.HAND_OFF, "The restore kit is complete, and where it lies is known", answer, reason, url)
