"""When the client outgrows the unit: on the ticket and on the client's page, to the day only for who sees identity."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from builds.demo import journey
from builds.demo.factories.clients import MeasureFactory
from builds.engineering.finding import CHECK, FITS, STOP, UNKNOWN
from builds.engineering.rider import greatest_rider
from builds.overview.outlook import DISAGREE, computed, facts_of, for_ticket, outlook, outlooks_for
from builds.parts.carrying import added_parts, part_mass
from builds.record import rules
from builds.record.holds import Standing
from builds.record.models import Build
from clients.models import Client
from labsite import figures
from labsite.models import Lab

# CDC 2000, file wtage.csv: medians of boys at 60.5 and at 96.5 months.
MEDIAN_60_5, MEDIAN_96_5 = 18.48592413, 25.75256528
DAYS_A_MONTH = 30.4375


@pytest.fixture
def median(build, client_of_lab):
    """A boy weighed on the median of 60.5 months, on a unit that leaves the median of 96.5 months for the rider."""
    weighed_on = timezone.localdate() - timedelta(days=14)
    person = client_of_lab.person
    person.sex, person.birth_date = "male", weighed_on - timedelta(days=round(60.5 * DAYS_A_MONTH))
    person.save(update_fields=["sex", "birth_date"])
    client_of_lab.measures.filter(kind="mass").update(value_si=MEDIAN_60_5, taken_on=weighed_on)
    added = weigh_parts(build, 0.25)
    build.unit.type.rated_load_kg = MEDIAN_96_5 + added
    build.unit.type.save(update_fields=["rated_load_kg"])
    return Build.objects.get(pk=build.pk)


def weigh_parts(build, each):
    build.parts.update(mass_kg=each)
    return sum(part.mass_kg * part.count for part in build.parts.all() if part.counts_as_added)


def limit_of(build):
    return greatest_rider(added=[part_mass(part) for part in added_parts(build)],
                          rated_kg=build.unit.type.rated_load_kg)  # fmt: skip


def of(build, identified=True):
    build = Build.objects.get(pk=build.pk)
    return outlook(build, facts_of(build.client), identified)


def finding(build, **how):
    return of(build, **how).findings[-1]


def expected_day(build):
    return build.client.person.birth_date + timedelta(days=round(96.5 * DAYS_A_MONTH))


def test_it_is_the_day_on_which_the_published_median_passes_what_the_rating_leaves(median):
    found = finding(median)
    days = [figures.day(expected_day(median) + timedelta(days=off)) for off in range(-3, 4)]
    assert found.value in days
    assert found.verdict == FITS
    assert any("rated for" in sentence and "that was added" in sentence for sentence in of(median).sentences)


def test_it_says_that_the_centile_is_assumed(median):
    assert "some conditions grow on other curves" in " ".join(of(median).sentences)
    assert "some conditions grow on other curves" in finding(median).formula


def test_more_added_is_outgrown_earlier(median):
    def day():
        build = Build.objects.get(pk=median.pk)
        facts = facts_of(build.client)
        return computed(facts, limit_of(build), [])[0].outgrown_on

    before = day()
    weigh_parts(median, 0.4)
    assert day() < before


@pytest.mark.parametrize(
    ("change", "missing"),
    [
        (lambda build: build.client.person.__class__.objects.update(sex="unknown"), "sex"),
        (lambda build: build.client.person.__class__.objects.update(birth_date=None), "birth date"),
        (lambda build: build.client.measures.filter(kind="mass").delete(), "weight"),
        (lambda build: type(build.unit.type).objects.update(rated_load_kg=None), "rated load of the unit"),
        (lambda build: build.client.person.delete(), "sex, birth date"),
    ],
)
def test_what_is_unknown_is_named_and_nothing_is_assumed(change, missing, median):
    change(median)
    found = finding(median)
    assert (found.verdict, found.value) == (UNKNOWN, None)
    assert found.missing.startswith(missing)


def test_a_part_that_nobody_weighed_is_named(median):
    part = median.parts.first()
    type(part).objects.filter(pk=part.pk).update(mass_kg=None)
    assert f"mass of {part.name}" in finding(median).missing


def test_where_the_added_parts_alone_are_too_heavy_it_stops(median):
    weigh_parts(median, 20)
    assert (finding(median).verdict, finding(median).value) == (STOP, "already")


def test_a_client_too_heavy_already_stops_even_without_sex_and_birth_date(median):
    median.client.person.delete()
    median.client.measures.filter(kind="mass").update(value_si=40.0)
    assert (finding(median).verdict, finding(median).value) == (STOP, "already")


def test_an_old_weight_is_read_from_today(median):
    """Weighed on the median four years ago: the curve has passed the limit since."""
    long_ago = timedelta(days=4 * 365)
    person = median.client.person
    person.birth_date -= long_ago
    person.save(update_fields=["birth_date"])
    row = median.client.measures.get(kind="mass")
    row.taken_on -= long_ago
    row.save(update_fields=["taken_on"])
    assert finding(median).verdict == CHECK
    assert "Weigh the client again." in " ".join(of(median).sentences)


def test_dates_that_disagree_are_said_without_naming_one(median):
    type(median.client.person).objects.update(birth_date=timezone.localdate())
    for identified in (True, False):
        assert (finding(median, identified=identified).verdict, finding(median, identified=identified).missing) == (
            UNKNOWN, DISAGREE,
        )  # fmt: skip


def told(found):
    """Everything that an outlook says."""
    return " ".join([*map(str, found.findings), *found.sentences, str(found.picture)])


def test_who_does_not_see_identity_learns_the_month_and_nothing_to_solve_for_a_birth_date(median):
    found = of(median, identified=False)
    months = {f"{expected_day(median) + timedelta(days=off):%B %Y}" for off in (-3, 3)}
    (only,) = found.findings
    assert only.value in months
    assert {label for label, _ in only.inputs} == {"weight", "limit", "outgrown on when climbing one centile line"}
    text = told(found)
    assert "centile of the weight" not in text and "60 months" not in text and "'male'" not in text
    assert figures.day(median.client.person.birth_date) not in text
    days = {figures.day(expected_day(median) + timedelta(days=off)) for off in range(-3, 4)}
    assert not [day for day in days if day in text]
    assert "60 months" in told(of(median, identified=True))  # what was looked for could be there


def test_their_picture_has_no_curve_to_fit(median):
    """A curve of the table, point by point, gives the age away; a straight line does not."""
    assert len(of(median, identified=False).picture.own.split()) == 2
    assert len(of(median, identified=True).picture.own.split()) > 20


def test_the_ticket_is_the_same_for_everybody(median, crew, as_person):
    for account in (crew.builder, crew.reviewer, crew.coordinator):
        page = as_person(account).get(reverse("ticket", args=[median.number])).content.decode()
        assert "Growth outlook" in page and "over-time" in page
        assert "Centile of the weight" not in page


def test_the_client_s_page_tells_the_day_to_the_desk_and_the_month_to_builders(median, crew, as_person):
    address = reverse("client_page", args=[median.client.case_code])
    desk = as_person(crew.coordinator).get(address).content.decode()
    bench = as_person(crew.builder).get(address).content.decode()
    assert f"this is passed on {finding(median).value}" in desk
    assert f"this is passed in {finding(median, identified=False).value}" in bench
    assert "Centile of the weight" in desk and "Centile of the weight" not in bench


def test_a_build_that_is_over_or_cancelled_has_no_outlook(median, crew):
    rules.set_standing(median, Standing.CANCELLED, crew.coordinator, "The family moved away")
    build = Build.objects.get(pk=median.pk)
    assert for_ticket(build) is None
    assert outlooks_for(build.client, [build], identified=True) == []


def test_a_build_on_hold_is_outgrown_all_the_same(median, crew):
    rules.set_standing(median, Standing.ON_HOLD, crew.coordinator, "Waits for a part")
    assert for_ticket(Build.objects.get(pk=median.pk)).findings


def test_masses_are_told_in_the_lab_s_units(median):
    Lab.objects.update(units=Lab.Units.US)
    found = of(median)
    assert found.picture.unit == "lb"
    assert "weighed 40.8 lb" in " ".join(found.sentences)  # 18.486 kg; 0.45359237 kg a pound, by definition


def test_more_builds_and_measures_take_no_more_queries(median, crew, django_assert_num_queries):
    def fresh():
        return Client.objects.with_needs().get(pk=median.client_id)

    client, builds = fresh(), list(Build.objects.filter(client=median.client))
    with Lab.current().serves_this_request(), django_assert_num_queries(3):
        assert len(outlooks_for(client, builds, identified=True)) == 1
    for kilos in (17.0, 17.5):
        MeasureFactory(client=median.client, made_by=crew.coordinator, value_si=kilos)
    journey.start("press-switch", median.client, crew)
    client, builds = fresh(), list(Build.objects.filter(client=median.client))
    with Lab.current().serves_this_request(), django_assert_num_queries(3):
        assert len(outlooks_for(client, builds, identified=True)) == 2
