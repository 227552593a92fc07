"""Which rooms offer evidence and conditions for the hold points. A new room adds its line here."""

from importlib import import_module

ROOMS = ("record", "plans", "parts", "bench", "wiring", "drive", "followup", "papers")


def register_all():
    """Let each room that has an `evidence` module register itself with the record, and listen for its changes."""
    from builds.record import registry

    for room in ROOMS:
        import_module(f"builds.{room}.evidence").register(registry)
    registry.listen()
