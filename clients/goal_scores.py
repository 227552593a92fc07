"""What the goals reached, day by day: the score T of each day, and how it stands to the baseline.

A day counts the goals that had their baseline by then. A goal of them that was not scored that day leaves T
unknown, and goals that came later make a day that cannot be compared with the baseline.
"""

from dataclasses import dataclass, replace
from datetime import timedelta

from builds.engineering.goals import EXPECTED_T, goal_score
from labsite.chart import Chart

RHO = 0.3  # how far goals move together; the usual value, Kiresuk & Sherman 1968
EDGE_DAYS = 21
LEAST_T, MOST_T = 20, 80  # four goals reach from 21 to 79
WITH = {True: "the same goals as at the baseline", False: "other goals than at the baseline: do not compare"}


@dataclass(frozen=True)
class Day:
    on: object
    scores: list  # (goal, its score of that day or None)
    finding: object
    t: float | None
    change: float | None  # since the baseline; None where nothing can be compared
    is_baseline: bool
    same_goals: bool

    @property
    def set_in_words(self):
        return WITH[self.same_goals]


@dataclass(frozen=True)
class ScorePicture:
    chart: Chart
    line: str
    points: list  # (x, y, is the baseline)
    expected: float
    marks: list


def days_of(goals):
    """The days on which standing goals were scored, the oldest first. Ask with `with_scores()`."""
    by_goal = {goal: goal.standing_scores() for goal in goals if not goal.is_struck}
    dates = sorted({score.on for scores in by_goal.values() for score in scores})
    found = []
    for on in dates:
        found.append(_day(on, by_goal, found[0] if found else None))
    return found


def _day(on, by_goal, baseline):
    scores = [
        (goal, next((score for score in scores if score.on == on), None))
        for goal, scores in by_goal.items()
        if scores and scores[0].on <= on
    ]
    result = goal_score(
        scores=[score and score.level for _, score in scores], weights=[goal.weight for goal, _ in scores], rho=RHO
    )
    finding = _naming(result.findings[0], [goal.text for goal, score in scores if score is None])
    same = baseline is None or [goal for goal, _ in baseline.scores] == [goal for goal, _ in scores]
    known = baseline and same and None not in (result.t, baseline.t)
    return Day(on, scores, finding, result.t, result.t - baseline.t if known else None, baseline is None, same)


def _naming(finding, lacking):
    return replace(finding, missing=f"the score of: {'; '.join(lacking)}") if lacking else finding


def picture(days):
    """T over time, where it is known on two days or more."""
    known = [day for day in days if day.t is not None]
    if len(known) < 2:
        return None
    chart = Chart(
        known[0].on - timedelta(days=EDGE_DAYS),
        known[-1].on + timedelta(days=EDGE_DAYS),
        min(LEAST_T, *(day.t for day in known)),
        max(MOST_T, *(day.t for day in known)),
    )
    comparable = [(day.on, day.t) for day in known if day.same_goals]
    points = [(*chart.point(day.on, day.t), day.is_baseline) for day in known]
    marks = [(chart.x(day.on), f"{day.on:%b %Y}") for day in (known[0], known[-1])]
    return ScorePicture(chart, chart.line(comparable), points, chart.y(EXPECTED_T), marks)


def in_words(days):
    """One sentence for the picture."""
    told = [f"{day.t:.1f} on {day.on.day} {day.on:%b %Y}{', the baseline' if day.is_baseline else ''}"
            for day in days if day.t is not None]  # fmt: skip
    return f"T was {'; '.join(told)}. 50 is what was expected." if told else ""
