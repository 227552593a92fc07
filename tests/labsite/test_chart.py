"""The geometry of the small pictures: ends at the edges, up is more, labels that do not touch."""

from datetime import date

import pytest

from labsite.chart import BOTTOM, LEFT, MOST_LABELS, RIGHT, TOP, Chart, step_for

CHART = Chart(date(2026, 1, 1), date(2027, 12, 31), 10, 30)


def test_the_ends_stand_at_the_edges():
    assert CHART.point(CHART.first, CHART.low) == (LEFT, BOTTOM)
    assert CHART.point(CHART.last, CHART.high) == (RIGHT, TOP)


def test_later_is_further_right_and_more_is_higher_up():
    assert CHART.x(date(2026, 5, 1)) < CHART.x(date(2026, 6, 1))
    assert CHART.y(12) > CHART.y(13)


def test_a_line_names_its_points_in_order():
    assert CHART.line([(CHART.first, 10), (CHART.last, 30)]) == f"{LEFT}.0,{BOTTOM}.0 {RIGHT}.0,{TOP}.0"


def test_turns_of_the_year_inside_are_labelled():
    assert [year for _, year in CHART.years()] == ["2027"]


@pytest.mark.parametrize("years", [1, 6, 7, 18, 100])
def test_labels_never_crowd(years):
    chart = Chart(date(2020, 6, 1), date(2020 + years, 6, 1), 0, years)
    assert 1 <= len(chart.years()) <= MOST_LABELS + 1
    assert 1 <= len(chart.values()) <= MOST_LABELS + 1


def test_values_are_round_and_inside():
    assert [value for _, value in CHART.values()] == ["10", "15", "20", "25", "30"]


def test_one_day_is_a_picture_too():
    chart = Chart(date(2026, 1, 1), date(2026, 1, 1), 0, 1)
    assert chart.x(date(2026, 1, 1)) == LEFT


@pytest.mark.parametrize(("span", "step"), [(6, 1), (7, 2), (20, 5), (700, 100)])
def test_steps_are_round(span, step):
    assert step_for(span, 6) == step
