"""The address a watchdog asks."""

from django.db import DatabaseError
from django.urls import reverse


def test_health_says_only_that_site_and_database_are_well(client, db):
    response = client.get(reverse("health"))
    assert response.status_code == 200
    assert response.json() == {"site": "ok", "database": "ok"}


def test_health_says_when_the_database_is_down(client, monkeypatch):
    class Down:
        def cursor(self):
            raise DatabaseError("secret-host did not answer")

    monkeypatch.setattr("labsite.views.connection", Down())
    response = client.get(reverse("health"))
    assert response.status_code == 503
    assert response.json() == {"site": "ok", "database": "down"}
