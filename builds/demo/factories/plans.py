"""The plans that come with the program; there are no others in the demo lab."""

from builds.plans.document import read_plan
from builds.plans.loading import DATA, load_content


def make_plan_revision(code="one-hand-stick"):
    """The first revision of a plan, loaded if it is not there yet."""
    path = DATA / f"{code}.toml"
    return load_content(read_plan(path), path.name)[0]
