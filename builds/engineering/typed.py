"""Typed text before it is a quantity: cleaned, quoted in errors, and read as a number."""

import re
from math import isfinite

LONGEST_TEXT = 60
LARGEST_NUMBER = 1e12

_REPLACED = str.maketrans(
    {
        "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ",
        "\u00b2": "^2", "\u2044": "/", "\u00b7": "*", "\u22c5": "*",
        "\u2032": "'", "\u2019": "'", "\u2033": '"', "\u201d": '"',
        "\u2212": "-", "\u2013": "-",
        "\u00b5": "u", "\u03bc": "u", "\u03a9": "ohm", "\u2126": "ohm", "\u2103": "\u00b0C", "\u2109": "\u00b0F",
        "\u00bd": " 1/2", "\u00bc": " 1/4", "\u00be": " 3/4",
        "\u215b": " 1/8", "\u215c": " 3/8", "\u215d": " 5/8", "\u215e": " 7/8",
    }
)


class QuantityError(ValueError):
    """A typed quantity that cannot be read or cannot be; one line that says what to do."""


def clean(text, name):
    """The text in plain signs; refuses nothing, too much, and signs no quantity has."""
    if not isinstance(text, str):
        raise QuantityError(f"Enter {the(name)} as text with a unit.")
    if len(text) > LONGEST_TEXT:
        raise QuantityError(f"{name} must be {LONGEST_TEXT} characters or fewer, not {len(text)}.")
    cleaned = text.translate(_REPLACED).strip()
    if not cleaned:
        raise QuantityError(f"Enter {the(name)}.")
    return cleaned


def quoted(text):
    """Typed text, safe for one line."""
    line = "".join(c if c.isprintable() else " " for c in str(text))
    shortened = line[:30] + "\u2026" if len(line) > 30 else line
    return f"\u201c{shortened}\u201d" if line.strip() else "nothing"


def read_number(text, name, minus=False):
    """A number with a decimal point or comma; a comma that may separate thousands is refused.

    Parameters: text without its sign; name: the label; minus: whether a minus stood before it, for the error.
    """
    sign = "-" if minus else ""
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", text):
        whole, thousandths = text.split(",")
        raise QuantityError(
            f"{name} {quoted(sign + text)} can be read in two ways. "
            f"Enter {sign}{whole}{thousandths} or {sign}{whole}.{thousandths}."
        )
    number = float(text.replace(",", "."))
    if not isfinite(number) or number > LARGEST_NUMBER:
        limit = f"{sign}{LARGEST_NUMBER:.0e} or {'more' if minus else 'less'}"
        raise QuantityError(f"{name} must be {limit}, not {quoted(sign + text)}.")
    if number == 0 and re.search("[1-9]", re.split("[eE]", text)[0]):
        raise QuantityError(f"{name} {quoted(sign + text)} is too close to 0 to be kept. Enter 0, or another number.")
    return number


def the(name):
    first = name[:1].lower() if name[1:2].islower() else name[:1]
    return f"the {first}{name[1:]}"
