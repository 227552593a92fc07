from tests.builds.record.conftest import build, client_of_lab, crew

__all__ = ["build", "client_of_lab", "crew"]
