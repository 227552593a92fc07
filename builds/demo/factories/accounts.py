"""People of the lab and the lab itself, for the demo lab and for tests."""

import factory
from factory.django import DjangoModelFactory

from labsite.models import Account, Lab
from labsite.roles import Role

PASSWORD = "alder-creek-demo"


class AccountFactory(DjangoModelFactory):
    class Meta:
        model = Account
        skip_postgeneration_save = True

    class Params:
        role = None

    username = factory.Sequence(lambda n: f"person{n}")
    full_name = factory.Sequence(lambda n: f"Person Number {n}")
    is_coordinator = factory.LazyAttribute(lambda made: made.role == Role.COORDINATOR)
    is_builder = factory.LazyAttribute(lambda made: made.role == Role.BUILDER)
    is_reviewer = factory.LazyAttribute(lambda made: made.role == Role.REVIEWER)
    is_director = factory.LazyAttribute(lambda made: made.role == Role.DIRECTOR)
    password = factory.django.Password(PASSWORD)


class LabFactory(DjangoModelFactory):
    class Meta:
        model = Lab
        django_get_or_create = ("name",)

    name = "Alder Creek Adaptive Equipment Lab"
    phone = "555 0142"
    hours = "Monday to Friday, 9:00 to 17:00"
    outside_hours = "Stop using the equipment and leave a message"
    emergency_number = "911"
    time_zone = "America/Chicago"
