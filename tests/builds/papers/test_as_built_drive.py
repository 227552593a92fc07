"""The drive in the as-built record: what is inverted and what the controller runs, and unknown where nobody knows."""

from builds.demo.factories.drive import make_accepted_fit
from builds.demo.factories.papers import PRESS, make_build_with_papers_due
from builds.drive.controller_rules import WORDS
from builds.engineering.finding import plain
from builds.record import rules as record
from tests.builds.papers.conftest import again
from tests.builds.papers.test_workshop_papers import text_of

PART = "Drive: settings, inversions, proof"


def test_what_nobody_has_said_is_unknown(ready):
    text = text_of("as_built", ready)
    assert f"{PART} Inversions, and what the controller runs" in text
    assert "Left motor controller inverted unknown" in text
    assert "Digest of the settings on record unknown" in text
    assert f"Does it run the settings on record {WORDS[None][1]}" in text


def test_an_inversion_and_a_turned_stick_are_told(ready, coordinator):
    fitted = make_accepted_fit(again(ready), coordinator)
    record.configure(again(ready), coordinator, "Wheel tried", left_inverted=True, right_inverted=False)
    text = text_of("as_built", ready)
    assert "Left motor controller inverted yes" in text
    assert "Right motor controller inverted no" in text
    assert f"Base of the stick turned {plain(fitted.results['rotation_deg'])} °" in text
    assert "Stick mirrored: crossed wires or swapped marks no" in text


def test_a_build_without_a_stick_has_no_such_part(ready):
    assert PART not in text_of("as_built", make_build_with_papers_due(PRESS))


def test_a_reason_in_the_drive_that_names_the_client_keeps_it_in_the_lab(ready, coordinator):
    from builds.papers import rules

    run = ready.proving_runs.create(
        configuration=ready.configuration(), supply="Bench supply, 2 A", made_by=coordinator
    )
    run.supply = f"{ready.client.person.given_name}'s supply"
    run.save(update_fields=["supply"])
    assert any("names the client" in reason for reason in rules.why_not("as_built", again(ready)))
