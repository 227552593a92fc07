"""What the whole lab shares: accounts, the lab's own facts, and who looked at which person's file."""

import uuid
from contextlib import contextmanager
from contextvars import ContextVar
from zoneinfo import ZoneInfo, available_timezones

from auditlog.registry import auditlog
from django.conf import settings
from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone

from builds.engineering import limits
from labsite.roles import Role


class AccountManager(BaseUserManager):
    def open(self):
        return self.filter(is_active=True)

    def for_list(self):
        return self.order_by("-is_active", "full_name")

    def with_role(self, role):
        return self.open().filter(**{Role(role).field: True}).order_by("full_name")


class Account(AbstractBaseUser):
    """A person who signs in. Closed accounts stay, so that what they signed stays signed."""

    username = models.CharField("Sign-in name", max_length=60, unique=True)
    full_name = models.CharField("Full name", max_length=120)
    is_coordinator = models.BooleanField("Lab coordinator", default=False)
    is_builder = models.BooleanField("Builder", default=False)
    is_reviewer = models.BooleanField("Reviewer", default=False)
    is_director = models.BooleanField("Lab director", default=False)
    is_active = models.BooleanField("May sign in", default=True)
    must_change_password = models.BooleanField(default=False)
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_reason = models.CharField("Reason for closing", max_length=300, blank=True)
    made_at = models.DateTimeField(default=timezone.now)

    USERNAME_FIELD = "username"
    REQUIRED_FIELDS = ["full_name"]
    objects = AccountManager()

    class Meta:
        ordering = ["full_name"]

    def __str__(self):
        return self.full_name

    @property
    def roles(self):
        return [role for role in Role if getattr(self, role.field)]

    def has_role(self, *roles):
        return self.is_active and any(getattr(self, Role(role).field) for role in roles)

    @property
    def sees_identity(self):
        """May see a client's name, birth date, address and contacts."""
        return self.has_role(Role.COORDINATOR, Role.DIRECTOR)

    @property
    def sees_every_build(self):
        return self.has_role(Role.COORDINATOR, Role.REVIEWER, Role.DIRECTOR)

    def close(self, reason):
        self.is_active = False
        self.closed_at = timezone.now()
        self.closed_reason = reason
        self.save(update_fields=["is_active", "closed_at", "closed_reason"])

    def choose_password(self, password):
        self._keep_password(password, must_change=False)

    def set_one_time_password(self, password):
        self._keep_password(password, must_change=True)

    def _keep_password(self, password, must_change):
        self.set_password(password)
        self.must_change_password = must_change
        self.save(update_fields=["password", "must_change_password"])

    def reopen(self):
        self.is_active = True
        self.closed_at = None
        self.closed_reason = ""
        self.save(update_fields=["is_active", "closed_at", "closed_reason"])


def check_time_zone(name):
    if name not in available_timezones():
        raise ValidationError("Enter a time zone by its region and city, for example America/Chicago.")


def check_phone(typed):
    if sum(sign.isdigit() for sign in typed) < 3:
        raise ValidationError("Enter the lab phone with all its digits.")


def check_emergency_number(typed):
    if sum(sign.isdigit() for sign in typed) < 2:
        raise ValidationError("Enter the emergency number with all its digits.")


def tightening(limit, label):
    """A column for what the lab asks for instead of a limit of the house: from that limit to the strictest."""
    least, most = sorted((limit.value, limit.strictest))
    return models.FloatField(
        label, null=True, blank=True, validators=[MinValueValidator(least), MaxValueValidator(most)]
    )


_lab_of_this_request = ContextVar("lab_of_this_request", default=None)


