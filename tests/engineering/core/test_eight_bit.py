"""The core on a simulated 8-bit controller, where int has 16 bits: the same answers, within its figures."""

import pytest

from builds.engineering.drive_numbers import settings_digest
from tests.engineering.core.eight_bit import (
    MOST_CODE,
    MOST_CYCLES,
    MOST_STATE,
    POSITIONS,
    RESTING,
    expected_answers,
    figures,
    run_eight_bit,
)
from tests.engineering.core.fits import FITS


@pytest.mark.parametrize("name", ["turned", "inverted"])
def test_it_answers_as_the_model_does_in_time_and_in_little_room(name):
    fit = FITS[name]
    found = run_eight_bit(fit)
    print(figures(name, fit, found))
    assert found.digest == settings_digest(fit)
    assert len(found.answers) == POSITIONS + RESTING
    assert found.answers == expected_answers(fit)
    moving = [step for *_, left, right in found.answers if (step := (left, right)) != (1500, 1500)]
    assert len(moving) > POSITIONS / 3
    assert 0 < found.worst_cycles < MOST_CYCLES  # counted by the simulated controller, not timed
    assert found.code_bytes < MOST_CODE
    assert found.state_bytes + found.constant_bytes < MOST_STATE
