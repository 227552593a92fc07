"""Base units and what goes into them: types, single units, batteries, chargers, BOM lines, the restore kit."""

from decimal import ROUND_HALF_UP, Decimal

from auditlog.registry import auditlog
from django.conf import settings
from django.db import models
from django.utils import timezone

from builds.record.models import Build
from labsite.figures import moment
from labsite.marks import Deviating, Signed, Strikeable, YesNoUnknown
from labsite.place_field import place_in_words

CENT = Decimal("0.01")


class Chemistry(models.TextChoices):
    LEAD_ACID = "lead_acid", "Sealed lead-acid"
    LI_ION = "li_ion", "Lithium-ion"
    LIFEPO4 = "lifepo4", "Lithium iron phosphate"
    NIMH = "nimh", "Nickel metal hydride"
    PRIMARY = "primary", "Single-use cells"
    UNKNOWN = "unknown", "Unknown"


class BaseUnitTypeQuerySet(models.QuerySet):
    def for_list(self):
        return self.annotate(how_many=models.Count("units"))


class BaseUnitType(models.Model):
    """What one make-up of bought unit is: limits and geometry, named by what it is, never by a brand."""

    class Kind(models.TextChoices):
        TWO_MOTOR = "two_motor", "Ride-on with two drive motors"
        ONE_MOTOR = "one_motor", "Ride-on with one drive motor"
        TOY = "toy", "Battery toy"

    class Layout(models.TextChoices):
        FOUR = "four", "Four wheels"
        ONE_FRONT = "one-front", "One wheel in front"
        ONE_REAR = "one-rear", "One wheel behind"
        NONE = "none", "Does not ride"

    name = models.CharField("Name of the type", max_length=120, unique=True)
    kind = models.CharField("Kind", max_length=20, choices=Kind.choices)
    rated_load_kg = models.FloatField("Rated load", null=True, blank=True)
    own_mass_kg = models.FloatField("Own mass", null=True, blank=True)
    own_place = models.JSONField("Middle of its own mass", null=True, blank=True)  # [x, y, z] metres
    layout = models.CharField("Wheels", max_length=20, choices=Layout.choices, default=Layout.FOUR)
    track_m = models.FloatField("Track (left to right wheel)", null=True, blank=True)
    wheelbase_m = models.FloatField("Wheelbase (front to rear wheel)", null=True, blank=True)
    wheel_diameter_m = models.FloatField("Drive wheel diameter", null=True, blank=True)
    motors = models.PositiveSmallIntegerField("Number of drive motors", default=0)
    motor_running_a = models.FloatField("Motor running current", null=True, blank=True)
    motor_stall_a = models.FloatField("Motor stall current", null=True, blank=True)
    battery_voltage_v = models.FloatField("Battery voltage", null=True, blank=True)
    battery_capacity_ah = models.FloatField("Battery capacity", null=True, blank=True)
    battery_chemistry = models.CharField(
        "Battery chemistry", max_length=20, choices=Chemistry.choices, default=Chemistry.UNKNOWN
    )
    charger_current_a = models.FloatField("Charger current", null=True, blank=True)
    charger_chemistry = models.CharField(
        "Charger is made for", max_length=20, choices=Chemistry.choices, default=Chemistry.UNKNOWN
    )

    objects = BaseUnitTypeQuerySet.as_manager()

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name


class BaseUnitQuerySet(models.QuerySet):
    def for_list(self):
        return self.select_related("type", "do_not_use_by").prefetch_related("builds")

    def free(self):
        """Units that no unfinished build holds and nobody has marked do not use."""
        held = Build.objects.holding_their_unit().values("unit")
        return self.exclude(pk__in=held).filter(do_not_use_at__isnull=True)


