"""For every field in the table of what voids what: a change of it voids just what the table says.

One build goes by the rules to In use; each case changes one field through its model's save and is rolled back.
"""

import pytest
from django.db import transaction

from builds.demo.factories.bench import drawn_photo
from builds.demo.factories.record import make_build
from builds.models import Build, HoldDecision, IssuedPaper, ProvingRun, TeachBack
from builds.papers import rules
from builds.papers.models import PaperKind
from builds.papers.rules import AS_BUILT_TARGETS
from builds.record import registry, voiding, voids
from builds.record import rules as record
from builds.record.holds import Hold, Stage
from builds.record.photos import keep_photo
from tests.builds.record.changers import CHANGERS
from tests.factory import make_lab

pytestmark = pytest.mark.django_db
AS_BUILT = PaperKind.AS_BUILT
WHAT_WE_KEEP = PaperKind.WHAT_WE_KEEP
FIELDS = [(line, field) for line in voids.TABLE for field in line.fields]
PRINTED = "printed"  # supersedes the family papers that print it, and neither the as-built record nor what we keep
# A change of one row of the record is here and there a change of two fields of evidence: what is printed of it, too.
BESIDE = {
    ("unit-geometry", "own_mass"): PRINTED,
    ("carrying", "load"): PRINTED,
    **{("part", name): PRINTED for name in ("quantity", "mass", "stays_on", "removed")},
    ("hand-off", "terms"): PRINTED,
    ("teach-back", "adult"): PRINTED,
    ("contacts", "dates"): PRINTED,
    (PRINTED, "rider_limit"): Hold.FIRST_RIDE,
    (PRINTED, "lifting"): Hold.FIRST_RIDE,
}


@pytest.fixture(scope="module")
def case(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock(), transaction.atomic():
        make_lab(walking_pace_m_s=1.2)
        build = make_build(stage=Stage.IN_USE)
        keep_photo(build, build.made_by, drawn_photo(), on_guide=True)
        record.forget_prefetched(build)
        for kind in (PaperKind.USE_GUIDE, WHAT_WE_KEEP):
            rules.issue(build, kind, build.made_by)
        build.issued_papers.get(kind=PaperKind.USE_GUIDE, copy_number=1).delete()  # it shows no photo
        yield build.pk
        transaction.set_rollback(True)


@pytest.fixture
def build(case):
    with transaction.atomic():
        yield Build.objects.get(pk=case)
        transaction.set_rollback(True)


def expected(line, field):
    """What the table names, and what stands on that.

    Later hold points stand on earlier ones, the hand-off on papers and teach-back, and the as-built record on what the
    releases before the hand-off stood on.
    """
    found = {PRINTED} if line.kind == PRINTED else set(line.voids) - {voids.CLEARANCE}
    found |= {BESIDE[line.kind, field]} if (line.kind, field) in BESIDE else set()
    if line.kind == "hold-before":
        found.add(Hold.SOUND_UNIT)  # the change that voids the earliest one
    if voids.PROVING in found:
        found.add(Hold.FIRST_RIDE)
    if found & set(AS_BUILT_TARGETS):
        found.add(AS_BUILT)
    if voids.PAPERS in found:
        found.add(voids.KEEPING)  # that paper stands on both columns, and the hand-off does not wait for it
    if PRINTED in found:
        found = found - {PRINTED} | {voids.PAPERS}
    if found & {voids.PAPERS, voids.TEACH_BACK, AS_BUILT} and line.kind != "lab":
        found.add(Hold.HAND_OFF)  # but nobody stops the use of a unit because the lab is called otherwise
    order = list(Hold)
    first = min((order.index(one) for one in found if one in order), default=len(order))
    return found | set(order[first:])


def void_now(build):
    """Target -> the changes that voided it."""
    found = {one.hold: one.void_changes for one in HoldDecision.objects.filter(build=build, voided_at__isnull=False)}
    papers = IssuedPaper.objects.filter(build=build)
    for target, rows in (
        (voids.PAPERS, [one.superseded_changes for one in papers if one.kind not in (AS_BUILT, WHAT_WE_KEEP)]),
        (voids.KEEPING, [one.superseded_changes for one in papers if one.kind == WHAT_WE_KEEP]),
        (AS_BUILT, [one.superseded_changes for one in papers if one.kind == AS_BUILT]),
        (voids.PROVING, [one.void_changes for one in ProvingRun.objects.filter(build=build)]),
        (voids.TEACH_BACK, [one.stale_changes for one in TeachBack.objects.filter(build=build)]),
    ):
        told = [changes for changes in rows if changes]
        if told:
            found[target] = told[0]
    return found


def put(row, values):
    """Set the columns of a row as somebody would save them; returns what they were."""
    before = {name: getattr(row, name) for name in values}
    for name, value in values.items():
        setattr(row, name, value)
    row.save(update_fields=list(values))
    return before


def labels_of(build, kind):
    """What the releases call the evidence of this kind."""
    kept = [one.evidence for one in HoldDecision.objects.filter(build=build)]
    kept += [one.evidence for one in [*build.teach_backs.all()[:1], *build.proving_runs.all()]]
    kept += [one.evidence[voids.PAPERS] for one in build.issued_papers.all()]
    kept += [one.evidence[voids.KEEPING] for one in build.issued_papers.filter(kind=WHAT_WE_KEEP)]
    labels = {item["label"] for each in kept for key, item in each.items() if voiding.kind_of(key) == kind}
    return tuple(renamed(label) if kind.endswith("-step") else label for label in labels)


def renamed(label):
    """The label of a step up to its code; what follows is the title, which may be what changes."""
    return label.partition(" step ")[0] + " step " + label.partition(" step ")[2].split()[0]


def test_every_field_of_the_table_has_a_changer():
    assert {(line.kind, field) for line, field in FIELDS} == set(CHANGERS)


def test_the_evidence_of_a_build_in_use_has_every_kind_and_field_of_the_table(build):
    evidence = voiding.all_evidence(build)
    decisions = list(build.hold_decisions.select_related("made_by"))
    evidence = voiding.hold_evidence(build, Hold.HAND_OFF, evidence, decisions)
    seen = {(one.kind, name) for one in evidence for name in one.fields}
    assert seen == {(line.kind, field) for line, field in FIELDS}


def test_nothing_is_void_while_nothing_changed(build):
    voiding.recheck(build)
    assert void_now(build) == {}
    assert registry.dependants(), "papers and teach-back are watched"
    assert build.issued_papers.exists() and build.teach_backs.exists()


@pytest.mark.parametrize(("line", "field"), FIELDS, ids=lambda one: getattr(one, "kind", one))
def test_a_change_voids_what_the_table_says_and_nothing_else(build, line, field):
    labels = labels_of(build, line.kind)
    row, values = CHANGERS[line.kind, field](build)
    before = put(row, values)
    void = void_now(build)
    assert set(void) == expected(line, field)
    for target in set(line.voids) - {voids.CLEARANCE}:
        assert any(change.startswith(labels) for change in void[target]), (target, void[target], labels)
    put(row, before)
    assert set(void_now(build)) >= set(void), "changing it back brings nothing back"
