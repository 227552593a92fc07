"""The goal attainment score refuses what is no score."""

import pytest

from builds.engineering.finding import UNKNOWN, EngineeringError
from builds.engineering.goals import goal_score

KNOWN = {"scores": [1, 0], "weights": [1, 2], "rho": 0.3}


@pytest.mark.parametrize(
    "wrong",
    [
        {"scores": [3, 0]},
        {"scores": [0.5, 0]},
        {"scores": [], "weights": []},
        {"weights": [1]},
        {"weights": [0, 1]},
        {"rho": 1.1},
    ],
)
def test_nonsense_is_refused(wrong):
    with pytest.raises(EngineeringError):
        goal_score(**{**KNOWN, **wrong})


def test_a_goal_not_scored_leaves_the_score_unknown():
    found = goal_score(**{**KNOWN, "scores": [1, None]})
    assert (found.t, found.findings[0].verdict) == (None, UNKNOWN)


def test_the_order_of_goals_does_not_matter():
    assert goal_score(**KNOWN).t == pytest.approx(goal_score(scores=[0, 1], weights=[2, 1], rho=0.3).t)
