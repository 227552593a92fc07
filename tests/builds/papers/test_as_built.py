"""The as-built record tells the unit and nobody's family."""

from builds.demo.factories.parts import RestoreItemFactory, RestoreKitFactory
from builds.papers import rules
from builds.papers.render import render_html
from builds.record.nonconformances import dispose, open_nonconformance
from builds.wiring.checks import run_digest
from builds.wiring.models import WireCheck
from tests.builds.papers.conftest import again, pdf_text


def identifying(client):
    person, adult = client.person, client.caregivers.first()
    return [person.given_name, person.family_name, person.address, adult.name, adult.phone, "2022", "Joanna Pell"]


def test_it_carries_no_personal_data(ready):
    text = pdf_text("as_built", ready)
    assert [word for word in identifying(ready.client) if word in text] == []


def test_nor_does_anything_else_that_hangs_on_the_unit(ready):
    for kind in ("use_guide", "charging_guide", "supervision_card"):
        text = pdf_text(kind, ready)
        assert [word for word in identifying(ready.client) if word in text] == []


def test_it_lists_every_run_with_its_labels_and_every_fuse(ready):
    text = pdf_text("as_built", ready).replace(" ", "")
    for run in ready.wire_runs.all():
        assert f"{run.code}{run.start}to{run.end}".replace(" ", "") in text
        assert run.label_start.replace(" ", "") in text
    assert all(fuse.code in text for fuse in ready.fuses.all())


def test_it_tells_nonconformances_restore_kit_and_releases_with_digest(ready, coordinator, reviewer):
    wrong = open_nonconformance(ready, coordinator, "Wire W3 is bare")
    dispose(wrong, reviewer, disposition="rework", cause="Stripped too far", fix="Cut back and crimped again")
    RestoreKitFactory(build=ready, location="Shelf 3, box 12")
    RestoreItemFactory(build=ready, made_by=coordinator, name="Foot pedal")
    text = pdf_text("as_built", ready)
    assert "Wire W3 is bare" in text
    assert "Rework to the plan" in text
    assert "Cut back and crimped again" in text
    assert "Shelf 3, box 12" in text
    assert "Foot pedal" in text
    assert all(one.digest in text.replace(" ", "") for one in ready.hold_decisions.all())


def test_it_tells_what_was_agreed_to_and_refuses_a_name_in_it(ready, reviewer):
    decision = ready.hold_decisions.order_by("-pk").first()
    decision.agreed = ["I7 Horn: does not apply. It has none"]
    decision.save(update_fields=["agreed"])
    assert "Agreed to: I7 Horn: does not apply. It has none" in render_html("as_built", again(ready))
    assert not rules.why_not("as_built", again(ready))
    decision.agreed = [f"I7 Horn: does not apply. {ready.client.person.given_name} has none"]
    decision.save(update_fields=["agreed"])
    assert any("names the client" in one or "may name" in one for one in rules.why_not("as_built", again(ready)))


def test_ticks_stay_hidden_until_the_second_person_has_checked_every_run(ready, builder, reviewer):
    ticks = dict.fromkeys(WireCheck.TICKS, "right")
    for run in ready.wire_runs.all():
        WireCheck.objects.create(run=run, round="first", run_digest=run_digest(run), made_by=builder, **ticks)
    assert "Right / Right" not in render_html("as_built", again(ready))
    assert builder.full_name not in render_html("as_built", again(ready))
    for run in again(ready).wire_runs.all():
        WireCheck.objects.create(run=run, round="second", run_digest=run_digest(run), made_by=reviewer, **ticks)
    assert "Right / Right" in render_html("as_built", again(ready))


def test_a_note_that_names_the_client_keeps_it_in_the_lab(ready, coordinator):
    open_nonconformance(ready, coordinator, f"{ready.client.person.given_name} kicked the plug")
    assert any("names the client" in reason for reason in rules.why_not("as_built", again(ready)))
