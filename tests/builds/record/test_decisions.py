"""Asking, releasing, refusing: on evidence, by somebody who did not do the work, and void when it changes."""

import datetime
import html
import re

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.bench.rules import record_result
from builds.demo import journey
from builds.demo.factories.bench import drawn_photo
from builds.models import Build, StepResult
from builds.record import nonconformances, registry, releasing, rules, standing_on, voiding, voids
from builds.record.holds import MEANING, Hold, Stage
from builds.record.photos import keep_photo
from labsite.figures import moment
from labsite.roles import Role
from tests.factory import make_account


@pytest.fixture
def tested(crew, build):
    """A build whose incoming tests are all passed."""
    journey.through_planning(build, crew)
    journey.work(build, crew, "incoming_test")
    return build


def test_a_release_keeps_who_when_what_it_means_and_the_evidence(crew, tested):
    decision = releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer)
    assert decision.made_by == crew.reviewer
    assert decision.meaning == MEANING[Hold.SOUND_UNIT]
    assert decision.configuration == tested.configuration()
    assert decision.digest == voiding.digest(decision.evidence)
    assert any(key.startswith("step") or "step" in key for key in decision.evidence)


def test_unmet_conditions_refuse_a_release(crew, build):
    with pytest.raises(rules.Refused, match="conditions of Sound unit are not met"):
        releasing.release(build, Hold.SOUND_UNIT, crew.reviewer)


@pytest.fixture
def departing(crew, tested):
    """The same build with a test that somebody says does not apply; its sentence."""
    step = tested.steps.filter(section="incoming_test", tests="").first()
    record_result(step, crew.builder, outcome="does_not_apply", note="It has no lamp <b>")
    rules.forget_prefetched(tested)
    return f"{step}: does not apply. It has no lamp <b>"


def test_a_departure_from_the_plan_is_agreed_to_by_whoever_releases(crew, tested, departing):
    assert releasing.departures(tested, Hold.SOUND_UNIT) == [departing]
    for agreed in ([], ["Something else"]):
        with pytest.raises(rules.Refused, match="Tick first what departs from the plan, or refuse: .*no lamp"):
            releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer, agreed=agreed)
    decision = releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer, agreed=[departing, "Something else"])
    assert decision.agreed == [departing]


def test_the_page_shows_a_departure_and_asks_to_tick_it(crew, tested, departing, as_person):
    page = reverse("hold_point", args=[tested.number, Hold.SOUND_UNIT])
    release = reverse("hold_release", args=[tested.number, Hold.SOUND_UNIT])
    reviewer = as_person(crew.reviewer)
    shown = reviewer.get(page).content.decode()
    assert shown.count("does not apply. It has no lamp &lt;b&gt;") >= 2 and 'name="agreed"' in shown
    refused = reviewer.post(release, carried(reviewer, page), follow=True).content.decode()
    assert "Tick first what departs from the plan" in refused and releasing.standing(tested, Hold.SOUND_UNIT) is None
    reviewer.post(release, {"agreed": [departing], **carried(reviewer, page)})
    decision = releasing.standing(tested, Hold.SOUND_UNIT)
    for address in (page, reverse("hold_decision", args=[tested.number, decision.pk])):
        assert "It has no lamp &lt;b&gt;" in reviewer.get(address).content.decode()


def test_nobody_releases_their_own_work(crew, tested):
    crew.builder.is_reviewer = True
    crew.builder.save(update_fields=["is_reviewer"])
    with pytest.raises(rules.Refused, match="You did work on this build"):
        releasing.release(tested, Hold.SOUND_UNIT, crew.builder)


def test_a_standing_release_is_not_released_again(crew, tested):
    releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer)
    with pytest.raises(rules.Refused, match="released already"):
        releasing.release(tested, Hold.SOUND_UNIT, make_account(Role.REVIEWER))


def test_a_refusal_needs_a_reason_and_answers_the_request(crew, tested):
    releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)
    with pytest.raises(rules.Refused, match="Enter the reason"):
        releasing.refuse(tested, Hold.SOUND_UNIT, crew.reviewer, "")
    releasing.refuse(tested, Hold.SOUND_UNIT, crew.reviewer, "The label is not readable")
    assert not tested.hold_requests.filter(answered_at__isnull=True).exists()
    assert releasing.standing(tested, Hold.SOUND_UNIT) is None


