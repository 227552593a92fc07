"""Steps and results at the bench. Results go through the same rule as those of a person."""

from io import BytesIO

import factory
from django.core.files.base import ContentFile
from factory.django import DjangoModelFactory
from PIL import Image, ImageDraw

from builds.bench.models import BuildStep, Section, StepResult
from builds.bench.progress import Bench
from builds.bench.rules import record_result
from labsite.forms import clean_photo

WORDS = {"title": "title", "detail": "detail", "check": "must_see"}  # of the plan -> of the step


class BuildStepFactory(DjangoModelFactory):
    """A step as copied from a plan; it needs `build`."""

    class Meta:
        model = BuildStep

    section = Section.INCOMING_TEST
    order = factory.Sequence(lambda n: (n + 1) * 10)
    code = factory.Sequence(lambda n: f"S{n + 1}")
    title = "Drive forward for 10 s"
    must_see = "Both wheels turn"

    @factory.lazy_attribute
    def planned(self):
        reading = getattr(self, "reading_label", "") and {
            "label": self.reading_label,
            "unit": getattr(self, "reading_unit", ""),
            "at_least": getattr(self, "limit_low", None),
            "at_most": getattr(self, "limit_high", None),
            "source": getattr(self, "limit_source", ""),
        }
        words = {said: getattr(self, name, "") for said, name in WORDS.items()}
        return {**words, "reading": reading or None, "photo": getattr(self, "needs_photo", False)}


def drawn_photo(words="Unit"):
    """A picture of nobody and nothing, drawn here."""
    canvas = Image.new("RGB", (640, 480), "#d8d2c4")
    ImageDraw.Draw(canvas).text((40, 220), words[:60], fill="#1b1f2a")
    held = BytesIO()
    canvas.save(held, "JPEG")
    return clean_photo(ContentFile(held.getvalue(), name="drawn.jpg"))


def reading_that_passes(step):
    """A reading inside the step's limits, as typed."""
    low, high = step.limit_low, step.limit_high
    if low is not None and high is not None:
        value = (low + high) / 2
    elif high is not None:
        value = high * 0.8 if high > 0 else high
    else:
        value = low if low is not None else 1.0
    return f"{value:.6g}"


def pass_step(step, account, **typed):
    """Record the step as passed, with whatever reading and photo it asks for."""
    due = {"outcome": StepResult.Outcome.PASSED}
    if step.reading_label:
        due.update(reading_typed=reading_that_passes(step), instrument="Bench meter 2")
    if step.needs_photo or step.tests == "photos":
        due["photo_file"] = drawn_photo(step.title)
    return record_result(step, account, **{**due, **typed})


def pass_sections(build, account, *sections, **typed_by_test):
    """Pass every step of these sections that is not done, in order; by test: ballast={"reading_typed": "18 kg"}."""
    for state in Bench(build).of(*sections):
        if not state.is_done:
            pass_step(state.step, account, **typed_by_test.get(state.step.tests, {}))
