"""Papers as they were issued, teach-back, and the hand-off itself."""

from auditlog.registry import auditlog
from django.conf import settings
from django.db import models

from builds.fields import drawn_signature_path, paper_path, signed_sheet_path
from labsite.marks import Signed, Strikeable


class PaperKind(models.TextChoices):
    USE_GUIDE = "use_guide", "Use guide"
    CHARGING_GUIDE = "charging_guide", "Charging guide"
    SUPERVISION_CARD = "supervision_card", "Supervision card"
    HAND_OFF_SHEET = "hand_off_sheet", "Hand-off sheet"
    PICTURE_PAGE = "picture_page", "Picture page"
    STOP_USE_CARD = "stop_use_card", "Stop-use card"
    STORAGE_CARD = "storage_card", "Storage card"
    TEACH_BACK_SHEET = "teach_back_sheet", "Teach-back sheet"
    USE_DIARY = "use_diary", "Use diary"
    FOLLOW_UP_FORM = "follow_up_form", "Follow-up form"
    WHAT_WE_KEEP = "what_we_keep", "What we keep about your child"
    CLINICIAN_SUMMARY = "clinician_summary", "Clinician summary"
    AS_BUILT = "as_built", "As-built record"
    PLAN_SHEET = "plan_sheet", "Plan sheet"
    PICK_LIST = "pick_list", "Pick list"
    BENCH_CHECKLIST = "bench_checklist", "Bench checklist"
    WIRE_LABELS = "wire_labels", "Wire labels"
    COMMISSIONING_SHEET = "commissioning_sheet", "Commissioning sheet"
    RESTORE_SHEET = "restore_sheet", "Restore-to-original sheet"

    @property
    def named(self):
        """As a sentence calls it after "the": a title that is a sentence itself stands in quotation marks."""
        return f"paper “{self.label}”" if self == PaperKind.WHAT_WE_KEEP else self.label.lower()


THE_LAB = "lab"  # the kind of evidence that tells whom to call, and nothing of the unit


class PrintSize(models.TextChoices):
    NORMAL = "normal", "Normal print"
    LARGE = "large", "Large print"


class IssuedPaperQuerySet(models.QuerySet):
    def telling_the_unit(self):
        """Current, or replaced only because the lab is called otherwise."""
        return self.filter(models.Q(superseded_at__isnull=True) | models.Q(superseded_kinds=[THE_LAB]))


class IssuedPaper(Signed):
    """One paper kept exactly as it was printed, with what it was true for."""

    build = models.ForeignKey("builds.Build", on_delete=models.PROTECT, related_name="issued_papers")
    kind = models.CharField("Paper", max_length=20, choices=PaperKind.choices)
    configuration = models.ForeignKey("builds.Configuration", on_delete=models.PROTECT, related_name="issued_papers")
    copy_number = models.PositiveIntegerField("Copy")
    language = models.CharField("Language", max_length=10, default="en")
    size = models.CharField("Paper size", max_length=10)
    print_size = models.CharField("Print", max_length=10, choices=PrintSize.choices, default=PrintSize.NORMAL)
    given_to = models.CharField("Given to", max_length=120, blank=True)
    code = models.CharField("Code for checking it", max_length=8, blank=True)  # see `codes`
    file = models.FileField(upload_to=paper_path)
    digest = models.CharField("Digest of the file", max_length=64)
    evidence = models.JSONField(default=dict)
    superseded_at = models.DateTimeField(null=True, blank=True)
    superseded_changes = models.JSONField(default=list, blank=True)
    superseded_kinds = models.JSONField("Kinds of evidence that replaced it", default=list, blank=True)
    collected_at = models.DateTimeField("Old copy collected", null=True, blank=True)

    objects = IssuedPaperQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "copy_number"]
        constraints = [
            models.UniqueConstraint(fields=["build", "kind", "copy_number"], name="one_paper_per_copy_number"),
            models.UniqueConstraint(fields=["code"], condition=~models.Q(code=""), name="one_paper_per_code"),
        ]

    @property
    def is_current(self):
        return self.superseded_at is None

    @property
    def still_tells_the_unit(self):
        """Current, or replaced only because the lab is called otherwise: nobody stops the use of a unit for that."""
        return self.is_current or self.superseded_kinds == [THE_LAB]

    @property
    def edition(self):
        """Its language and print, in words."""
        return f"{dict(settings.LANGUAGES).get(self.language, self.language)}, {self.get_print_size_display().lower()}"


class TeachBack(Signed, Strikeable):
    """One adult, one item, one try: shown or said, and whether it was right."""

    class How(models.TextChoices):
        SHOWN = "shown", "Shown"
        SAID = "said", "Said"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="teach_backs")
    configuration = models.ForeignKey("builds.Configuration", on_delete=models.PROTECT, related_name="teach_backs")
    adult = models.ForeignKey("clients.Caregiver", null=True, on_delete=models.SET_NULL, related_name="teach_backs")
    item = models.CharField("Item", max_length=40)
    how = models.CharField("Shown or said", max_length=10, choices=How.choices)
    right = models.BooleanField("Right this time")
    taught_by = models.CharField("Who taught", max_length=120, blank=True)  # empty: whoever wrote it down
    note = models.CharField("Note", max_length=300, blank=True)
    stale_at = models.DateTimeField(null=True, blank=True)
    stale_changes = models.JSONField(default=list, blank=True)
    evidence = models.JSONField(default=dict)

    class Meta:
        ordering = ["pk"]

    @property
    def teacher(self):
        return self.taught_by or self.made_by.full_name


class HandOff(models.Model):
    """How the unit left: loan or gift, when, and the signed sheet."""

    class Terms(models.TextChoices):
        LOAN = "loan", "Open-ended loan: the lab may ask for it back"
        GIFT = "gift", "Gift"
        UNKNOWN = "unknown", "Not yet settled"

    build = models.OneToOneField("builds.Build", on_delete=models.CASCADE, related_name="hand_off")
    terms = models.CharField("Loan or gift", max_length=10, choices=Terms.choices, default=Terms.UNKNOWN)
    handed_on = models.DateField("Date of the hand-off", null=True, blank=True)
    signed_by = models.CharField("Signed by", max_length=120, blank=True)
    signed_sheet = models.FileField("Scan or photo of the signed sheet", upload_to=signed_sheet_path, blank=True)
    signed_sheet_type = models.CharField(max_length=40, blank=True)
    interpreted_by = models.CharField("Interpreter who went through the papers", max_length=120, blank=True)
    interpreted_on = models.DateField("Date of that", null=True, blank=True)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )


class DrawnSignature(Signed):
    """One adult's signature, drawn on the screen of the lab, and the hand-off sheet that it stands on."""

    paper = models.ForeignKey(IssuedPaper, on_delete=models.PROTECT, related_name="signatures")
    adult = models.ForeignKey("clients.Caregiver", on_delete=models.CASCADE, related_name="signatures")
    image = models.ImageField(upload_to=drawn_signature_path)
    paper_digest = models.CharField("Digest of the sheet", max_length=64)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["paper", "adult"], name="one_signature_per_adult_and_paper")]


for model in (IssuedPaper, TeachBack, HandOff, DrawnSignature):
    auditlog.register(model)