def test_nobody_is_asked_while_a_condition_is_not_met(crew, tested, as_person):
    """A reviewer comes to decide, not to find out what is missing: the page names it, and so does the refusal."""
    tested.unit.recall = "unknown"
    tested.unit.save(update_fields=["recall"])
    with pytest.raises(
        rules.Refused, match="A condition of Sound unit is not met: The recall was looked up"
    ) as refused:
        releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)
    assert str(refused.value).endswith("A reviewer is asked once all are met.")
    page, ask = (reverse(name, args=[tested.number, Hold.SOUND_UNIT]) for name in ("hold_point", "hold_ask"))
    builder = as_person(crew.builder)
    shown = builder.get(page).content.decode()
    assert "A reviewer is asked once every condition is met: 1 is still to come." in shown
    assert "Ask a reviewer to look" not in shown
    assert "The recall was looked up" in builder.post(ask, follow=True).content.decode()
    assert not tested.hold_requests.exists()
    tested.unit.recall = "none"
    tested.unit.save(update_fields=["recall"])
    assert "Ask a reviewer to look" in builder.get(page).content.decode()
    builder.post(ask)
    assert tested.hold_requests.filter(answered_at__isnull=True).exists()


def test_what_came_up_after_asking_is_said_on_the_page(crew, tested, as_person):
    releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)
    page = reverse("hold_point", args=[tested.number, Hold.SOUND_UNIT])
    assert "Since then something changed" not in as_person(crew.reviewer).get(page).content.decode()
    nonconformances.open_nonconformance(tested, crew.second, "A bolt is missing")
    assert "Since then something changed" in as_person(crew.reviewer).get(page).content.decode()
    queue = as_person(crew.reviewer).get(reverse("review_queue")).content.decode()
    waiting = queue[queue.index("Hold points that wait") : queue.index("Builds you review")]
    assert "Nonconformance open" in waiting


def test_asking_twice_is_one_request(crew, tested):
    releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)
    with pytest.raises(rules.Refused, match="asked for Sound unit already"):
        releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)


def test_a_hold_point_that_the_plan_lacks_is_refused(crew, tested):
    tested.hold_points = ["sound_unit", "first_power", "hand_off"]
    with pytest.raises(rules.Refused, match="no hold point First ride"):
        releasing.ask(tested, Hold.FIRST_RIDE, crew.builder)


def test_changed_evidence_voids_and_changing_back_does_not_mend(crew, tested):
    decision = releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer)
    unit = tested.unit
    unit.recall = "recalled"
    unit.save(update_fields=["recall"])
    decision.refresh_from_db()
    assert decision.voided_at is not None
    assert any("recall" in change for change in decision.void_changes)
    unit.recall = "none"
    unit.save(update_fields=["recall"])
    decision.refresh_from_db()
    assert not decision.stands(timezone.localdate())


def test_a_struck_result_voids(crew, tested):
    decision = releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer)
    StepResult.objects.filter(step__build=tested).first().strike(crew.builder, "Wrong unit")
    decision.refresh_from_db()
    assert decision.voided_at is not None


def test_what_changed_since_the_last_release_is_told(crew, tested):
    releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer)
    tested.unit.recall = "remedied"
    tested.unit.save(update_fields=["recall"])
    now = standing_on.of_hold(tested, Hold.SOUND_UNIT, registry.reports(tested))
    told = releasing.changed_since_last_release(tested, Hold.SOUND_UNIT, now)
    assert len(told) == 1 and "recall" in told[0]


def test_a_void_earlier_release_voids_the_later_ones(crew, build):
    journey.take_to(build, Stage.COMMISSIONING, crew)
    sound, power = (releasing.standing(build, hold) for hold in (Hold.SOUND_UNIT, Hold.FIRST_POWER))
    build.unit.recall = "recalled"
    build.unit.save(update_fields=["recall"])
    for decision in (sound, power):
        decision.refresh_from_db()
        assert decision.voided_at is not None
    assert any("Release of Sound unit" in change for change in power.void_changes)


def test_first_ride_stands_no_longer_than_the_clearance(crew, build):
    journey.take_to(build, Stage.FITTING, crew)
    decision = releasing.standing(build, Hold.FIRST_RIDE)
    clearance = build.client.clearance()
    assert decision.good_until == clearance.expires_on
    after = clearance.expires_on + datetime.timedelta(days=1)
    assert decision.stands(clearance.expires_on) and not decision.stands(after)
    assert "ended on" in decision.why_void(after)[0]