class BaseUnit(models.Model):
    class Origin(models.TextChoices):
        DONATED = "donated", "Donated"
        PURCHASED = "purchased", "Purchased"

    class Recall(models.TextChoices):
        UNKNOWN = "unknown", "Not looked up"
        NONE = "none", "Looked up, no recall found"
        RECALLED = "recalled", "Recalled"
        REMEDIED = "remedied", "Recalled, and the remedy is done"

    number = models.CharField("Equipment number", max_length=20, unique=True)
    type = models.ForeignKey(BaseUnitType, on_delete=models.PROTECT, related_name="units", verbose_name="Type")
    serial = models.CharField("Maker's serial or date code", max_length=80, blank=True)
    origin = models.CharField("Donated or purchased", max_length=20, choices=Origin.choices)
    origin_from = models.CharField("From whom", max_length=120, blank=True)
    received_on = models.DateField("Date received")
    cost = models.DecimalField("Cost", max_digits=9, decimal_places=2, null=True, blank=True)
    recall = models.CharField("Recall", max_length=20, choices=Recall.choices, default=Recall.UNKNOWN)
    recall_looked_up_on = models.DateField("Recall looked up on", null=True, blank=True)
    recall_where = models.CharField("Where the recall was looked up", max_length=200, blank=True)
    do_not_use_at = models.DateTimeField(null=True, blank=True, editable=False)
    do_not_use_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )
    do_not_use_reason = models.CharField(max_length=300, blank=True, editable=False)

    objects = BaseUnitQuerySet.as_manager()

    class Meta:
        ordering = ["number"]

    def __str__(self):
        return self.number

    @property
    def is_marked_do_not_use(self):
        return self.do_not_use_at is not None

    @property
    def do_not_use_lines(self):
        """Who marked it and why, for the warning on every page of this unit."""
        return [self.do_not_use_reason, f"Marked by {self.do_not_use_by.full_name}, {moment(self.do_not_use_at)}."]

    def held_by(self):
        """The unfinished build that holds this unit, from rows already fetched, or None."""
        return next((build for build in self.builds.all() if not build.is_over and build.standing != "cancelled"), None)

    def use_state(self):
        """(state, words): do not use, held or free."""
        if self.is_marked_do_not_use:
            return "stop", "Do not use"
        build = self.held_by()
        return ("waiting", f"Held by {build.number}") if build else ("open", "Free")

    def mark_do_not_use(self, account, reason):
        self.do_not_use_at = timezone.now()
        self.do_not_use_by = account
        self.do_not_use_reason = reason
        self.save(update_fields=["do_not_use_at", "do_not_use_by", "do_not_use_reason"])

    def clear_do_not_use(self):
        self.do_not_use_at = None
        self.do_not_use_by = None
        self.do_not_use_reason = ""
        self.save(update_fields=["do_not_use_at", "do_not_use_by", "do_not_use_reason"])


class UnitMark(Signed):
    """A unit was marked do not use, or cleared for use again. Every mark stays readable."""

    unit = models.ForeignKey(BaseUnit, on_delete=models.CASCADE, related_name="marks")
    stops = models.BooleanField("Do not use")
    reason = models.CharField("Reason", max_length=300)

    class Meta:
        ordering = ["-pk"]


class Battery(models.Model):
    number = models.CharField("Battery number", max_length=20, unique=True)
    chemistry = models.CharField("Chemistry", max_length=20, choices=Chemistry.choices, default=Chemistry.UNKNOWN)
    voltage_v = models.FloatField("Voltage", null=True, blank=True)
    capacity_ah = models.FloatField("Capacity", null=True, blank=True)
    hours_rate = models.PositiveSmallIntegerField("Hours rate of that capacity", null=True, blank=True)
    bought_on = models.DateField("Date code or date bought", null=True, blank=True)
    mass_kg = models.FloatField("Mass", null=True, blank=True)
    # From its data sheet; while nobody has looked them up, how long it lasts stays unknown.
    usable_share = models.FloatField("Share of the capacity that may be used", null=True, blank=True)
    peukert = models.FloatField("Peukert exponent", null=True, blank=True)
    self_discharge_percent = models.FloatField("Self-discharge a month", null=True, blank=True)

    class Meta:
        ordering = ["number"]
        verbose_name_plural = "batteries"

    def __str__(self):
        return self.number


