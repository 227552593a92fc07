"""What the builds show on a client's page, without this app knowing them."""

growth_outlooks = []  # callables (client, builds, identified) -> one outlook for each build that a rider outgrows
