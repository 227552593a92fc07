"""The published values that no test here asserts, and why not. `test_all_values` keeps this list whole."""

# How many values each group of the collection has.
GROUPS = {
    "W": 28, "A": 18, "V": 15, "F": 13, "B": 35, "S": 19, "D": 20, "T": 11, "ST": 12, "AN": 11, "LMS": 25, "G": 15,
    "R": 13, "P": 15, "J": 16, "TR": 5, "SG": 4, "M": 8, "SW": 5,
}  # fmt: skip
CUTS_OFF = "integer arithmetic that cuts off toward zero; ours rounds to the nearest, alike on both sides of neutral"
DRIVE = "kinematics of two driven wheels: nothing computes a path or a turn yet"
CELLS = "nothing here computes with cells, packs or voltages at rest"
TOY_LAW = "text of a law or standard for new toys; no calculator has a limit from it"
LOOK = "of the look and the print, and tested with the pages and papers"
THREADS = "nothing here computes threads or tightening"
WORDS = "a rule in words, kept by plan steps and cautions"
STATURE = "stature table; only the weight table is carried"

NOT_ASSERTED = {
    "no line is fitted to readings": ["J-04", "J-05"],
    "pairs weighed by their length and centred; our pushes are directions from the rest": ["J-07"],
    "vocabulary of a standard for powered chairs": ["J-16"],
    "slow, irregular movement is no tremor and is not smoothed": ["TR-05"],
    CUTS_OFF: ["S-05", "S-13", "S-14", "S-15", "S-16"],
    "the other form of a first-order low pass; ours is the exact pole": ["J-10"],
    "readings are counts; no voltage of one is computed": ["J-12", "J-13", "J-15"],
    "of hobby servos; the neutral of a motor controller is trimmed at the bench": ["S-19"],
    DRIVE: ["D-01", "D-02", "D-03", "D-04", "D-05", "D-06", "D-07"],
    CELLS: ["B-09", "B-10", "B-11", "B-12", "B-13", "B-14", "B-15", "B-29", "B-30", "B-31", "B-32", "B-33", "B-34",
            "B-35"],
    TOY_LAW: ["T-01", "T-02", "T-03", "T-04", "T-05", "T-06", "T-07", "T-08", "T-10", "T-11"],
    LOOK: [*(f"P-{n:02}" for n in range(1, 16)), "SG-01", "SG-02", "SG-03", "SG-04"],
    THREADS: ["M-01", "M-02", "M-03", "M-04", "M-05", "M-06", "M-07"],
    WORDS: ["B-16", "SW-01", "SW-02", "SW-04", "SW-05"],
    STATURE: ["LMS-21", "LMS-22", "LMS-23", "LMS-24"],
    "density of copper: no mass of wire is computed": ["W-13"],
    "engine spaces: a ride-on has none": ["A-08"],
    "routing and support of wires in boats: a plan step, no number is computed": ["A-14", "A-15"],
    "altitude factor of aircraft wire: not part of our rule": ["A-17"],
    "our rule is stricter: never more than the wire carries": ["F-03"],
    "protector chart of aircraft wire at another temperature: not comparable with our table": ["F-05", "F-06"],
    "cycle life, hydrogen and restraint: nothing computes them": ["B-24", "B-25", "B-26", "B-27", "B-28"],
    "walking speed of children: the supervisor's pace is the measure": ["D-17"],
    "vocabulary of a standard": ["ST-10"],
    "place of the rider's centre: measured on the client, never assumed": ["ST-11", "ST-12"],
    "numbers not read": ["AN-11"],
    "how a lab weights its goals: typed in, not computed": ["G-14"],
}  # fmt: skip