def test_use_as_is_is_for_a_reviewer_who_did_not_find_it(crew, build):
    found = nonconformances.open_nonconformance(build, crew.builder, "Scratched shell")
    facts = {"disposition": "use_as_is", "cause": "Transport", "fix": "None needed"}
    with pytest.raises(rules.Refused, match="Only a reviewer"):
        nonconformances.dispose(found, crew.builder, **facts)
    assert not nonconformances.dispose(found, crew.reviewer, **facts).is_open


def test_one_failed_thing_opens_one_nonconformance(crew, build):
    first = nonconformances.open_nonconformance(build, crew.builder, "It failed", source="step:1")
    assert nonconformances.open_nonconformance(build, crew.builder, "It failed again", source="step:1") == first


WHEN = r"\d+ \w+ \d{4}, \d\d:\d\d"


def addresses(build):
    return [
        reverse(name, args=[build.number, Hold.SOUND_UNIT]) for name in ("hold_point", "hold_release", "hold_refuse")
    ]


def carried(client, address):
    """What the form on this page was opened on."""
    return dict(re.findall(r'name="(based_on|seen)" value="([^"]+)"', client.get(address).content.decode()))


def test_a_page_opened_before_a_refusal_does_not_release(crew, tested, as_person):
    """Somebody asked again, so that only the page is too old; the same page opened anew releases."""
    releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)
    page, release, _ = addresses(tested)
    reviewer = as_person(crew.reviewer)
    before = carried(reviewer, page)
    other = make_account(Role.REVIEWER)
    releasing.refuse(tested, Hold.SOUND_UNIT, other, "A wheel is cracked.")
    releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)
    told = f"Sound unit was refused by {other.full_name} on {WHEN}: A wheel is cracked."
    for sent in (before, {}, {"based_on": "x"}):
        shown = reviewer.post(release, sent, follow=True).content.decode()
        assert re.search(f"After this page was opened, {told} Look at it and decide again.", shown)
        assert releasing.standing(tested, Hold.SOUND_UNIT) is None
    reviewer.post(release, carried(reviewer, page))
    assert releasing.standing(tested, Hold.SOUND_UNIT).made_by == crew.reviewer


def test_a_page_opened_before_a_release_that_is_void_by_now_decides_nothing(crew, tested, as_person):
    _, release, refuse = addresses(tested)
    releasing.release(tested, Hold.SOUND_UNIT, make_account(Role.REVIEWER)).void(["The recall"])
    reviewer = as_person(crew.reviewer)
    assert "void since" in reviewer.post(release, {"based_on": 0}, follow=True).content.decode()
    answer = reviewer.post(refuse, {"based_on": 0, "reason": "No photo of the label"})
    assert answer.status_code == 422
    assert "Sound unit was released by" in answer.content.decode()
    assert "No photo of the label" in answer.content.decode()
    assert tested.hold_decisions.count() == 1


def test_a_page_opened_before_a_release_hears_who_released_it(crew, tested, as_person):
    page, release, _ = addresses(tested)
    reviewer = as_person(crew.reviewer)
    before = carried(reviewer, page)
    other = make_account(Role.REVIEWER)
    releasing.release(tested, Hold.SOUND_UNIT, other)
    assert f"was released by {other.full_name} on" in reviewer.post(release, before, follow=True).content.decode()
    assert tested.hold_decisions.count() == 1


def test_refusing_shows_the_last_decision_and_is_refused_where_another_came(crew, tested, as_person):
    _, _, refuse = addresses(tested)
    reviewer = as_person(crew.reviewer)
    before = carried(reviewer, refuse)
    releasing.refuse(tested, Hold.SOUND_UNIT, make_account(Role.REVIEWER), "A wheel is cracked")
    answer = reviewer.post(refuse, {**before, "reason": "The label is not readable"})
    assert answer.status_code == 422 and "A wheel is cracked" in answer.content.decode()
    assert tested.hold_decisions.count() == 1
    assert "Last decision: Sound unit was refused by" in reviewer.get(refuse).content.decode()
    reviewer.post(refuse, {**carried(reviewer, refuse), "reason": "The label is not readable"})
    assert tested.hold_decisions.count() == 2


def test_the_rule_itself_refuses_what_was_decided_unseen(crew, tested):
    releasing.refuse(tested, Hold.SOUND_UNIT, crew.reviewer, "A wheel is cracked")
    releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)
    with pytest.raises(rules.Refused, match="After this page was opened"):
        releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer, based_on=0)
    with pytest.raises(rules.Refused, match="After this page was opened"):
        releasing.refuse(tested, Hold.SOUND_UNIT, crew.reviewer, "No photo", based_on=0)


