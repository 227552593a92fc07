"""What this room offers to the hold points."""

from builds.record.registry import Report, Room


def register(registry):
    registry.add(Room(name="bench", report=report))


def report(build):
    return Report()