class Charger(models.Model):
    number = models.CharField("Charger number", max_length=20, unique=True)
    chemistry = models.CharField("Made for", max_length=20, choices=Chemistry.choices, default=Chemistry.UNKNOWN)
    voltage_v = models.FloatField("Voltage", null=True, blank=True)
    current_a = models.FloatField("Current", null=True, blank=True)
    stops_by_itself = models.CharField(
        "Stops by itself when full", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    light_charging = models.CharField("Light while charging", max_length=60, blank=True)
    light_full = models.CharField("Light when full", max_length=60, blank=True)

    class Meta:
        ordering = ["number"]

    def __str__(self):
        return self.number


class BuildPart(Deviating, Strikeable):
    """A line of the build's own BOM: copied from the plan, changed or added as a deviation."""

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="parts")
    find_number = models.PositiveSmallIntegerField("Find number")
    name = models.CharField("Part", max_length=160)
    quantity = models.FloatField("Quantity planned", default=1)
    quantity_used = models.FloatField("Quantity used", null=True, blank=True)
    unit_cost = models.DecimalField("Cost each", max_digits=9, decimal_places=2, null=True, blank=True)
    source = models.CharField("Source", max_length=120, blank=True)
    lot = models.CharField("Lot or date code", max_length=80, blank=True)
    substitute = models.CharField("Substitute used", max_length=160, blank=True)
    mass_kg = models.FloatField("Mass of each", null=True, blank=True)
    stays_on = models.BooleanField("Stays on the unit", default=True)
    removed = models.BooleanField("Taken off the unit", default=False)  # its mass counts against the unit's own
    in_arm = models.BooleanField("Moves with the arm to the other side", default=False)
    place = models.JSONField("Where it sits", null=True, blank=True)  # [x, y, z] metres

    class Meta:
        ordering = ["find_number", "pk"]

    def __str__(self):
        return self.name

    @property
    def count(self):
        """How many are on the unit: as used, or as planned while nobody has said."""
        return self.quantity if self.quantity_used is None else self.quantity_used

    @property
    def cost(self):
        """What the line costs, or None where the price is not known."""
        if self.unit_cost is None:
            return None
        return (self.unit_cost * Decimal(str(self.count))).quantize(CENT, ROUND_HALF_UP)

    @property
    def place_words(self):
        return place_in_words(self.place)

    @property
    def counts_as_added(self):
        return self.stays_on and not self.removed and not self.is_struck and self.count > 0


class RestoreItem(Signed, Strikeable):
    """One thing taken out at teardown, needed to put the unit back as it was bought."""

    class Mark(models.TextChoices):
        LEFT = "left", "Occupant's left"
        RIGHT = "right", "Occupant's right"
        MIDDLE = "middle", "Neither"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="restore_items")
    name = models.CharField("What was taken out", max_length=160)
    quantity = models.PositiveSmallIntegerField("How many", default=1)
    mark = models.CharField("Side it came from", max_length=10, choices=Mark.choices)
    location = models.CharField("Where it lies", max_length=160)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.name


class RestoreKit(models.Model):
    """Whether the whole kit is there, and where."""

    build = models.OneToOneField("builds.Build", on_delete=models.CASCADE, related_name="restore_kit")
    location = models.CharField("Where the kit lies", max_length=160, blank=True)
    complete = models.CharField(
        "Kit complete", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    missing = models.CharField("What is missing", max_length=300, blank=True)
    checked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    checked_at = models.DateTimeField(null=True, blank=True)


for model in (BaseUnitType, BaseUnit, UnitMark, Battery, Charger, BuildPart, RestoreItem, RestoreKit):
    auditlog.register(model)
