"""The family link, what came in over it, and the use diary."""

from auditlog.registry import auditlog
from django.conf import settings
from django.db import models
from django.utils import timezone

from builds.fields import family_photo_path
from labsite.marks import Signed, YesNoUnknown


class FamilyLink(Signed):
    """One signed address for one family, opened with a second word. Neither can be read back from here."""

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="family_links")
    number = models.PositiveIntegerField("Link")
    language = models.CharField("Language of the pages", max_length=10, default="en")
    key_digest = models.CharField(max_length=64, unique=True)
    word_hash = models.CharField(max_length=128)
    expires_at = models.DateTimeField("Works until")
    revoked_at = models.DateTimeField(null=True, blank=True)
    revoked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    opened_at = models.DateTimeField("Last opened", null=True, blank=True)
    failures = models.PositiveIntegerField("Wrong words since it was last opened", default=0)
    locked_until = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["build", "number"]
        constraints = [models.UniqueConstraint(fields=["build", "number"], name="one_family_link_per_number")]

    def __str__(self):
        return f"family link {self.number} of {self.build.number}"

    @property
    def has_run_out(self):
        return self.expires_at <= timezone.now()

    @property
    def is_locked(self):
        return self.locked_until is not None and self.locked_until > timezone.now()

    @property
    def works(self):
        """Whether it leads anywhere: not revoked, not run out, and the unit has not come back."""
        return self.revoked_at is None and not self.has_run_out and self.is_for_now

    @property
    def is_for_now(self):
        """Until the unit comes back; before the hand-off a link can be tried out, and shows no paper yet."""
        return not self.build.is_given_up

    @property
    def standing(self):
        """(state, words) as the coordinator sees it."""
        if self.revoked_at is not None:
            return "closed", "Revoked"
        if self.has_run_out:
            return "closed", "Run out"
        if not self.is_for_now:
            return "closed", "The unit is not with the family"
        return ("waiting", "Locked for a while") if self.is_locked else ("done", "Works")

    def revoke(self, account):
        self.revoked_at = timezone.now()
        self.revoked_by = account
        self.save(update_fields=["revoked_at", "revoked_by"])


class FamilyReport(models.Model):
    """A problem as the family told it. The problem log has the same without names."""

    link = models.ForeignKey(FamilyLink, on_delete=models.CASCADE, related_name="reports")
    problem = models.OneToOneField("builds.Problem", on_delete=models.CASCADE, related_name="family_report")
    made_at = models.DateTimeField(default=timezone.now)
    text = models.TextField("What happened")
    hurt = models.CharField("Anyone hurt", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN)
    danger = models.CharField(
        "Smoke, fire, heat or moving by itself",
        max_length=10,
        choices=YesNoUnknown.choices,
        default=YesNoUnknown.UNKNOWN,
    )
    photo = models.ImageField(upload_to=family_photo_path, blank=True)
    shows_client = models.CharField(
        "The client can be seen", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    photo_refused = models.BooleanField("A photo came and was not kept", default=False)

    class Meta:
        ordering = ["-pk"]


class DiaryLine(models.Model):
    """One time of use, as the family wrote it down."""

    link = models.ForeignKey(FamilyLink, on_delete=models.CASCADE, related_name="diary")
    made_at = models.DateTimeField(default=timezone.now)
    used_on = models.DateField("Day")
    minutes = models.PositiveIntegerField("Minutes")
    place = models.CharField("Where", max_length=80, blank=True)
    note = models.CharField("Note", max_length=300, blank=True)

    class Meta:
        ordering = ["-used_on", "-pk"]


auditlog.register(FamilyLink, exclude_fields=["key_digest", "word_hash"])
auditlog.register(FamilyReport)
auditlog.register(DiaryLine)
