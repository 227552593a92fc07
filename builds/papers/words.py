"""Plain words for families: short, everyday, the same on every paper."""

import math

MPH_PER_M_S = 2.236936
KM_H_PER_M_S = 3.6
LB_PER_KG = 1 / 0.45359237  # the pound is exact: NIST SP 811

SUPPORTS = {
    "head": "head rest",
    "trunk": "side supports and chest harness",
    "pelvis": "hip support",
    "belt": "lap belt",
    "thigh": "leg spacer",
    "foot": "foot support",
}

BATTERIES = {
    "lead_acid": "sealed lead-acid",
    "li_ion": "lithium-ion",
    "lifepo4": "lithium iron phosphate",
    "nimh": "nickel metal hydride",
    "primary": "single-use cells",
}

# Shorter and safer than the form's words: "pavement" is the road itself to many families.
PLACES = {
    "indoors": "indoors",
    "yard": "yard or garden",
    "pavement": "path away from cars",
    "school": "school",
    "clinic": "clinic or lab",
    "other": "places we agreed",
}


def listed(words):
    """a, b and c"""
    words = [str(word) for word in words]
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def a_clock(time):
    """A clock time that nobody has to convert: 6:30 pm (18:30)."""
    hour = time.hour % 12 or 12
    half = "am" if time.hour < 12 else "pm"
    return f"{hour}:{time:%M} {half} ({time:%H:%M})"


def some_hours(hours):
    """8 and a half hours"""
    whole, half = divmod(round(hours * 2), 2)
    if not whole:
        return "half an hour"
    return f"{whole} and a half hours" if half else f"{whole} hour{'s' if whole > 1 else ''}"


def a_speed(speed_m_s):
    """A speed in the units people know: 2.9 km/h (1.8 mph)."""
    return f"{speed_m_s * KM_H_PER_M_S:.1f} km/h ({speed_m_s * MPH_PER_M_S:.1f} mph)"


def a_load(mass_kg):
    """A load limit in both units, rounded down so that neither says more than the limit."""
    tenths = math.floor(mass_kg * 10 + 1e-9) / 10
    return f"{tenths:g} kg ({math.floor(mass_kg * LB_PER_KG + 1e-9)} lb)"


def a_place(code_or_words):
    """The word for a kind of place, or the words that were written."""
    return PLACES.get(code_or_words, str(code_or_words))


def sentence(text):
    """The text with its full stop."""
    text = str(text).strip()
    return text if not text or text[-1] in ".!?:" else f"{text}."
