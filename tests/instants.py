"""The moments that pages and rows carry, taken out of a text before something else is looked for in it.

A test that looks for an hour somebody told would otherwise find the hour at which it runs.
"""

import re

_DAY = r"\d{4}-\d\d-\d\d[T ]|\d{1,2} [A-Z][a-z]{2} \d{4},? "
INSTANT = re.compile(rf"(?:{_DAY})\d\d:\d\d(?::\d\d)?")


def without_instants(text):
    """`text` with every day followed by a time of day taken out; a time that stands alone stays."""
    return INSTANT.sub("", text)
