"""What a release keeps of the evidence, and how a difference is told."""

from builds.record import registry, voiding, voids
from builds.record.holds import Hold
from builds.record.registry import Evidence

RUN = Evidence("wire-run", "wire-run:3", "Wire run W3", {"gauge": "14 AWG", "length": "1.2 m", "not_in_table": 1})


def test_a_snapshot_keeps_only_what_the_table_names():
    kept = voiding.snapshot(Hold.FIRST_POWER, [RUN])
    assert kept == {"wire-run:3": {"label": "Wire run W3", "fields": {"gauge": "14 AWG", "length": "1.2 m"}}}


def test_a_snapshot_leaves_out_evidence_of_other_hold_points():
    assert voiding.snapshot(Hold.SOUND_UNIT, [RUN]) == {}


def test_the_digest_does_not_depend_on_order():
    other = Evidence("fuse", "fuse:1", "Fuse F1", {"rating": "20 A"})
    first, second = (voiding.snapshot(Hold.FIRST_POWER, rows) for rows in ([RUN, other], [other, RUN]))
    assert voiding.digest(first) == voiding.digest(second)


def test_a_change_is_told_in_words():
    before = voiding.snapshot(Hold.FIRST_POWER, [RUN])
    thinner = Evidence("wire-run", "wire-run:3", "Wire run W3", {"gauge": "18 AWG", "length": None})
    now = voiding.snapshot(Hold.FIRST_POWER, [thinner])
    assert voiding.changes(before, now) == [
        "Wire run W3: gauge was 14 AWG, now 18 AWG",
        "Wire run W3: length was 1.2 m, now unknown",
    ]


def test_what_comes_and_goes_is_told():
    kept = voiding.snapshot(Hold.FIRST_POWER, [RUN])
    assert voiding.changes({}, kept) == ["Wire run W3 was added"]
    assert voiding.changes(kept, {}) == ["Wire run W3 was taken away"]


def test_every_hold_point_and_paper_has_rows_in_the_table():
    for target in voids.TARGETS:
        assert voids.fields_for(target), target


def test_rooms_offer_only_evidence_that_has_a_row(build):
    known = voids.known_fields()
    for name, report in registry.reports(build).items():
        for item in report.evidence:
            assert item.kind in known, (name, item.kind)
            assert set(item.fields) <= known[item.kind], (name, item.kind)


def test_every_key_is_used_once(build):
    keys = [item.key for report in registry.reports(build).values() for item in report.evidence]
    assert len(keys) == len(set(keys))
