"""Sentences that no template holds: those of the plan, and what people wrote in the record.

In another language each is looked up, first among the lab's own translations, then in the catalogue. A sentence that
was changed has no translation any more, and the paper says so instead of printing the old one.
"""

from dataclasses import dataclass

from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from builds.papers import catalogue, words
from builds.papers.translations import Translation, digest_of, tidy

# What earlier revisions of the plans tell a family: a build keeps the revision that it began with, and its papers the
# translation. A sentence that no plan of now says any more goes here.
OF_EARLIER_REVISIONS = (
    noop("Ask the lab before you change it."),
    noop("Stop the unit with the stop switch."),
    noop("Say what you do when something is wrong, and whom you call."),
    noop("Look at the wheels, the seat and the straps. Is anything loose or cracked?"),
    noop("Plug the battery in with nobody in the seat. Do the wheels stay still?"),
    noop("You can see a bare wire or a broken part."),
    noop("Seat the child and close the straps, hips first."),
    noop("Look at the toy. Is any seam open or any part loose?"),
    noop("Is the cell cover screwed shut?"),
    noop("A cell leaks, or the cover does not close."),
    noop("The cells"),
    noop("Cells can burn, leak or be swallowed."),
    noop("Keep the cell cover screwed shut."),
    noop("Take the cells out when you do not use the toy."),
    noop("Do not charge cells inside the toy."),
    noop("Never charge single-use cells."),
    noop("Wipe it with a damp cloth, cells out."),
    noop("Change the cells and screw the cover shut."),
)


class Missing(str):
    """Stands where a translation is missing: says so in the paper's language, with the English beside it."""

    @classmethod
    def of(cls, source):
        said = cls(f"{cls.notice()} {source}")
        said.source = source
        return said

    @staticmethod
    def notice():
        return _("This sentence is not translated yet: ask the lab.")

    def __html__(self):
        source = format_html('<span lang="en">{}</span>', self.source)
        return format_html('<span class="missing">[{} {}]</span>', self.notice(), source)


@dataclass(frozen=True)
class Source:
    """One sentence as it was written, and where it stands. Without one for safety no paper leaves the lab."""

    text: str
    place: str
    is_safety: bool = True

    @property
    def digest(self):
        return digest_of(self.text)


class Sentences:
    """Looks sentences up in one language; the lab's own translations are read once."""

    def __init__(self, language):
        self.language = language
        self._own = None

    def own(self):
        if self._own is None:
            rows = Translation.objects.filter(language=self.language)
            self._own = {row.source_digest: row for row in rows}
        return self._own

    def found(self, text):
        """The translation, or None where there is none."""
        if not text or self.language == catalogue.SOURCE:
            return text
        kept = self.own().get(digest_of(text))
        return kept.text if kept else catalogue.translated(tidy(text), self.language)

    def said(self, text):
        """The sentence in this language, or that it is missing."""
        found = self.found(text)
        return Missing.of(str(text)) if found is None else found

    def inside(self, frame, **parts):
        """A sentence around what was written; where that is missing it says so, and without anything it is empty."""
        listed = {name: part if isinstance(part, list) else [part] for name, part in parts.items()}
        every = [one for part in listed.values() for one in part]
        if not any(every):
            return ""
        missing = next((one for one in every if isinstance(one, Missing)), None)
        return missing or frame % {name: "; ".join(part) for name, part in listed.items()}

    def sentence(self, text):
        """The same with its full stop."""
        said = self.said(text)
        return said if isinstance(said, Missing) else words.sentence(said)


def plan_sentences(content):
    """Every sentence of a plan that a family reads, once each."""
    found = []
    for caution in content.get("cautions") or []:
        found += [caution["hazard"], caution["can_happen"], *caution["do"]]
    found += content.get("check_before_use") or []
    found += content.get("do_not_use_when") or []
    found += [item["text"] for item in content.get("teach_back") or []]
    found += content.get("selector_positions") or []
    return list(dict.fromkeys(found))


def sources_of(build, clearance=None):
    """Every sentence of this build's plan and record that its papers print for the family."""
    plan = [Source(text, str(build.plan_revision)) for text in plan_sentences(build.plan_revision.content)]
    return [one for one in [*plan, *record_sources(build, clearance), *lab_sources()] if one.text.strip()]


def record_sources(build, clearance=None):
    """What people wrote of this build and its client that is printed for the family."""
    configuration, found = build.configuration(), []
    if configuration is not None:
        number = f"build {build.number}"
        found.append(Source(configuration.disconnect, f"Battery disconnect of {number}"))
        for text, what in (
            (configuration.stop_switch, f"Stop switch of {number}, and where it is"),
            (configuration.power_switch, f"Power switch of {number}, and where it is"),
            (configuration.stop_reset, f"How the stop switch of {number} is set back"),
            (configuration.straps_open, f"How the straps of {number} open"),
        ):
            if not words.says_none(text):
                found.append(Source(text, what))
        found.append(Source(configuration.ceiling_position, f"Position of the speed selector of {number}"))
        charger = configuration.charger
        if charger is not None:
            found.append(Source(charger.light_charging, f"Light of charger {charger.number} while charging"))
            found.append(Source(charger.light_full, f"Light of charger {charger.number} when full"))
    return [one for one in [*found, *client_sources(build.client, clearance)] if one.text.strip()]


def client_sources(client, clearance):
    """What was written about the client and is printed: plans, hazards, conditions; never what the cautions are."""
    case = f"case {client.case_code}"
    for answer in client.cautions.all():
        if answer.answer == "yes":
            yield Source(answer.plan, f"Plan for “{answer.get_kind_display()}” of {case}")
    for place in client.places.all():
        yield Source(place.hazards, f"Hazards at a place of {case}")
    if clearance is not None:
        yield Source(clearance.conditions, f"Conditions of the clearance of {case}")
        for one in clearance.places:
            if one not in words.PLACES:
                yield Source(one, f"Places of the clearance of {case}")


def lab_sources():
    from labsite.models import Lab

    lab = Lab.current()
    return [
        Source(lab.hours, "Lab hours", is_safety=False),
        Source(lab.outside_hours, "Outside the lab's hours"),
    ]
