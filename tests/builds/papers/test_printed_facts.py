"""A family paper whose text would be another one today is superseded: no printed fact changes behind its back.

One build in use, every family paper of it issued. Each change of the record that the table of what voids what knows is
made, and each paper rendered before and after it: where the text differs, the issued copy is no longer current.
"""

import re
from datetime import timedelta

import pytest
from django.db import transaction
from django.utils import timezone

from builds.demo.factories.bench import drawn_photo
from builds.demo.factories.record import make_build
from builds.followup import rules as followup
from builds.followup.models import PlannedContact
from builds.models import Build, IssuedPaper
from builds.papers import kinds, rules
from builds.papers.facts import Facts
from builds.papers.models import PaperKind
from builds.papers.render import render_html
from builds.record import registry, voiding
from builds.record import rules as record
from builds.record.holds import Stage
from builds.record.photos import keep_photo
from tests.builds.record.changers import CHANGERS
from tests.factory import make_lab

pytestmark = pytest.mark.django_db
# What the lab and the family write on a sheet with a pen, after it was printed: a later copy shows it, and the earlier
# one is no less true for the boxes that were empty.
WRITTEN_BY_HAND = {("teach-back", "passed"): ("hand_off_sheet", "teach_back_sheet")}
# The hand-off sheet lists the copies that the family holds; those that came after it are not on it.
LATER_COPIES = re.compile(r"<h2>Papers given</h2>.*?</ul>", re.DOTALL)


@pytest.fixture(scope="module")
def case(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock(), transaction.atomic():
        make_lab(walking_pace_m_s=1.2)
        build = make_build(stage=Stage.IN_USE)
        keep_photo(build, build.made_by, drawn_photo(), on_guide=True)
        record.forget_prefetched(build)
        for kind in kinds.family_pack(build):
            rules.issue(build, kind, build.made_by)
            record.forget_prefetched(build)
        yield build.pk
        transaction.set_rollback(True)


@pytest.fixture
def build(case):
    with transaction.atomic():
        yield Build.objects.get(pk=case)
        transaction.set_rollback(True)


def pack(build):
    """Kind -> the text of the paper as it would be printed now."""
    build = registry.fetch_whole(Build.objects.all(), pk=build.pk)
    facts = Facts(build)
    printed = {kind: render_html(kind, build, facts=facts, draft=False) for kind in kinds.family_pack(build)}
    return {kind: LATER_COPIES.sub("", text) for kind, text in printed.items()}


def current(build):
    """The kinds of which every copy that was issued last is current."""
    newest = {one.kind: one for one in IssuedPaper.objects.filter(build=build).order_by("copy_number")}
    return {kind for kind, one in newest.items() if one.is_current and kind in kinds.FOR_FAMILIES}


def change(row, values):
    for name, value in values.items():
        setattr(row, name, value)
    row.save(update_fields=list(values))


@pytest.fixture(scope="module")
def texts(case):
    return {}


@pytest.mark.parametrize("changer", CHANGERS, ids=" ".join)
def test_a_paper_with_another_text_is_superseded(build, texts, changer):
    before = texts.setdefault("before", pack(build))
    change(*CHANGERS[changer](build))
    changed = {kind for kind, text in pack(build).items() if text != before[kind]}
    assert changed & current(build) - set(WRITTEN_BY_HAND.get(changer, ())) == set()


NUMBERS = {
    "unit": (lambda build: build.unit, set(kinds.FOR_FAMILIES)),
    "battery": (lambda build: build.configuration().battery, {"charging_guide", "hand_off_sheet"}),
    "charger": (lambda build: build.configuration().charger, {"charging_guide", "hand_off_sheet"}),
}


@pytest.mark.parametrize("what", NUMBERS)
def test_a_number_that_is_changed_supersedes_the_papers_that_print_it(build, what):
    find, printing = NUMBERS[what]
    change(find(build), {"number": "Z-99"})
    assert current(build) & printing == set()


# A paper stands on what it prints, and on no more


def test_nothing_is_superseded_while_nothing_changed(build):
    voiding.recheck(build)
    assert current(build) == set(kinds.family_pack(build))


ONLY = {
    ("printed", "rider_limit"): {"use_guide", "supervision_card", "hand_off_sheet"},
    ("printed", "lifting"): {"use_guide"},
    ("printed", "keeping_up"): {"use_guide"},
    ("printed", "lights"): {"charging_guide"},
    ("printed", "photo"): {"use_guide"},
    ("printed", "terms"): {"hand_off_sheet"},
    ("printed", "handed_on"): {"hand_off_sheet"},
    ("printed", "interpreter"): {"hand_off_sheet"},
    ("printed", "adults"): {"hand_off_sheet", "teach_back_sheet"},
    ("printed", "contact"): {"hand_off_sheet", "follow_up_form"},
}


@pytest.mark.parametrize("changer", ONLY, ids=" ".join)
def test_only_the_papers_that_print_it_are_superseded(build, changer):
    change(*CHANGERS[changer](build))
    assert set(kinds.family_pack(build)) - current(build) == ONLY[changer]


def test_a_pace_that_changes_no_sentence_supersedes_nothing(build):
    from labsite.models import Lab

    change(Lab.objects.get(), {"walking_pace_m_s": 1.3})
    assert current(build) == set(kinds.family_pack(build))


def test_a_contact_that_passes_is_done_or_is_added_supersedes_nothing(build, monkeypatch):
    contacts = list(build.contacts.order_by("due_on"))
    change(contacts[0], {"done_on": contacts[0].due_on})
    later = contacts[-1].due_on + timedelta(days=30)
    PlannedContact.objects.create(build=build, kind="call", due_on=later, made_by=build.made_by)
    monkeypatch.setattr(timezone, "localdate", lambda *given: contacts[1].due_on + timedelta(days=1))
    voiding.recheck(Build.objects.get(pk=build.pk))
    assert current(build) >= {PaperKind.HAND_OFF_SHEET, PaperKind.FOLLOW_UP_FORM}


def test_a_later_contact_than_those_told_may_move(build):
    change(build.contacts.order_by("due_on").last(), {"struck_at": timezone.now()})
    assert current(build) == set(kinds.family_pack(build))
    assert followup.FIRST_CONTACTS == 2


def test_the_evidence_of_a_paper_names_nobody(build):
    kept = " ".join(str(one.evidence) for one in build.issued_papers.all())
    assert not [adult.name for adult in build.client.caregivers.all() if adult.name in kept]


def test_a_name_changed_back_brings_no_sheet_back(build):
    adult = build.client.caregivers.get()
    name = adult.name
    change(adult, {"name": "Another Name"})
    change(adult, {"name": name})
    assert current(build) == set(kinds.family_pack(build)) - {"hand_off_sheet", "teach_back_sheet"}
