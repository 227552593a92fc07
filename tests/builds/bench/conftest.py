import pytest

from builds.record import registry
from builds.record.holds import Stage
from tests.builds.bench.making import make_bench_build


@pytest.fixture(autouse=True)
def kept_files(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture(autouse=True)
def this_room_and_the_record(monkeypatch):
    """Hold points are asked of the record and the bench alone, so that these tests show what the bench does."""
    own = {name: room for name, room in registry._rooms.items() if name in ("record", "bench")}
    assert set(own) == {"record", "bench"}
    monkeypatch.setattr(registry, "_rooms", own)
    monkeypatch.setattr(registry, "_dependants", [])


@pytest.fixture
def build(coordinator, builder, lab):
    """A build at its incoming test, the control on the occupant's left."""
    return make_bench_build(coordinator, builder, stage=Stage.INCOMING_TEST)


@pytest.fixture
def opened_build(coordinator, builder, lab):
    """A build far along its path; its hold points stand only where a test lets them."""
    return make_bench_build(coordinator, builder, stage=Stage.FITTING)
