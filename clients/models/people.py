"""Who the client is, kept apart from what the client needs.

`PersonFile`, `Caregiver` and `Household` identify, are read by coordinators and directors only, and can be
erased while the rest stays. `Place` is read by builders too: a slope decides whether a build tips over.
"""

from auditlog.registry import auditlog
from django.conf.global_settings import LANGUAGES
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from clients.dates import collect, refuse_after, refuse_before, refuse_future, years_ago
from clients.models.client import Client, OfClient
from labsite.marks import YesNoUnknown

STEEPEST_DEG = 45
OLDEST_YEARS = 120  # common practice, no source: of a date before that the century is a slip


class PersonFile(OfClient):
    """The identifying part, one per client, erasable."""

    class Sex(models.TextChoices):
        FEMALE = "female", "Female"
        MALE = "male", "Male"
        UNKNOWN = "unknown", "Unknown"

    client = models.OneToOneField(Client, on_delete=models.CASCADE, related_name="person")
    family_name = models.CharField("Family name", max_length=120, db_index=True)
    given_name = models.CharField("Given name", max_length=120)
    birth_date = models.DateField("Birth date", null=True, blank=True)
    sex = models.CharField("Sex, for growth charts only", max_length=10, choices=Sex.choices, default=Sex.UNKNOWN)
    address = models.TextField("Address", blank=True)

    def __str__(self):
        return f"{self.given_name} {self.family_name}"

    def clean(self):
        first = self.client.measures.standing().order_by("taken_on").first() if self.client_id else None
        collect(
            birth_date=[
                lambda: refuse_future("Birth date", self.birth_date),
                lambda: refuse_before(
                    "Birth date", self.birth_date, years_ago(OLDEST_YEARS), f"at most {OLDEST_YEARS} years ago"
                ),
                lambda: refuse_after(
                    "Birth date", self.birth_date, first and first.taken_on, "the day of the first measure"
                ),
            ]
        )


class Caregiver(OfClient):
    class Reading(models.TextChoices):
        NORMAL = "normal", "Normal print"
        LARGE = "large", "Large print"
        PICTURES = "pictures", "Pictures"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="caregivers")
    name = models.CharField("Name", max_length=120)
    relation = models.CharField("Relation to the client", max_length=80)
    phone = models.CharField("Phone", max_length=40, blank=True)
    email = models.EmailField("Email", blank=True)
    language = models.CharField("Language", max_length=10, choices=LANGUAGES, default="en")
    interpreter = models.CharField(
        "Interpreter needed", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    reading = models.CharField("Reads best in", max_length=10, choices=Reading.choices, default=Reading.NORMAL)
    supervises = models.BooleanField("Will supervise the client in use", default=False)
    is_first_contact = models.BooleanField("First to be called", default=False)
    # A sheet that was printed with an older name is no longer true; the device file keeps the count and no name.
    renamed = models.PositiveIntegerField("How often the name was changed", default=0, editable=False)

    class Meta:
        ordering = ["-is_first_contact", "name"]

    def __str__(self):
        return f"{self.name} ({self.relation})"

    @classmethod
    def from_db(cls, db, field_names, values):
        row = super().from_db(db, field_names, values)
        row.name_before = row.__dict__.get("name")
        return row

    def save(self, *args, update_fields=None, **kwargs):
        before = getattr(self, "name_before", None)
        if before not in (None, self.name):
            self.renamed += 1
            update_fields = None if update_fields is None else {*update_fields, "renamed"}
        super().save(*args, update_fields=update_fields, **kwargs)
        self.name_before = self.name

    def call_first(self):
        """Only one caregiver is the first to be called."""
        for other in self.client.caregivers.filter(is_first_contact=True).exclude(pk=self.pk):
            other.is_first_contact = False
            other.save(update_fields=["is_first_contact"])


class Household(OfClient):
    """The hours and the storage of the home; charging happens inside these hours."""

    client = models.OneToOneField(Client, on_delete=models.CASCADE, related_name="household")
    wake_time = models.TimeField("An adult is up from", null=True, blank=True)
    sleep_time = models.TimeField("The last adult goes to bed at", null=True, blank=True)
    plug_in_time = models.TimeField("Usual time they come in and can plug in", null=True, blank=True)
    socket = models.CharField(
        "Socket where it is stored", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    dry = models.CharField("Storage is dry", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN)
    locked = models.CharField(
        "Storage can be locked", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )


class Place(OfClient):
    """Where the client will use it, and how steep it is there."""

    class Kind(models.TextChoices):
        INDOORS = "indoors", "Indoors"
        YARD = "yard", "Yard or garden"
        PAVEMENT = "pavement", "Path or pavement"
        SCHOOL = "school", "School"
        CLINIC = "clinic", "Clinic or lab"
        OTHER = "other", "Somewhere else"

    client = models.ForeignKey(Client, on_delete=models.CASCADE, related_name="places")
    kind = models.CharField("Kind of place", max_length=20, choices=Kind.choices)
    name = models.CharField("What the family calls it", max_length=80)
    slope_deg = models.FloatField(
        "Steepest slope",
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(STEEPEST_DEG)],
    )
    hazards = models.CharField("Street, water, stairs or other hazards near", max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.name


for model in (PersonFile, Household, Place):
    auditlog.register(model)
auditlog.register(Caregiver, exclude_fields=["renamed"])
