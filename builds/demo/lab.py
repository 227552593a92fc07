"""Fills an empty database with the Alder Creek Adaptive Equipment Lab, invented throughout."""

from django.db import transaction
from django.utils import timezone

from builds.demo.cases import make_cases
from builds.demo.clock import DemoClock
from builds.demo.factories.accounts import LabFactory
from builds.demo.factories.parts import (
    BaseUnitFactory,
    BatteryFactory,
    ChargerFactory,
    make_one_motor_unit,
    make_toy_unit,
)
from builds.demo.family_links import add_family_links
from builds.demo.people import graduate, make_people
from builds.demo.stories import IN_USE
from builds.demo.stories_at_the_bench import AT_THE_BENCH
from builds.parts.models import BaseUnit
from builds.parts.rules import mark_do_not_use
from builds.plans.loading import load_folder
from builds.record.voiding import at_the_end

A_YEAR_AGO = 400


@transaction.atomic
def fill():
    """The whole demo lab, or nothing of it.

    Releases and moves recheck for themselves; everything is rechecked once more at the end.
    """
    with DemoClock() as clock, at_the_end():
        clock.go_to(A_YEAR_AGO)
        with LabFactory(walking_pace_m_s=1.1, reaction_s=1.5).own_time():
            return tell(clock)


def tell(clock):
    """Everybody and everything of the demo lab, each on its day."""
    people = make_people()
    load_folder()
    for story in (*IN_USE, *AT_THE_BENCH):
        story(clock, people)
    add_family_links(clock, people)
    make_cases(clock, people)
    stock_shelves(clock, people)
    clock.go_to(30)
    graduate(people)
    clock.go_to(0)
    return people


def stock_shelves(clock, people):
    """Units that are free, one that nobody may use and one that is recalled; a battery and a charger to spare."""
    clock.go_to(45)
    BaseUnitFactory(origin=BaseUnit.Origin.PURCHASED, origin_from="Bought new", cost="189.00")
    make_one_motor_unit(origin_from="The school's jumble sale")
    make_toy_unit(origin=BaseUnit.Origin.PURCHASED, origin_from="Bought new", cost="24.50")
    make_one_motor_unit(recall=BaseUnit.Recall.RECALLED, origin_from="A family in the next valley")
    BaseUnitFactory(recall=BaseUnit.Recall.UNKNOWN, recall_looked_up_on=None, recall_where="")
    BatteryFactory(bought_on=timezone.localdate())
    ChargerFactory()
    cracked = BaseUnitFactory(origin_from="A neighbour")
    clock.go_to(11)
    mark_do_not_use(cracked, people.ben, "The rear axle is cracked on the occupant's left")
