"""The short code of an issued copy: easy to type from paper, impossible to guess, and nothing personal in it."""

import re
import secrets

from builds.papers.models import IssuedPaper

SIGNS = "ACDEFGHJKMNPQRTWXY34679"  # without signs that look alike: 0 O, 1 I L, 2 Z, 5 S, 8 B, U V
LENGTH = 8  # 23 to the power of 8: 78 thousand million codes


def new_code():
    """A code that no copy has yet."""
    while True:
        code = "".join(secrets.choice(SIGNS) for _ in range(LENGTH))
        if not IssuedPaper.objects.filter(code=code).exists():
            return code


def as_printed(code):
    """ACDE-FGHJ, in two parts that the eye can hold."""
    return f"{code[:4]}-{code[4:]}" if code else ""


def as_kept(typed):
    """What somebody typed, in any case and with any gaps, as it would be kept; empty when it can be no code."""
    code = re.sub(r"[\s\-‐-―.]", "", str(typed)[:40]).upper()
    return code if len(code) == LENGTH and set(code) <= set(SIGNS) else ""


def paper_of(typed):
    """The issued copy with this code, or None; a mistyped code and an unknown one are the same."""
    code = as_kept(typed)
    return IssuedPaper.objects.select_related("build__unit").filter(code=code).first() if code else None


def is_still_true(paper):
    """Whether a family may go on using this copy: it is current, the unit is theirs, and every release stands."""
    build = paper.build
    is_theirs = build.is_open and not build.is_given_up
    return paper.is_current and is_theirs and not build.unit.is_marked_do_not_use and not build.void_holds()
