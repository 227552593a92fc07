"""Unit types, units, batteries and chargers of the demo lab and of tests. Every figure is invented but plausible."""

import factory
from django.utils import timezone
from factory.django import DjangoModelFactory

from builds.parts.models import BaseUnit, BaseUnitType, Battery, BuildPart, Charger, Chemistry, RestoreItem, RestoreKit


class TwoMotorTypeFactory(DjangoModelFactory):
    class Meta:
        model = BaseUnitType
        django_get_or_create = ("name",)

    name = "Two-motor ride-on, 12 V, single seat"
    kind = BaseUnitType.Kind.TWO_MOTOR
    rated_load_kg = 29.5
    own_mass_kg = 16.0
    own_place = [0.30, 0.0, 0.22]
    layout = BaseUnitType.Layout.FOUR
    track_m = 0.44
    wheelbase_m = 0.62
    wheel_diameter_m = 0.24
    motors = 2
    motor_running_a = 5.0
    motor_stall_a = 28.0
    battery_voltage_v = 12.0
    battery_capacity_ah = 12.0
    battery_chemistry = Chemistry.LEAD_ACID
    charger_current_a = 1.5
    charger_chemistry = Chemistry.LEAD_ACID


class OneMotorTypeFactory(TwoMotorTypeFactory):
    name = "One-motor ride-on, 12 V, single seat"
    kind = BaseUnitType.Kind.ONE_MOTOR
    motors = 1
    motor_running_a = 6.0
    motor_stall_a = 32.0


class ToyTypeFactory(DjangoModelFactory):
    class Meta:
        model = BaseUnitType
        django_get_or_create = ("name",)

    name = "Battery toy, plush animal with a gearbox"
    kind = BaseUnitType.Kind.TOY
    layout = BaseUnitType.Layout.NONE
    motors = 1
    motor_running_a = 0.3
    motor_stall_a = 1.5
    battery_voltage_v = 3.0
    battery_chemistry = Chemistry.PRIMARY


class BaseUnitFactory(DjangoModelFactory):
    class Meta:
        model = BaseUnit

    number = factory.Sequence(lambda n: f"U-{n + 101}")
    type = factory.SubFactory(TwoMotorTypeFactory)
    origin = BaseUnit.Origin.DONATED
    origin_from = "A family in the neighbourhood"
    received_on = factory.LazyFunction(timezone.localdate)
    recall = BaseUnit.Recall.NONE
    recall_looked_up_on = factory.LazyFunction(timezone.localdate)
    recall_where = "National recall list for consumer products"


class BatteryFactory(DjangoModelFactory):
    class Meta:
        model = Battery

    number = factory.Sequence(lambda n: f"BAT-{n + 11}")
    chemistry = Chemistry.LEAD_ACID
    voltage_v = 12.0
    capacity_ah = 12.0
    hours_rate = 20
    bought_on = factory.LazyFunction(timezone.localdate)
    mass_kg = 3.9
    usable_share = 0.5
    peukert = 1.2
    self_discharge_percent = 3.0


class ChargerFactory(DjangoModelFactory):
    class Meta:
        model = Charger

    number = factory.Sequence(lambda n: f"CH-{n + 11}")
    chemistry = Chemistry.LEAD_ACID
    voltage_v = 12.0
    current_a = 1.5
    stops_by_itself = "yes"
    light_charging = "red"
    light_full = "green"


class BuildPartFactory(DjangoModelFactory):
    """A line added at the bench; it needs `build` and who added it."""

    class Meta:
        model = BuildPart

    find_number = factory.Sequence(lambda n: n + 50)
    name = "Side plate for the arm"
    mass_kg = 0.4
    place = [0.4, 0.2, 0.4]
    deviation_reason = "The clamp alone did not hold"


class RestoreItemFactory(DjangoModelFactory):
    """It needs `build` and `made_by`."""

    class Meta:
        model = RestoreItem

    name = "Foot pedal with its wire"
    mark = RestoreItem.Mark.RIGHT
    location = "Shelf 3, box 12"


class RestoreKitFactory(DjangoModelFactory):
    """It needs `build`."""

    class Meta:
        model = RestoreKit

    location = "Shelf 3, box 12"
    complete = "yes"


def make_toy_unit(**facts):
    return BaseUnitFactory(**{"type": ToyTypeFactory(), **facts})


def make_one_motor_unit(**facts):
    return BaseUnitFactory(**{"type": OneMotorTypeFactory(), **facts})


def place_parts(build, place=(0.3, 0.0, 0.3), mass_kg=0.2):
    """Give every part of a build that lacks them a mass and a place, as a builder with a scale would."""
    for part in build.parts.all():
        part.mass_kg = mass_kg if part.mass_kg is None else part.mass_kg
        part.place = list(part.place or place)
        part.save(update_fields=["mass_kg", "place"])