def test_after_a_refusal_somebody_asks_again_before_a_release(crew, tested, as_person):
    page, release, _ = addresses(tested)
    releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)
    refusal = releasing.refuse(tested, Hold.SOUND_UNIT, crew.reviewer, "A wheel is cracked")
    told = (
        f"It was refused by {crew.reviewer.full_name} on {moment(refusal.made_at)}: A wheel is cracked. "
        "Somebody of the build asks again first."
    )
    with pytest.raises(rules.Refused) as refused:
        releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer)
    assert str(refused.value) == told
    reviewer = as_person(crew.reviewer)
    shown = reviewer.get(page).content.decode()
    assert "Somebody of the build asks again first." in shown and release not in shown
    releasing.ask(tested, Hold.SOUND_UNIT, crew.builder)
    shown = reviewer.get(page).content.decode()
    assert "asks again first" not in shown and release in shown
    releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer)
    assert releasing.standing(tested, Hold.SOUND_UNIT)


def test_the_page_shows_every_value_that_a_release_would_keep(crew, tested, as_person):
    page = addresses(tested)[0]
    for person in (crew.reviewer, crew.builder):
        shown = as_person(person).get(page)
        kept = standing_on.of_hold(fresh(tested), Hold.SOUND_UNIT, registry.reports(fresh(tested)))
        told = [item for group in shown.context["stands_on"] for item in group.items]
        assert [item.label for item in told] == [item["label"] for item in sorted_by_heading(kept)]
        text = html.unescape(shown.content.decode())
        assert all(item.label in text and item.about in text for item in told)
        assert all(value in text for item in told for _, value in item.fields)
        told_of = sum(len(item.fields) for item in told)
        assert told_of == sum(len(one["fields"].keys() - {"step", "note"}) for one in kept.values())
    assert releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer).evidence == kept


def sorted_by_heading(kept):
    order = list(standing_on.HEADINGS)
    return [kept[key] for key in sorted(kept, key=lambda key: order.index(voiding.kind_of(key)))]


def fresh(build):
    return Build.objects.get(pk=build.pk)


def test_evidence_that_changed_after_the_page_was_opened_is_not_released(crew, tested, as_person):
    """The change meets every condition still, and no decision came between: only what was looked at is another."""
    page, release, _ = addresses(tested)
    reviewer = as_person(crew.reviewer)
    before = carried(reviewer, page)
    step = tested.steps.filter(section="incoming_test", tests="", reading_label="").first()
    record_result(step, crew.builder, outcome="does_not_apply", note="It has none")
    departing = {"agreed": releasing.departures(fresh(tested), Hold.SOUND_UNIT)}
    told = f"After this page was opened, this changed: Incoming test step {step}. Look at it and decide again."
    assert told in html.unescape(reviewer.post(release, before | departing, follow=True).content.decode())
    assert releasing.standing(fresh(tested), Hold.SOUND_UNIT) is None
    reviewer.post(release, carried(reviewer, page) | departing)
    assert releasing.standing(fresh(tested), Hold.SOUND_UNIT).made_by == crew.reviewer


@pytest.mark.parametrize("seen", [None, "", "x", "another build"])
def test_who_looked_at_nothing_releases_nothing(crew, tested, as_person, seen):
    page, release, _ = addresses(tested)
    reviewer = as_person(crew.reviewer)
    sent = {"based_on": carried(reviewer, page)["based_on"]}
    if seen is not None:
        sent["seen"] = standing_on.token(crew.reviewer, {}) if seen == "another build" else seen
    shown = reviewer.post(release, sent, follow=True).content.decode()
    assert "Open the hold point Sound unit, look at what it stands on, and release it there." in shown
    assert releasing.standing(fresh(tested), Hold.SOUND_UNIT) is None


def test_the_page_tells_what_was_taken_away_and_how_many_more(build):
    kept = {f"wire-run:{one}": {"label": f"Wire run W{one}", "fields": {"gauge": "10 AWG"}} for one in range(9)}
    shown = standing_on.token(build, {**kept, "fuse:1": {"label": "Fuse F1", "fields": {}}})
    assert standing_on.changed_since(build, kept, shown) == ["1 taken away"]
    now = {key: {**item, "fields": {"gauge": "12 AWG"}} for key, item in kept.items()}
    told = [*(f"Wire run W{one}" for one in range(6)), "3 more", "1 taken away"]
    assert standing_on.changed_since(build, now, shown) == told


