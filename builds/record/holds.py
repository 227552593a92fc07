"""The four hold points and the stages of a build: words and order, nothing else."""

from django.db import models


class Hold(models.TextChoices):
    SOUND_UNIT = "sound_unit", "Sound unit"
    FIRST_POWER = "first_power", "First power"
    FIRST_RIDE = "first_ride", "First ride"
    HAND_OFF = "hand_off", "Hand-off"


# What a release says, word for word, when the reviewer signs it.
MEANING = {
    Hold.SOUND_UNIT: "The unmodified unit works, is not recalled and is strong enough. Teardown may begin.",
    Hold.FIRST_POWER: "The wiring has been checked by a second person and may be energised.",
    Hold.FIRST_RIDE: "The unit does what the record says in every test. The client may sit in it.",
    Hold.HAND_OFF: "The family has been taught and holds the papers of this configuration. The unit may leave.",
}


class Stage(models.TextChoices):
    PLAN = "plan", "Plan"
    INCOMING_TEST = "incoming_test", "Incoming test"
    TEARDOWN = "teardown", "Teardown"
    ADAPTATION = "adaptation", "Adaptation"
    COMMISSIONING = "commissioning", "Commissioning"
    FITTING = "fitting", "Fitting"
    HAND_OFF = "hand_off", "Hand-off"
    IN_USE = "in_use", "In use"
    RETURNED = "returned", "Returned"
    REISSUED = "reissued", "Cleaned, inspected and ready for re-issue"
    RESTORED = "restored", "Restored to original"
    RETIRED = "retired", "Retired"


class Standing(models.TextChoices):
    """Whether a build goes on; apart from its stage, so that it comes back to where it was."""

    OPEN = "open", "Open"
    ON_HOLD = "on_hold", "On hold"
    CANCELLED = "cancelled", "Cancelled"


PATH = [
    Stage.PLAN,
    Stage.INCOMING_TEST,
    Stage.TEARDOWN,
    Stage.ADAPTATION,
    Stage.COMMISSIONING,
    Stage.FITTING,
    Stage.HAND_OFF,
    Stage.IN_USE,
    Stage.RETURNED,
]

# A build at one of these is over; its unit is free for another.
OVER = (Stage.REISSUED, Stage.RESTORED, Stage.RETIRED)

# Where a build may end from these stages, besides going on along the path.
ENDS = {
    Stage.IN_USE: (Stage.RETURNED,),
    Stage.RETURNED: OVER,
    Stage.INCOMING_TEST: (Stage.RETIRED,),
}

# Entering this stage needs this hold point's release standing.
GATE = {
    Stage.TEARDOWN: Hold.SOUND_UNIT,
    Stage.COMMISSIONING: Hold.FIRST_POWER,
    Stage.FITTING: Hold.FIRST_RIDE,
    Stage.IN_USE: Hold.HAND_OFF,
}


def later(stage):
    """The stages of the path after this one."""
    return PATH[PATH.index(stage) + 1 :] if stage in PATH else []


def reached(stage, mark):
    """Whether a build at `stage` has come to `mark` on the path (ends count as past everything)."""
    return stage not in PATH or PATH.index(stage) >= PATH.index(mark)
