"""Dates that cannot be: refused with the limit, in the words of the field."""

from django.core.exceptions import ValidationError
from django.utils import timezone
from django.utils.formats import date_format


def said(on):
    return date_format(on, "j F Y")


def years_ago(years):
    """The same day so many years ago; the 28th where there was no 29 February."""
    today = timezone.localdate()
    try:
        return today.replace(year=today.year - years)
    except ValueError:
        return today.replace(year=today.year - years, day=28)


def refuse_future(label, on):
    today = timezone.localdate()
    if on and on > today:
        raise ValidationError(f"{label} must be {said(today)} or earlier")


def refuse_before(label, on, earliest, why):
    if on and earliest and on < earliest:
        raise ValidationError(f"{label} must be {said(earliest)} or later, {why}")


def refuse_after(label, on, latest, why):
    if on and latest and on > latest:
        raise ValidationError(f"{label} must be {said(latest)} or earlier, {why}")


def collect(**checks):
    """Run each field's checks and raise what they refuse, field by field: collect(birth_date=[lambda: ...])."""
    refused = {}
    for name, rules in checks.items():
        for rule in rules:
            try:
                rule()
            except ValidationError as error:
                refused.setdefault(name, []).extend(error.messages)
                break
    if refused:
        raise ValidationError(refused)
