"""The people who knock, and the records that the addresses point at."""

from labsite.roles import Role
from tests.access.rows import rooms
from tests.factory import make_account, make_lab


class World:
    """Rooms add what others need as further names, for example `world.build`."""

    def __init__(self):
        self.lab = make_lab()
        self.coordinator = make_account(Role.COORDINATOR, username="cora", full_name="Cora Ames")
        self.builder = make_account(Role.BUILDER, username="bo", full_name="Bo Lind")
        self.builder_elsewhere = make_account(Role.BUILDER, username="olu", full_name="Olu Marsh")
        self.reviewer = make_account(Role.REVIEWER, username="rhea", full_name="Rhea Voss")
        self.director = make_account(Role.DIRECTOR, username="dana", full_name="Dana Quill")
        self.signed_out = None
        self.args = {}
        for room in rooms():
            if hasattr(room, "arguments"):
                self.args.update(room.arguments(self))
