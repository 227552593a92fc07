"""Who the client is, kept apart from what the client needs.

`Client` carries the case code and nothing that identifies; `PersonFile`, `Caregiver` and `Household`
identify, are read by coordinators and directors only, and can be erased while the rest stays.
"""

from auditlog.registry import auditlog
from django.conf.global_settings import LANGUAGES
from django.db import models
from django.utils import timezone

from labsite.marks import YesNoUnknown

FIRST_CODE = 1001


class ClientManager(models.Manager):
    def open_file(self):
        """A new client with the next free case code. Call inside a transaction."""
        last = self.select_for_update().order_by("-number").values_list("number", flat=True).first()
        number = (last or FIRST_CODE - 1) + 1
        return self.create(number=number, case_code=f"C-{number}")


class Client(models.Model):
    number = models.PositiveIntegerField(unique=True, editable=False)
    case_code = models.CharField("Case code", max_length=20, unique=True, editable=False)
    made_at = models.DateTimeField(default=timezone.now, editable=False)

    objects = ClientManager()

    class Meta:
        ordering = ["number"]

    def __str__(self):
        return self.case_code


class PersonFile(models.Model):
    """The identifying part, one per client, erasable."""

    class Sex(models.TextChoices):
        FEMALE = "female", "Female"
        MALE = "male", "Male"
        UNKNOWN = "unknown", "Unknown"

    client = models.OneToOneField(Client, on_delete=models.CASCADE, related_name="person")
    family_name = models.CharField("Family name", max_length=120, db_index=True)
    given_name = models.CharField("Given name", max_length=120)
    birth_date = models.DateField("Birth date", null=True, blank=True)
    sex = models.CharField(
        "Sex, for growth charts only", max_length=10, choices=Sex.choices, default=Sex.UNKNOWN
    )
    address = models.TextField("Address", blank=True)

    def __str__(self):
        return f"{self.given_name} {self.family_name}"


class Caregiver(models.Model):
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

    class Meta:
        ordering = ["-is_first_contact", "name"]

    def __str__(self):
        return f"{self.name} ({self.relation})"


class Household(models.Model):
    """The hours and the storage of the home; charging happens inside these hours."""

    client = models.OneToOneField(Client, on_delete=models.CASCADE, related_name="household")
    wake_time = models.TimeField("An adult is up from", null=True, blank=True)
    sleep_time = models.TimeField("The last adult goes to bed at", null=True, blank=True)
    plug_in_time = models.TimeField("Usual time they come in and can plug in", null=True, blank=True)
    socket = models.CharField(
        "Socket where it is stored", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    dry = models.CharField(
        "Storage is dry", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    locked = models.CharField(
        "Storage can be locked", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )


class Place(models.Model):
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
    slope_deg = models.FloatField("Steepest slope", null=True, blank=True)
    hazards = models.CharField(
        "Street, water, stairs or other hazards near", max_length=300, blank=True
    )

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.name


for model in (Client, PersonFile, Caregiver, Household, Place):
    auditlog.register(model)
