"""The goal attainment score, in the one form that is not misprinted."""

from dataclasses import dataclass
from math import sqrt

from builds.engineering import guards
from builds.engineering.finding import CHECK, FITS, EngineeringError, Finding, shown_inputs, unknown

# Kiresuk and Sherman 1968. A guide printed in 2009 had wrong formulae and an erratum.
SOURCE = "Kiresuk & Sherman 1968"
EXPECTED_T = 50.0
MOST_GOALS = 50


@dataclass(frozen=True)
class GoalScore:
    t: float | None
    findings: tuple


def goal_score(*, scores, weights, rho):
    """The goal attainment score T of several weighted goals.

    T = 50 + 10 x sum(w x) / sqrt((1 - rho) x sum(w^2) + rho x (sum w)^2).
    Parameters: scores, each -2 to 2, None where a goal was not scored [-]; weights, above 0 to 1,000,000, as many
    [-]; rho, 0 to 1 [-]. Returns T [-], findings. 50 is what was expected; not for comparing labs or averaging
    children. Raises EngineeringError. Source: Kiresuk & Sherman 1968.

    >>> round(goal_score(scores=[1, 0, 1], weights=[3, 2, 1], rho=0.3).t, 4)
    58.8131
    """
    scores = [guards.whole("Score", score, "", minimum=-2, maximum=2) for score in scores]
    weights = [guards.number("Weight", weight, "", above=0, maximum=1e6) for weight in weights]
    rho = guards.number("Rho", rho, "", minimum=0, maximum=1)
    if not 1 <= len(scores) <= MOST_GOALS:
        raise EngineeringError(f"Scores must be from 1 to {MOST_GOALS}, not {len(scores)}.")
    if len(weights) != len(scores):
        raise EngineeringError(f"Weights must be as many as scores ({len(scores)}), not {len(weights)}.")
    name, formula = "goal attainment score", "50 is what was expected; 10 is one standard deviation"
    if None in (*scores, *weights, rho):
        return GoalScore(None, (unknown(name, "a score, a weight or rho", formula=formula, source=SOURCE),))
    spread = sqrt((1 - rho) * sum(w * w for w in weights) + rho * sum(weights) ** 2)
    t = EXPECTED_T + 10 * sum(w * x for w, x in zip(weights, scores, strict=True)) / spread
    inputs = shown_inputs(goals=(len(scores), ""), rho=(rho, ""))
    verdict = FITS if t >= EXPECTED_T else CHECK
    return GoalScore(t, (Finding(name, t, "", EXPECTED_T, verdict, formula, SOURCE, inputs),))
