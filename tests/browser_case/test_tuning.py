"""From a capture file to a controller that runs the record and a drive that is proved; then the arm changes sides."""

from io import BytesIO
from zipfile import ZipFile

import pytest

from builds.demo import journey
from builds.demo.factories.drive import STICK
from builds.demo.factories.proving import good_showing
from builds.demo.sticks import log_of
from builds.engineering.proving import LINES
from builds.record.holds import Stage
from builds.record.models import Build

WHEEL = {"forward": "Forward", "backward": "Backward", "still": "Still"}
CHANNEL = {"left+": "Left wheel, forward", "right+": "Right wheel, forward"}
STICK_VALUE = {"y+": "The forward value rises (y+)", "x+": "The sideways value rises (x+)"}


@pytest.fixture
def powered(build, crew):
    """First power is released, the settings of the drive are made, and nobody has tuned the stick yet."""
    journey.take_to(build, Stage.COMMISSIONING, crew)
    return build


def a_log(stick=STICK):
    return {"name": "stick.txt", "mimeType": "text/plain", "buffer": log_of(stick).encode()}


def keep_capture(bo, side, stick=STICK):
    bo.ticket().follow("Stick captures").follow("Keep a capture")
    bo.choose("As found or as left", "As left").choose("Side of the control", side)
    return bo.attach("Log as a file", a_log(stick)).press("Keep the capture")


def digest_in(archive):
    with ZipFile(BytesIO(archive)) as files:
        header = files.read("drive/drive_settings.h").decode()
    return header.split("Settings ")[1][:9]


def load_and_type_back(bo):
    """What the controller tells at its start is the digest that its header holds."""
    told = digest_in(bo.download("Download the archive"))
    bo.fill("What the controller told at its start", told.lower()).press("Compare")
    bo.sees("The controller runs the recorded settings.")


def prove(bo, configuration):
    bo.follow("Proving run").follow("Begin").fill("Supply, and the limit of its current", "12 V, limited to 2 A")
    bo.press("Begin")
    for line in LINES:
        bo.sees(line.title)
        showed = good_showing(line, configuration)
        if line.kind == "wheels":
            bo.choose("The wheel on the occupant's left", WHEEL[showed["left"]])
            bo.choose("The wheel on the occupant's right", WHEEL[showed["right"]])
        elif line.kind == "stop":
            bo.choose("What it did", "Both wheels stopped, and stayed still")
            if line.timed:
                bo.fill("Time to stop", "0.3")
        else:
            asked = "What turned" if line.kind == "channel" else "What moved"
            bo.choose(asked, {**CHANNEL, **STICK_VALUE}[showed["seen"]])
        bo.press("Keep it, and on to the next")


@pytest.mark.browser
def test_a_capture_becomes_a_proved_drive_and_a_swapped_side_asks_for_another(powered, crew, person):
    bo = person(crew.builder)
    side = "Occupant's left" if powered.configuration().side == "left" else "Occupant's right"

    # A log that is no log is refused with how to take it again, and nothing is kept.
    bo.ticket().follow("Stick captures").follow("Keep a capture")
    bo.choose("As found or as left", "As left").choose("Side of the control", side)
    bo.attach("Log as a file", {"name": "a.txt", "mimeType": "text/plain", "buffer": b"\x00\x01junk"})
    assert "capture" in bo.press_refused("Keep the capture").lower()
    bo.open("/builds/B-0001/captures/").sees("No capture is kept yet.")

    # Kept, looked at, accepted.
    keep_capture(bo, side)
    bo.sees("Turn of the stick", "Deadband")
    bo.follow("Accept this fit").press("Accept into the next configuration")
    powered = Build.objects.get(pk=powered.pk)
    assert powered.configuration().fit is not None

    # The controller is loaded from the record and tells what it runs.
    bo.ticket().follow("Controller").sees("nobody knows what it runs")
    bo.fill("What the controller told at its start", "0000-0000").press("Compare").sees("it runs other settings")
    load_and_type_back(bo)
    bo.ticket().sees("it runs the recorded settings")

    # Wheels up, line by line.
    prove(bo, powered.configuration())
    bo.ticket().sees("passed for what is set now")

    # The arm changes sides: the fit, the controller and the proving run hold no longer.
    bo.follow("Configuration").follow("Change the configuration")
    other = "Occupant's right" if side.endswith("left") else "Occupant's left"
    bo.choose("Side of the control", other)
    for place in ("Shoulder of that side, seated", "Control, where the hand meets it"):
        bo.place(place, "", "", "")
    bo.fill("What changed, and why", "The arm changed sides").press("Make the next configuration")
    bo.ticket().follow("First ride").sees("None stands for this side", "The last one is void")
    bo.ticket().follow("Controller").sees("a fit of the stick on the side in use")
    assert bo.trouble == []
