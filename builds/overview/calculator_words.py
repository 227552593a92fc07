"""What the calculators page calls the results, by the key that the shell prints: label and unit."""

RESULTS = {
    "resistance_ohm": ("Resistance, out and back", "\u03a9"),
    "drop_v": ("Voltage drop", "V"),
    "drop_percent": ("Voltage drop", "% of the supply"),
    "loss_w": ("Heat lost in the wire", "W"),
    "ampacity_a": ("Ampacity", "A"),
    "rating_a": ("Rating of the fuse", "A"),
    "colour": ("Colour of the fuse", ""),
    "hours": ("Time", "h"),
    "hours_rounded": ("Time, up to the half hour", "h"),
    "c_rate": ("Charger current over capacity", "per hour"),
    "days_to_half": ("Until half full", "days"),
    "days_to_empty": ("Until empty", "days"),
    "speed_m_s": ("Speed", "m/s"),
    "speed_km_h": ("Speed", "km/h"),
    "spread_m_s": ("Spread of the runs", "m/s"),
    "stopping_m": ("Way to stop, with reaction", "m"),
    "braking_m": ("Braking way", "m"),
    "energy_j": ("Energy of motion", "J"),
    "kind": ("Kind of behaviour", ""),
    "explanations": ("Crossings that show it, the fewest first", ""),
    "distance_mm": ("Distance", "mm"),
    "fraction": ("Share used", ""),
    "pieces": ("Pieces", ""),
    "moment_nm": ("Moment at the foot", "N\u00b7m"),
    "margin": ("Held how many times over", ""),
    "total_kg": ("Total", "kg"),
    "margin_kg": ("Margin", "kg"),
    "cg_x": ("Centre, forward of the rear axle", "m"),
    "cg_y": ("Centre, to the occupant's left", "m"),
    "cg_z": ("Centre, above the ground", "m"),
    "left_deg": ("Tips to the occupant's left at", "\u00b0"),
    "right_deg": ("Tips to the occupant's right at", "\u00b0"),
    "front_deg": ("Tips forward at", "\u00b0"),
    "rear_deg": ("Tips backward at", "\u00b0"),
    "age_months": ("Age", "months"),
    "z": ("Distance from the median", "standard deviations"),
    "centile": ("Centile", "%"),
    "outgrown_on": ("Limit passed on", ""),
    "t": ("Goal attainment score", ""),
    "grade": ("School grade", ""),
    "ease": ("Reading ease, 100 is easy", ""),
}
CHOICES = {
    "left": "Occupant's left",
    "right": "Occupant's right",
    "four": "Four wheels",
    "one-front": "One wheel in front",
    "one-rear": "One wheel behind",
    "en": "English",
    "es": "Spanish",
    "spins-left": "Spins to the occupant's left",
    "spins-right": "Spins to the occupant's right",
    "left+": "Left wheel, forward",
    "left-": "Left wheel, backward",
    "right+": "Right wheel, forward",
    "right-": "Right wheel, backward",
    "x+": "x rises",
    "x-": "x falls",
    "y+": "y rises",
    "y-": "y falls",
}


def label_and_unit(key):
    return RESULTS[key]


def choice_word(code):
    return CHOICES.get(code, code.capitalize())
