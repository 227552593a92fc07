"""Everything the papers of one build say, worked out once, in plain words.

What is not known is None here, and the paper leaves it out or says to ask the lab; it is never guessed.
"""

from functools import cached_property

from django.utils import timezone

from builds.papers import charging, words
from labsite.figures import day
from labsite.models import Lab

SIGNAL_ORDER = ("DANGER", "WARNING", "CAUTION", "NOTICE")


class Facts:
    def __init__(self, build, today=None):
        self.build = build
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

    @property
    def rides(self):
        return self.build.rides

    @property
    def thing(self):
        return "ride-on" if self.rides else "toy"

    @property
    def who(self):
        return "child"

    @property
    def control(self):
        """Stick or switch, in the family's words."""
        return "stick" if self.build.has_stick else "switch"

    @property
    def printed_on(self):
        return day(self.today)

    # Side and purpose

    @property
    def side(self):
        """left, right, or unknown."""
        return self.configuration.side if self.configuration else "unknown"

    @property
    def side_sentence(self):
        if self.side == "unknown":
            return f"The side of the {self.control} is not known yet. Ask the lab."
        return f"The {self.control} is on the {self.who}'s {self.side} (occupant's {self.side})."

    @property
    def purpose_sentence(self):
        purpose = self.configuration.purpose if self.configuration else "unknown"
        return {
            "better": f"This side was chosen because the {self.side} hand works best.",
            "training": f"This side was chosen to train the {self.side} hand. That hand tires sooner.",
        }.get(purpose, "")

    # Speed

    @property
    def ceiling_m_s(self):
        return self.configuration.ceiling_m_s if self.configuration else None

    @property
    def speed_sentences(self):
        if not self.rides:
            return []
        if self.ceiling_m_s is None:
            return ["The top speed is not known yet. Ask the lab."]
        return list(filter(None, [
            f"The top speed is set to {words.a_speed(self.ceiling_m_s)}.",
            self._beside_a_walk(),
            self._selector_sentence(),
            "Only the lab may change the speed.",
            "Call the lab when the speed seems to have changed.",
        ]))  # fmt: skip

    def _beside_a_walk(self):
        pace = self.lab.walking_pace_m_s
        if pace is None:
            return ""
        if self.ceiling_m_s <= pace:
            return "An adult who walks beside it can keep up."
        return "That is faster than a walk. Be ready to move fast."

    @property
    def selector_position(self):
        return self.configuration.ceiling_position if self.configuration else ""

    def _selector_sentence(self):
        position = self.selector_position
        return words.sentence(f"The speed selector stays at: {position}") if position else ""

    # Supports, load, clearance

    @property
    def supports(self):
        fitted = self.configuration.supports if self.configuration else []
        return [words.SUPPORTS.get(code, code) for code in words.SUPPORTS if code in fitted]

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
            return "The load limit is not known yet. Ask the lab."
        return f"The load limit is {words.a_load(rated)} in all."

    @property
    def rider_limit_sentence(self):
        """What is left for the rider, so that nobody at home has to subtract."""
        limit = self.rider_limit_kg
        return "" if limit is None else f"The {self.who} may weigh {words.a_load(limit)} at most."

    @property
    def added_parts_sentence(self):
        """Why the two figures differ, so that nobody takes the greater one for the rider."""
        return "" if self.rider_limit_kg is None else "The rest is for the parts that the lab added."

    @cached_property
    def rider_limit_kg(self):
        rated = self.unit.type.rated_load_kg
        if not self.rides or rated is None:
            return None
        added = [part for part in self.build.parts.all() if part.stays_on and not part.removed and not part.is_struck]
        if any(part.mass_kg is None for part in added):
            return None
        counts = (part.quantity if part.quantity_used is None else part.quantity_used for part in added)
        return max(0.0, rated - sum(count * part.mass_kg for count, part in zip(counts, added, strict=True)))

    @property
    def session_sentence(self):
        longest = self.clearance.session_min if self.clearance else None
        return f"Stop after {longest} minutes and take a rest." if longest else ""

    @property
    def places(self):
        return [words.a_place(one) for one in (self.clearance.places if self.clearance else [])]

    @property
    def places_sentence(self):
        return f"Use it only here: {'; '.join(self.places)}." if self.places else ""

    # Who may use it

    @property
    def rider_sentence(self):
        return f"Only this {self.who} may ride." if self.rides else ""

    @property
    def adult_sentence(self):
        does = "walk beside it" if self.rides else "look after it"
        return f"Only an adult taught by the lab may {does}."

    @property
    def short_limits(self):
        """The limits as the card gives them; the use guide says more."""
        speed = self.speed_sentences[:1] if self.rides else []
        if self.rides and self.ceiling_m_s is not None:
            speed += list(filter(None, [self._selector_sentence(), "Only the lab may change the speed."]))
        who = [self.rider_sentence, self.adult_sentence]
        more = [self.load_sentence, self.rider_limit_sentence, self.session_sentence, self.places_sentence]
        return [*filter(None, who), *speed, *filter(None, more)]

    @property
    def hazards(self):
        """What to keep away from at the client's own places."""
        return [words.sentence(one.hazards) for one in self.build.client.places.all() if one.hazards.strip()]

    @property
    def conditions(self):
        return words.sentence(self.clearance.conditions) if self.clearance else ""

    @property
    def clearance_end_sentence(self):
        return f"The clinician's yes ends on {day(self.clearance.expires_on)}." if self.clearance else ""

    # Cautions

    @property
    def cautions(self):
        """The plan's cautions, the gravest first."""
        return sorted(self.content.get("cautions", []), key=lambda one: SIGNAL_ORDER.index(one["signal"]))

    @property
    def personal_plans(self):
        """What is done about the client's own cautions; never what they are."""
        answered = self.build.client.cautions.all()
        return [words.sentence(one.plan) for one in answered if one.answer == "yes" and one.plan]

    @property
    def checks(self):
        return self.content.get("check_before_use", [])

    @property
    def has_stop_switch(self):
        """Whether the plan speaks of one; a paper must not send anybody to a switch that is not there."""
        return any("stop switch" in line for line in self.checks)

    @property
    def do_not_use_when(self):
        return self.content.get("do_not_use_when", [])

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
        return words.BATTERIES.get(self.battery.chemistry, "") if self.battery else ""

    @cached_property
    def charge(self):
        return charging.charge_words(self)

    @property
    def disconnect(self):
        return words.sentence(self.configuration.disconnect) if self.configuration else ""

    # The lab and the time after

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
        what = "visit you" if self.next_contact.kind == "visit" else "call you"
        return f"The lab will {what} on {day(self.next_contact.due_on)}."

    @cached_property
    def hand_off(self):
        return getattr(self.build, "hand_off", None)

    @cached_property
    def adults(self):
        """The adults who will supervise; only the hand-off sheet may name them."""
        return [one for one in self.build.client.caregivers.all() if one.supervises]
