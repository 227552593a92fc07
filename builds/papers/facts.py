"""Everything the papers of one build say in one language, worked out once, in plain words.

What is not known is None here, and the paper leaves it out or says to ask the lab; it is never guessed. Facts of
another language are read while that language is active: `render_html` sees to it.
"""

from functools import cached_property

from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from builds.engineering.finding import EngineeringError
from builds.engineering.rider import greatest_rider
from builds.papers import charging, words
from builds.papers.catalogue import SOURCE
from builds.papers.sentences import Sentences
from builds.papers.sides import SideFacts
from builds.papers.stopping import Emergency, Stopping
from builds.parts.carrying import added_parts, part_mass
from builds.record.photos import photo_for_guide
from clients.names import Names
from labsite.models import Lab

# The words of ANSI Z535.4, the gravest first. The catalogue holds what such labels say in Spanish (common practice).
SIGNAL_WORDS = {
    "DANGER": noop("DANGER"),
    "WARNING": noop("WARNING"),
    "CAUTION": noop("CAUTION"),
    "NOTICE": noop("NOTICE"),
}
SIGNAL_ORDER = tuple(SIGNAL_WORDS)


class Facts(SideFacts):
    def __init__(self, build, today=None, language=SOURCE):
        self.build = build
        self.language = language
        self.sentences = Sentences(language)
        self.unit = build.unit
        self.content = build.plan_revision.content
        self.today = today or timezone.localdate()

    @cached_property
    def lab(self):
        return Lab.current()

    @cached_property
    def configuration(self):
        return self.build.configuration()

    @cached_property
    def clearance(self):
        return self.build.client.clearance(self.today)

    @cached_property
    def names(self):
        """The names of the client and the family, to be looked for in what hangs on the unit."""
        return Names(self.build.client)

    @property
    def rides(self):
        return self.build.rides

    @property
    def control(self):
        """stick or switch: which sentences the papers use."""
        return "stick" if self.build.has_stick else "switch"

    @property
    def printed_on(self):
        return words.a_day(self.today)

    @cached_property
    def unit_photo(self):
        """Address of the photo of this very unit, where one is meant for the guide and shows no client."""
        photo = photo_for_guide(self.build)
        return reverse("photo", args=[self.build.number, photo.pk]) if photo else ""

    # Speed

    @property
    def ceiling_m_s(self):
        return self.configuration.ceiling_m_s if self.configuration else None

    @property
    def speed_sentences(self):
        if not self.rides:
            return []
        if self.ceiling_m_s is None:
            return [_("The top speed is not known yet. Ask the lab.")]
        return list(filter(None, [
            self.top_speed_sentence,
            self.pace_sentence,
            self._selector_sentence(),
            _("Only the lab may change the speed."),
            _("Call the lab when the speed seems to have changed."),
        ]))  # fmt: skip

    @property
    def top_speed_sentence(self):
        return _("The top speed is set to %(speed)s.") % {"speed": words.a_speed(self.ceiling_m_s)}

    @property
    def pace_sentence(self):
        """Whether an adult on foot keeps up; empty where the speed or the pace is not known."""
        pace = self.lab.walking_pace_m_s
        if not self.rides or None in (pace, self.ceiling_m_s):
            return ""
        if self.ceiling_m_s <= pace:
            return _("An adult who walks beside it can keep up.")
        return _("That is faster than a walk. Be ready to move fast.")

    @property
    def selector_position(self):
        """Where the speed selector stays; empty where none is fitted, so that nobody looks for one."""
        position = self.configuration.ceiling_position if self.configuration else ""
        return "" if words.says_none(position, words.NO_SELECTOR) else self.sentences.said(position)

    def _selector_sentence(self):
        position = self.selector_position
        return self.sentences.inside(_("The speed selector stays at: %(position)s."), position=position)

    # Supports, load, clearance

    @property
    def supports(self):
        fitted = self.configuration.supports if self.configuration else []
        return [_(words.SUPPORTS[code]) for code in words.SUPPORTS if code in fitted]

    @property
    def support_checks(self):
        fitted = self.configuration.supports if self.configuration else []
        return [_(words.SUPPORT_CHECKS[code]) for code in words.SUPPORT_CHECKS if code in fitted]

    @property
    def chest_needs_hips(self):
        return "trunk" in (self.configuration.supports if self.configuration else [])

    @property
    def has_lap_belt(self):
        return "belt" in (self.configuration.supports if self.configuration else [])

    @property
    def load_sentence(self):
        rated = self.unit.type.rated_load_kg
        if not self.rides:
            return ""
        if rated is None:
            return _("The load limit is not known yet. Ask the lab.")
        return _("The load limit is %(load)s in all.") % {"load": words.a_load(rated)}

    @property
    def rider_limit_sentence(self):
        """What is left for the rider, so that nobody at home has to subtract."""
        if self.no_rider:
            return _("Nobody may ride it now. Call the lab.")
        limit = self.rider_limit_kg
        if limit is None:
            return ""
        return _("The child may weigh %(load)s at most.") % {"load": words.a_load(limit)}

    @property
    def added_parts_sentence(self):
        """Why the two figures differ, so that nobody takes the greater one for the rider."""
        return "" if self.rider_limit_kg is None else _("The rest is for the parts that the lab added.")

    @cached_property
    def _greatest_rider(self):
        """(greatest mass of the rider or None where it is unknown, why there is room for none)"""
        if not self.rides:
            return None, ""
        try:
            added = [part_mass(part) for part in added_parts(self.build)]
            return greatest_rider(added=added, rated_kg=self.unit.type.rated_load_kg), ""
        except EngineeringError as error:
            return None, str(error)

    @property
    def rider_limit_kg(self):
        return self._greatest_rider[0]

    @property
    def no_rider(self):
        """Why nobody may ride, in the lab's words; empty where somebody may."""
        return self._greatest_rider[1]

    @property
    def session_sentence(self):
        longest = self.clearance.session_min if self.clearance else None
        return _("Stop after %(minutes)s minutes and take a rest.") % {"minutes": longest} if longest else ""

    @property
    def places(self):
        """The word for each kind of place, or the words that were written."""
        places = self.clearance.places if self.clearance else []
        return [_(words.PLACES[one]) if one in words.PLACES else self.sentences.said(one) for one in places]

    @property
    def places_sentence(self):
        return self.sentences.inside(_("Use it only here: %(places)s."), places=self.places)

    # Who may use it

    @property
    def rider_sentence(self):
        return _("Only this child may ride.") if self.rides else ""

    @property
    def adult_sentence(self):
        if self.rides:
            return _("Only an adult taught by the lab may walk beside it.")
        return _("Only an adult taught by the lab may look after it.")

    @property
    def short_limits(self):
        """The limits as the card gives them; the use guide says more."""
        speed = self.speed_sentences[:1] if self.rides else []
        if self.rides and self.ceiling_m_s is not None:
            speed += list(filter(None, [self._selector_sentence(), _("Only the lab may change the speed.")]))
        who = [self.rider_sentence, self.adult_sentence]
        more = [self.load_sentence, self.rider_limit_sentence, self.session_sentence, self.places_sentence]
        return [*filter(None, who), *speed, *filter(None, [*more, self.conditions])]

    @property
    def last_day_sentence(self):
        """The end of the clearance, as the card says it among what forbids use."""
        if self.clearance is None:
            return ""
        return _("It is after %(day)s.") % {"day": words.a_day(self.clearance.expires_on)}

    @property
    def hazards(self):
        """What to keep away from at the client's own places."""
        return [self.sentences.sentence(one.hazards) for one in self.build.client.places.all() if one.hazards.strip()]

    @property
    def conditions(self):
        return self.sentences.sentence(self.clearance.conditions) if self.clearance else ""

    @property
    def clearance_end_sentence(self):
        if self.clearance is None:
            return ""
        return _("The clinician's yes ends on %(day)s.") % {"day": words.a_day(self.clearance.expires_on)}

    # Cautions

    @property
    def cautions(self):
        """The plan's cautions, the gravest first."""
        listed = sorted(self.content.get("cautions", []), key=lambda one: SIGNAL_ORDER.index(one["signal"]))
        return [self._caution(one) for one in listed]

    def _caution(self, one):
        said = self.sentences.said
        return {
            "code": one["code"],
            "signal": one["signal"],
            "word": _(SIGNAL_WORDS[one["signal"]]),
            "hazard": said(one["hazard"]),
            "can_happen": said(one["can_happen"]),
            "do": [said(line) for line in one["do"]],
        }

    @property
    def personal_plans(self):
        """What is done about the client's own cautions; never what they are."""
        answered = self.build.client.cautions.all()
        return [self.sentences.sentence(one.plan) for one in answered if one.answer == "yes" and one.plan]

    @property
    def checks(self):
        return [self.sentences.said(line) for line in self.content.get("check_before_use", [])]

    @cached_property
    def stopping(self):
        return Stopping(self)

    @cached_property
    def emergency(self):
        return Emergency(self.lab.emergency_number)

    @property
    def has_plug(self):
        """Whether there is something to unplug; a toy with cells is switched off."""
        return self.rides or self.is_charged or bool(self.disconnect)

    @property
    def do_not_use_when(self):
        return [self.sentences.said(line) for line in self.content.get("do_not_use_when", [])]

    # Battery and charger

    @property
    def battery(self):
        return self.configuration.battery if self.configuration else None

    @property
    def charger(self):
        return self.configuration.charger if self.configuration else None

    @property
    def is_charged(self):
        """Whether the family charges a battery; plans for cells that are changed have no charging guide."""
        single_use = self.battery is not None and self.battery.chemistry == "primary"
        return "charging_guide" in self.content.get("papers", []) and not single_use

    @property
    def battery_words(self):
        known = self.battery is not None and self.battery.chemistry in words.BATTERIES
        return _(words.BATTERIES[self.battery.chemistry]) if known else ""

    @property
    def light_charging(self):
        return self.sentences.said(self.charger.light_charging) if self.charger else ""

    @property
    def light_full(self):
        return self.sentences.said(self.charger.light_full) if self.charger else ""

    @cached_property
    def charge(self):
        return charging.charge_words(self)

    @property
    def disconnect(self):
        return self.sentences.sentence(self.configuration.disconnect) if self.configuration else ""

    # The lab and the time after

    @property
    def lab_hours(self):
        return self.sentences.said(self.lab.hours)

    @property
    def outside_hours(self):
        return self.sentences.sentence(self.lab.outside_hours)

    @cached_property
    def next_contact(self):
        coming = [
            one for one in self.build.contacts.all()
            if one.done_on is None and not one.is_struck and one.due_on >= self.today
        ]  # fmt: skip
        return min(coming, key=lambda one: one.due_on, default=None)

    @property
    def next_contact_sentence(self):
        if self.next_contact is None:
            return ""
        day = words.a_day(self.next_contact.due_on)
        if self.next_contact.kind == "visit":
            return _("The lab will visit you on %(day)s.") % {"day": day}
        return _("The lab will call you on %(day)s.") % {"day": day}

    @cached_property
    def hand_off(self):
        return getattr(self.build, "hand_off", None)

    @cached_property
    def adults(self):
        """The adults who will supervise; only the hand-off sheet may name them."""
        return [one for one in self.build.client.caregivers.all() if one.supervises]
