"""What a controller told at its start, typed back at the bench."""

from auditlog.registry import auditlog
from django.db import models

from labsite.marks import Signed, Strikeable


class ToldDigest(Signed, Strikeable):
    """The digest that the controller told, beside the one of the record at that moment."""

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="told_digests")
    configuration = models.ForeignKey("builds.Configuration", on_delete=models.PROTECT, related_name="told_digests")
    told = models.CharField("What the controller told at its start", max_length=9)
    recorded = models.CharField("Digest of the record", max_length=9)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.told

    @property
    def agrees(self):
        return self.told == self.recorded


auditlog.register(ToldDigest)
