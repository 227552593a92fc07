"""What other rooms ask a client, and that a ticket gets it all in few queries."""

import datetime

import pytest
from django.utils import timezone

from builds.demo.factories import clients as make
from clients.models import Client, Consent

TODAY = datetime.date(2026, 5, 4)


@pytest.fixture
def client_(db):
    return make.ClientFactory()


def test_case_codes_are_counted_from_1001(db):
    assert [make.ClientFactory().case_code for _ in range(3)] == ["C-1001", "C-1002", "C-1003"]


def test_the_newest_standing_measure_counts(client_, coordinator):
    old = make.MeasureFactory(client=client_, value_si=15.0, taken_on=datetime.date(2026, 1, 1))
    new = make.MeasureFactory(client=client_, value_si=16.5, taken_on=datetime.date(2026, 4, 1))
    assert client_.latest_mass_kg() == 16.5
    new.strike(coordinator, "Wrong child on the scale")
    assert client_.latest_mass_kg() == old.value_si


def test_an_unmeasured_mass_is_unknown(client_):
    assert client_.latest_mass_kg() is None


def test_reach_is_kept_apart_by_side_and_compensation(client_):
    make.MeasureFactory(client=client_, reach=True, side="left", value_si=0.31)
    make.MeasureFactory(client=client_, reach=True, side="left", compensation="with", value_si=0.44)
    assert client_.latest("reach", side="left", compensation="without").value_si == 0.31
    assert client_.latest("reach", side="right") is None


def test_the_steepest_slope_is_unknown_without_places(client_):
    assert client_.steepest_slope() == (None, "No place of use is known")


def test_one_unknown_slope_makes_the_steepest_unknown(client_):
    make.PlaceFactory(client=client_, name="Yard", slope_deg=4)
    make.PlaceFactory(client=client_, name="School ramp", slope_deg=None)
    assert client_.steepest_slope() == (None, "The slope is unknown at: School ramp")


def test_the_steepest_of_known_slopes_is_named(client_):
    make.PlaceFactory(client=client_, name="Yard", slope_deg=4)
    make.PlaceFactory(client=client_, name="School ramp", slope_deg=7.1)
    assert client_.steepest_slope() == (7.1, "7.1° at: School ramp")


def test_the_language_of_the_first_contact_comes_first(client_):
    make.CaregiverFactory(client=client_, name="Abel", language="en", is_first_contact=False)
    make.CaregiverFactory(client=client_, name="Zoe", language="es")
    make.CaregiverFactory(client=client_, name="Yan", language="en", is_first_contact=False)
    assert client_.languages() == ["es", "en"]


def test_supervising_adults_are_those_who_said_so(client_):
    one = make.CaregiverFactory(client=client_, supervises=True)
    make.CaregiverFactory(client=client_, supervises=False)
    assert client_.supervising_adults() == [one]


@pytest.mark.parametrize(
    ("given", "expires", "holds"),
    [
        (TODAY, TODAY, True),
        (TODAY - datetime.timedelta(days=9), TODAY - datetime.timedelta(days=1), False),
        (TODAY + datetime.timedelta(days=1), TODAY + datetime.timedelta(days=9), False),
    ],
)
def test_a_clearance_holds_from_its_first_to_its_last_day(client_, given, expires, holds):
    clearance = make.ClearanceFactory(client=client_, given_on=given, expires_on=expires)
    assert client_.clearance(TODAY) == (clearance if holds else None)


def test_an_earlier_clearance_does_not_come_back_when_a_newer_one_ends(client_):
    """The newer one may be the narrower: what the clinician said last is what counts."""
    day = datetime.timedelta(days=1)
    wide = make.ClearanceFactory(client=client_, given_on=TODAY - 60 * day, expires_on=TODAY + 60 * day)
    narrow = make.ClearanceFactory(client=client_, given_on=TODAY - 9 * day, expires_on=TODAY - day)
    assert client_.clearance(TODAY - day) == narrow
    assert client_.clearance(TODAY) is None and client_.last_clearance(TODAY) == narrow
    assert client_.clearance(TODAY - 10 * day) == wide


def test_a_struck_clearance_holds_nothing(client_, coordinator):
    make.ClearanceFactory(client=client_).strike(coordinator, "Wrong client")
    assert client_.clearance() is None


def test_no_word_is_no_consent(client_):
    assert client_.consent_allows(Consent.Purpose.PHOTO_RECORD) is False


def test_the_newest_word_decides(client_):
    purpose = Consent.Purpose.PHOTO_RECORD
    make.ConsentFactory(client=client_, purpose=purpose, signed_on=TODAY)
    make.ConsentFactory(client=client_, purpose=purpose, given=False, signed_on=TODAY + datetime.timedelta(days=3))
    assert client_.consent_allows(purpose) is False
    assert client_.consents.allows(purpose) is False


def test_a_withdrawn_consent_allows_nothing(client_):
    make.ConsentFactory(client=client_, withdrawn_on=timezone.localdate())
    assert client_.consent_allows("service") is False


def test_a_ticket_reads_all_needs_in_seven_queries_or_fewer(cleared, django_assert_num_queries):
    with django_assert_num_queries(5):
        client = Client.objects.with_needs().get(pk=cleared.pk)
    with django_assert_num_queries(0):
        assert client.latest_mass_kg() == 16.0
        assert client.latest("reach", side="left").value_si == 0.31
        assert client.steepest_slope()[0] == 4.0
        assert client.clearance().clinician == "Dr. Imre Solt"
        assert client.access.side == "left"
        assert client.sitting.level == 3
        assert client.household.plug_in_time == datetime.time(16)
        assert len(client.cautions.all()) == 14
