def test_health_says_only_that_site_and_database_are_well(client, db):
    response = client.get("/health/")
    assert response.status_code == 200
    assert response.json() == {"site": "ok", "database": "ok"}
