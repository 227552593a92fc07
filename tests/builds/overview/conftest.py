import pytest

from builds.papers.family import links
from builds.papers.family import rules as family
from tests.builds.record.conftest import build, client_of_lab, crew

__all__ = ["build", "client_of_lab", "crew", "reported"]


@pytest.fixture
def reported(crew):
    """What a family tells over its link: the call that it asks for."""

    def tell(build, text="It tipped over", hurt="yes", danger="no"):
        link = links.make_link(build, crew.coordinator, days=9).link
        return family.report(link, text=text, hurt=hurt, danger=danger).problem.tasks.get()

    return tell
