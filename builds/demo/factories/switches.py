"""Where an adult finds the switches of the demo's units, and how straps and stop switch open: each said once."""

STOP_SWITCH = "on the push handle at the back, the red knob"
STOP_RESET = "turn the red knob to the right until it comes up"
STRAPS = "press the red button of each buckle"
POWER_SWITCH = "under the seat, on the right"
TOY_SWITCH = "on the underside, the small slider"

OF_A_RIDE_ON = {
    "stop_switch": STOP_SWITCH,
    "power_switch": POWER_SWITCH,
    "stop_reset": STOP_RESET,
    "straps_open": STRAPS,
}
