"""What a page says of the moment it was made is no finding of a test that looks for an hour."""

import pytest

from tests.instants import without_instants


@pytest.mark.parametrize(
    "text",
    [
        "Opened 30 Nov 2026, 05:17",
        "Date: Mon, 30 Nov 2026 05:17:22 GMT",
        "2026-11-30T05:17:22.104+00:00",
        "2026-11-30 05:17",
        "30 Nov 2026, 12:05:17",
    ],
)
def test_a_moment_is_taken_out(text):
    assert "05:17" not in without_instants(text)


@pytest.mark.parametrize(
    "text", ["An adult is up from 05:17", '"wake_time": "05:17:00"', "since 2026: 05:17", "30 Nov 2026: up 05:17"]
)
def test_an_hour_that_stands_alone_stays(text):
    assert "05:17" in without_instants(text)
