import pytest

from builds.record.holds import Hold, Stage
from tests.builds.bench.making import let_stand, make_bench_build


@pytest.fixture(autouse=True)
def kept_files(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def build(coordinator, builder, lab):
    """A build at its incoming test, the control on the occupant's left."""
    return make_bench_build(coordinator, builder, stage=Stage.INCOMING_TEST)


@pytest.fixture
def opened_build(coordinator, builder, reviewer, lab):
    """A build whose unit may be opened, powered and sat in."""
    build = make_bench_build(coordinator, builder, stage=Stage.FITTING)
    let_stand(build, reviewer, Hold.SOUND_UNIT, Hold.FIRST_POWER, Hold.FIRST_RIDE)
    return build
