"""One legal example of each calculator, as typed."""

from pathlib import Path

CAPTURE = Path(__file__).resolve().parents[2] / "builds/demo/data/stick-capture.txt"

UNIT = "unit=16 kg@0.30,0,0.22 rider=18 kg@0.35,0,0.55"
LEGAL = {
    "wire-run": {"gauge": "14 AWG", "length": "4 ft", "current": "18 A"},
    "fuse": {"continuous": "12 A", "ampacity": "20 A"},
    "runtime": {"capacity": "12", "load": "6 A"},
    "charge-time": {"capacity": "12 Ah", "discharged": "50 %", "charger": "1 A"},
    "standby-drain": {"capacity": "12", "drain": "5 mA"},
    "drive-speed": {"wheel_diameter": "25 cm", "wheel_rpm": "120", "deceleration": "1.5"},
    "timed-runs": {"distance": "3 m", "times": "3.1 3.0 3.2"},
    "stick-fit": {"file": str(CAPTURE)},
    "drive-output": {"x": "0.5", "y": "1", "ceiling": "60 %"},
    "wheel-faults": {"forward": "spins-left", "right": "forward", "push_forward": "x-"},
    "reach": {"side": "left", "shoulder": "0,0.15,0.6", "control": "0.2 0.15 0.45", "reach": "40 cm"},
    "arm": {
        "path_length": "50 cm", "pitch": "4 cm", "piece_mass": "20 g", "control_mass": "200 g", "hand_force": "10 N",
        "horizontal": "40 cm", "holding_moment": "12 N*m",
    },
    "load": {"masses": "rider=16 kg seat=2.1 kg", "rated": "25 kg"},
    "balance": {"masses": UNIT, "track": "0.44", "wheelbase": "0.62"},
    "goal-score": {"scores": "1 0 -1"},
    "growth": {
        "sex": "female", "birth_date": "2019-03-31", "weight": "35 lb", "on": "2024-06-01", "limit": "25 kg",
    },
    "reading-grade": {"text": "Pull the plug out of the wall. Then put the cover on."},
}  # fmt: skip
