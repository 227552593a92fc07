"""What the client can do and needs: access, sitting and supports, cautions. No diagnosis, function only."""

from auditlog.registry import auditlog
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone

from clients.models.client import OfClient
from labsite.marks import Side, Signed, YesNoUnknown

LONGEST_MIN = 480


class AccessProfile(OfClient):
    class Purpose(models.TextChoices):
        BETTER_HAND = "better", "Access by the better hand"
        TRAIN_WEAKER = "training", "Training of the weaker hand"
        UNKNOWN = "unknown", "Not yet decided"

    class Site(models.TextChoices):
        HAND = "hand", "Hand"
        FINGER = "finger", "Finger"
        FOREARM = "forearm", "Forearm or elbow"
        HEAD = "head", "Head"
        MOUTH = "mouth", "Mouth or chin"
        FOOT = "foot", "Foot"
        LEG = "leg", "Leg or knee"
        UNKNOWN = "unknown", "Not yet known"

    class Method(models.TextChoices):
        STICK = "stick", "Stick pushed in a direction"
        PRESS = "press", "Switch pressed and held"
        EXTERNAL = "external", "Own switch through a 3.5 mm socket"
        UNKNOWN = "unknown", "Not yet decided"

    client = models.OneToOneField("clients.Client", on_delete=models.CASCADE, related_name="access")
    side = models.CharField("Side of the control", max_length=10, choices=Side.choices, default=Side.UNKNOWN)
    purpose = models.CharField("Purpose of that side", max_length=10, choices=Purpose.choices, default=Purpose.UNKNOWN)
    site = models.CharField("Access site", max_length=10, choices=Site.choices, default=Site.UNKNOWN)
    method = models.CharField("Access method", max_length=10, choices=Method.choices, default=Method.UNKNOWN)
    releases_on_request = models.CharField(
        "Lets go on request", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    release_note = models.CharField("How the release was tested", max_length=300, blank=True)
    tires_after_min = models.PositiveSmallIntegerField(
        "Tires after", null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(LONGEST_MIN)]
    )
    fatigue_note = models.CharField("Signs of tiring", max_length=300, blank=True)
    stop_signal = models.CharField("How the client says stop or enough", max_length=300, blank=True)


class SittingProfile(OfClient):
    """The sitting level, the supports it suggests, and the supports decided on with the reason for a difference."""

    class Support(models.TextChoices):
        HEAD = "head", "Posterior head support (head rest)"
        TRUNK = "trunk", "Lateral trunk supports and anterior trunk support (chest harness)"
        PELVIS = "pelvis", "Pelvic support"
        BELT = "belt", "Anterior pelvic support (lap belt)"
        THIGH = "thigh", "Medial thigh support (pommel)"
        FOOT = "foot", "Foot support"

    client = models.OneToOneField("clients.Client", on_delete=models.CASCADE, related_name="sitting")
    level = models.PositiveSmallIntegerField("Sitting level", null=True, blank=True)  # 1 to 8; empty is unknown
    level_on = models.DateField("Date of the level", null=True, blank=True)
    level_by = models.CharField("Level given by", max_length=120, blank=True)
    supports = models.JSONField("Supports decided on", default=list, blank=True)
    supports_decided = models.BooleanField("The supports are decided", default=False)
    reason = models.CharField("Reason where they differ from the suggestion", max_length=300, blank=True)


class CautionAnswer(OfClient, Signed):
    """One medical or functional caution: yes, no or unknown, and what is done about it."""

    class Kind(models.TextChoices):
        SEIZURES = "seizures", "Seizures"
        BREATHING = "breathing", "Breathing support"
        FEEDING = "feeding", "Tube feeding"
        SHUNT = "shunt", "Shunt"
        BONES = "bones", "Brittle bones"
        HIPS = "hips", "Unstable hips or spine"
        SURGERY = "surgery", "Recent surgery"
        HEAT = "heat", "Does not cope with heat"
        SKIN = "skin", "Pressure injury or skin at risk"
        IMPLANT = "implant", "Implanted device"
        ALLERGY = "allergy", "Allergy to latex, foam or other material"
        STARTLE = "startle", "Startles at sound or sudden movement"
        VISION = "vision", "Does not see obstacles well"
        STOPPING = "stopping", "Does not yet stop on request"

    client = models.ForeignKey("clients.Client", on_delete=models.CASCADE, related_name="cautions")
    kind = models.CharField("Caution", max_length=20, choices=Kind.choices)
    answer = models.CharField("Answer", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN)
    plan = models.CharField("Plan: what is done about it", max_length=300, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["client", "kind"], name="one_answer_per_caution")]
        ordering = ["pk"]

    def give(self, answer, plan, account):
        self.answer, self.plan = answer, plan
        self.made_by, self.made_at = account, timezone.now()
        self.save(update_fields=["answer", "plan", "made_by", "made_at"])


for model in (AccessProfile, SittingProfile, CautionAnswer):
    auditlog.register(model)
