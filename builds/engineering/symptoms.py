"""What a cart does that no crossing explains: causes, simplest first, each with the one test that tells it from the
others. Common practice, no source; the runs they name are those of the wiring list.
"""

from dataclasses import dataclass

SOURCE = "common practice, no source"


@dataclass(frozen=True)
class Suspect:
    """A cause, what one looks for, and what is then the least change."""

    cause: str
    test: str  # what to do, and what it shows when this is the cause
    change: str


@dataclass(frozen=True)
class Symptom:
    code: str
    name: str
    suspects: tuple
    first: str  # what makes it safe to look


def _one(cause, test, change):
    return Suspect(cause, test, change)


WHEELS_UP = "Wheels up, nobody in the seat, a current-limited supply instead of the battery."
SYMPTOMS = (
    Symptom(
        "creep",
        "Creeps with the stick at rest",
        (
            _one("The rest was taken while somebody touched the stick",
                 "Read both raw values with hands off: they differ from the rest that is recorded.",
                 "Calibrate again with hands off."),
            _one("The deadband is smaller than the noise at rest",
                 "Watch the raw values at rest for a minute: the middle agrees with the record, and they wander past "
                 "the deadband.",
                 "Look for a loose wire first; then calibrate again with the spread measured."),
            _one("The neutral pulse of a motor controller is off",
                 "Read both commands at rest: they are exactly 0, and a wheel still turns.",
                 "Set the neutral pulse of that side, and record it in the configuration."),
            _one("The stick's spring is worn, or the arm pulls at the stick",
                 "Push and let go in all four directions: the rest is another one after each push.",
                 "Free the cable and the boot; replace the stick when it stays."),
        ),
        WHEELS_UP,
    ),
    Symptom(
        "veer",
        "Veers to one side when pushed straight ahead",
        (
            _one("A tyre, a wheel or a gear drags",
                 "Battery unplugged, turn both wheels by hand: one is heavier to turn.",
                 "Free that wheel or replace its gearbox."),
            _one("The stick is turned a little on its base",
                 "Push straight ahead against a straight edge: the sideways raw value leaves its rest.",
                 "Turn the base back. Change no wire for it."),
            _one("The neutral pulses or the spans differ from side to side",
                 "Wheels up, creep forward very slowly: one wheel starts clearly before the other.",
                 "Trim the neutral pulse of that side, and record it in the configuration."),
            _one("A wire or connector of one motor drops voltage",
                 "Measure the voltage at both motors at the same command under load: one is lower.",
                 "Mend that termination; check the run again."),
            _one("One motor is weaker than the other",
                 "Exchange the motors' leads side for side, wheels up: the weakness stays with the motor. Put the "
                 "leads back as the wire list says.",
                 "Replace the motor, or both as a pair."),
        ),
        WHEELS_UP,
    ),
    Symptom(
        "reset",
        "Stops and starts anew by itself, or loses its arming",
        (
            _one("The battery is weak or not charged",
                 "Measure at the battery's posts while it starts off with ballast: the voltage falls there.",
                 "Charge it and load-test it; replace it when it fails."),
            _one("A supply wire is thin, long or loose",
                 "Measure at the board and at the posts in the same moment: it falls at the board only.",
                 "Mend the termination or lay the run that the wiring findings ask for."),
            _one("The stick's supply is shorted for a moment when the arm moves",
                 "Wheels up and hands off the stick, move the arm: it starts anew with no load at all.",
                 "Replace the damaged run of the arm."),
            _one("The motor controllers stop by themselves for heat or current",
                 "The board stays on, its light included, and only the wheels stop; it comes back after a pause.",
                 "Look for what loads the motors; compare with the stall current that is recorded."),
        ),
        WHEELS_UP,
    ),
    Symptom(
        "one-way",
        "A wheel turns one way only",
        (
            _one("That half of the stick's throw is not reached or not calibrated",
                 "Read the raw value on that push: it does not reach the end that is recorded.",
                 "Calibrate again, or free what stops the stick."),
            _one("The reverse gain or a limit of the settings holds that way at zero",
                 "Read the command on that push: the raw value moves and the command stays 0.",
                 "Look at the settings of the configuration."),
            _one("The end points of that motor controller are not learnt",
                 "Read the pulse on that push: it leaves neutral, and the controller gives no output either way beyond "
                 "a point.",
                 "Set the end points of the controller as its sheet says."),
            _one("Half of that motor controller is broken",
                 "Exchange the two drive signals, wheels up: the same controller still drives one way only. Put them "
                 "back as the wire list says.",
                 "Replace the motor controller."),
        ),
        WHEELS_UP,
    ),
    Symptom(
        "arm-cut-out",
        "Cuts out when the arm moves",
        (
            _one("The stick's plug sits loose",
                 "Hold the arm still and wiggle the plug only: it cuts out.",
                 "Seat and lock the plug; relieve the cable beside it."),
            _one("A strand is broken where the arm flexes",
                 "Unplugged, measure each run of the arm end to end while the arm bends: one opens.",
                 "Replace the whole run. No splice lies in a flexing arm."),
            _one("The cable is too short and is pulled at one end of the arm's travel",
                 "Move the arm through its travel without power: the cable tightens there.",
                 "Lay a longer run with slack and relief at both ends."),
            _one("The stick leaves its possible band when the arm moves, and the board stops for it",
                 "Watch the raw values while the arm moves: they jump outside the band, and no wire opens.",
                 "Look at the stick's ground and supply terminations; mend the one that is loose."),
        ),
        WHEELS_UP,
    ),
)  # fmt: skip