class Lab(models.Model):
    """The lab's own facts, one row with the number 1: whom to call, when, on which paper and in which units."""

    class Paper(models.TextChoices):
        LETTER = "letter", "Letter"
        A4 = "a4", "A4"

    class Units(models.TextChoices):
        METRIC = "metric", "Metric (kg, cm)"
        US = "us", "US (lb, in)"

    name = models.CharField("Lab name", max_length=120, blank=True)
    phone = models.CharField("Lab phone", max_length=40, blank=True, validators=[check_phone])
    hours = models.CharField("Hours when the phone is answered", max_length=120, blank=True)
    outside_hours = models.CharField("What a family does outside these hours", max_length=200, blank=True)
    # No default: a number that is wrong in this country would cost the minutes that count.
    emergency_number = models.CharField(
        "Emergency number of your country or region", max_length=20, blank=True, validators=[check_emergency_number]
    )
    public_address = models.URLField("Address of this site, as families type it", max_length=120, blank=True)
    time_zone = models.CharField("Time zone", max_length=60, default="UTC", validators=[check_time_zone])
    paper = models.CharField("Paper size", max_length=10, choices=Paper.choices, default=Paper.LETTER)
    units = models.CharField("Units", max_length=10, choices=Units.choices, default=Units.METRIC)
    walking_pace_m_s = models.FloatField(
        "Walking pace of a supervising adult (m/s)",
        null=True,
        blank=True,
        validators=[MinValueValidator(0.3), MaxValueValidator(2.5)],
    )
    reaction_s = models.FloatField(
        "Reaction of a supervising adult, until the power is cut (s)",
        null=True,
        blank=True,
        validators=[MinValueValidator(0.5), MaxValueValidator(10)],
    )
    # A lab may tighten a limit, never loosen it; empty is the limit of the house.
    least_tip_deg = tightening(limits.TIP_ANGLE, "Smallest tip angle this lab accepts (degrees)")
    least_over_slope_deg = tightening(
        limits.TIP_OVER_SLOPE, "Smallest tip angle over the steepest slope (degrees more than the slope)"
    )
    least_arm_margin = tightening(limits.ARM_MARGIN, "How many times over the foot of an arm must hold")
    most_power_drop_percent = tightening(limits.DROP_POWER, "Greatest voltage drop of a power run (%)")
    most_control_drop_percent = tightening(limits.DROP_CONTROL, "Greatest voltage drop of a control run (%)")
    most_fuse_share = tightening(limits.FUSE_SHARE, "Greatest continuous load of a fuse, as a share of its rating")

    ASKED_FOR = ("name", "phone", "hours", "emergency_number")

    def __str__(self):
        return self.name or "This lab"

    @classmethod
    def current(cls):
        """The lab, read once in a request."""
        return _lab_of_this_request.get() or cls.objects.first() or cls(pk=1)

    def own_time(self):
        """While this lasts, today and every time of day are the lab's, not the server's."""
        return timezone.override(ZoneInfo(self.time_zone))

    @contextmanager
    def serves_this_request(self):
        token = _lab_of_this_request.set(self)
        try:
            yield
        finally:
            _lab_of_this_request.reset(token)

    def missing(self):
        """The facts without which a family would not know whom to call."""
        return [self._meta.get_field(name).verbose_name for name in self.ASKED_FOR if not getattr(self, name)]


class Submission(models.Model):
    """One sending of one form. The same form sent twice finds its first answer here."""

    token = models.UUIDField(primary_key=True, default=uuid.uuid4)
    account = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.CASCADE)
    location = models.CharField(max_length=500, blank=True)
    at = models.DateTimeField(default=timezone.now, db_index=True)


class FileOpening(models.Model):
    """Somebody looked at an identified person's file."""

    at = models.DateTimeField(default=timezone.now, db_index=True)
    account = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    by = models.CharField("By, where it was nobody with an account", max_length=60, blank=True)
    case_code = models.CharField(max_length=20, db_index=True)
    what = models.CharField(max_length=120)

    class Meta:
        ordering = ["-at"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(account__isnull=False) | ~models.Q(by=""), name="an_opening_says_by_whom"
            )
        ]

    @property
    def who(self):
        return self.account or self.by


class Knock(models.Model):
    """How often one door was knocked at from one place since a time (see `knocks`)."""

    door = models.CharField(max_length=40)
    who = models.CharField(max_length=64)  # a digest; the address itself is not kept
    since = models.DateTimeField(db_index=True)
    times = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["door", "who"], name="one_count_per_door_and_place")]


auditlog.register(Account, exclude_fields=["password", "last_login"])
auditlog.register(Lab)
