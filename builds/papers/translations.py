"""Translations of what people wrote in the record, and who of the lab's choice has read what in which language."""

import hashlib

from auditlog.registry import auditlog
from django.db import models

from builds.papers import catalogue
from labsite.marks import Signed


def tidy(text):
    """The text without what does not change it: white space at its ends and between its words."""
    return " ".join(str(text).split())


def digest_of(text):
    return hashlib.sha256(tidy(text).encode()).hexdigest()


class Translation(Signed):
    """One sentence of the record in another language. It belongs to these very words: others have no translation."""

    language = models.CharField("Language", max_length=10)
    source = models.TextField("In English")
    source_digest = models.CharField(max_length=64, db_index=True)
    place = models.CharField("Where it stands", max_length=160)
    text = models.TextField("Translation")
    translated_by = models.CharField("Translated by", max_length=120)
    read_by = models.CharField("Read by a speaker of the lab's choice", max_length=120, blank=True)
    read_on = models.DateField("Date of that", null=True, blank=True)

    class Meta:
        ordering = ["language", "place", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["language", "source_digest"], name="one_translation_of_a_sentence")
        ]

    @property
    def is_read(self):
        return bool(self.read_by and self.read_on)


class CatalogueReading(Signed):
    """A speaker has read the whole catalogue of a language, in this version."""

    language = models.CharField("Language", max_length=10)
    version = models.CharField("Version", max_length=12)
    read_by = models.CharField("Read by a speaker of the lab's choice", max_length=120)
    read_on = models.DateField("Date of that")

    class Meta:
        ordering = ["language", "-pk"]


def reading_of(language):
    """Who has read the catalogue as it is now; nothing when nobody has."""
    return CatalogueReading.objects.filter(language=language, version=catalogue.version(language)).first()


for model in (Translation, CatalogueReading):
    auditlog.register(model)