def test_a_step_tells_what_it_asks_for_once_and_that_it_took_no_reading():
    step = {"outcome": "Passed", "reading": None, "step": "Look at the seat No crack.", "limits": "none"}
    item = standing_on.item_in_words({"label": "Incoming test step I1 Look at the seat", "fields": step})
    assert item.about == "No crack."
    assert item.fields == [("Outcome", "Passed"), ("Reading", "none recorded"), ("Limits", "none")]
    unknown = standing_on.item_in_words({"label": "Timed runs", "fields": {"speed": None}})
    assert unknown.fields == [("Speed", "unknown")]


def test_a_field_is_named_as_a_person_would(tested):
    item = {"label": "Configuration", "fields": {"straps_open": None, "ceiling_position": "slow"}}
    changed = {**item, "fields": {**item["fields"], "straps_open": "pull"}}
    told = voiding.changes({"configuration": item}, {"configuration": changed})
    assert told == ["Configuration: how the straps open was unknown, now pull"]
    assert standing_on.item_in_words(item).fields == [("How the straps open", "unknown"), ("Ceiling position", "slow")]


def test_what_is_wide_or_alone_is_no_table():
    wide = {f"wire-run:{n}": {"label": f"W{n}", "fields": dict.fromkeys("abcde", "1")} for n in range(2)}
    narrow = {f"fuse:{n}": {"label": f"F{n}", "fields": {"rating": "20 A"}} for n in range(2)}
    alone = {"battery": {"label": "Battery", "fields": {"voltage": "12 V"}}}
    told = standing_on.in_words({**wide, **narrow, **alone})
    assert {group.heading: group.columns for group in told} == {"Wire runs": [], "Fuses": ["Rating"], "Battery": []}


def test_every_kind_of_evidence_has_a_heading():
    assert set(standing_on.HEADINGS) == set(voids.known_fields())


def test_a_note_is_shown_and_is_evidence(crew, tested, as_person):
    """“Every fault is in the note”: whoever releases reads it, and another note is another piece of evidence."""
    page, release, _ = addresses(tested)
    reviewer = as_person(crew.reviewer)
    step = tested.steps.filter(section="incoming_test", tests="", reading_label="").first()
    record_result(step, crew.builder, outcome="passed", note="A dent <b> at the front")
    before = carried(reviewer, page)
    assert "Note: A dent &lt;b&gt; at the front" in reviewer.get(page).text
    record_result(step, crew.builder, outcome="passed", note="A crack at the axle")
    told = f"this changed: Incoming test step {step}."
    assert told in html.unescape(reviewer.post(release, before, follow=True).text)
    decision = releasing.release(fresh(tested), Hold.SOUND_UNIT, crew.reviewer)
    record_result(step, crew.builder, outcome="passed", note="None")
    decision.refresh_from_db()
    assert "note was A crack at the axle, now None" in " ".join(decision.void_changes)


def test_a_photo_that_came_after_the_page_was_opened_is_looked_at_first(crew, tested, as_person):
    page, release, _ = addresses(tested)
    reviewer = as_person(crew.reviewer)
    before = carried(reviewer, page)
    keep_photo(tested, crew.builder, drawn_photo(), caption="The left wheel")
    shown = html.unescape(reviewer.post(release, before, follow=True).text)
    assert "After this page was opened, this changed: the photos. Look at it and decide again." in shown
    reviewer.post(release, carried(reviewer, page))
    assert releasing.standing(fresh(tested), Hold.SOUND_UNIT).made_by == crew.reviewer


def test_what_was_released_before_a_field_was_evidence_stands(crew, tested):
    """As after an update: the kept snapshot knows no notes. A change of what it knows voids it all the same."""
    decision = releasing.release(tested, Hold.SOUND_UNIT, crew.reviewer)
    for item in decision.evidence.values():
        item["fields"].pop("note", None)
    decision.digest = voiding.digest(decision.evidence)
    decision.save(update_fields=["evidence", "digest"])
    voiding.recheck(fresh(tested))
    decision.refresh_from_db()
    assert decision.voided_at is None
    now = standing_on.of_hold(fresh(tested), Hold.SOUND_UNIT, registry.reports(fresh(tested)))
    assert releasing.changed_since_last_release(fresh(tested), Hold.SOUND_UNIT, now) == []
    tested.unit.recall = "remedied"
    tested.unit.save(update_fields=["recall"])
    decision.refresh_from_db()
    assert [one for one in decision.void_changes if "recall" not in one] == []
