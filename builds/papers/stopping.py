"""Where an adult stops it, how the power is taken away, and whom to call in an emergency: the same on every paper.

A switch is named where the record says where it is. Where the record says that there is none, nobody is sent to it.
"""

from django.utils.translation import gettext as _

from builds.papers import words
from builds.papers.sentences import plan_sentences


class Stopping:
    def __init__(self, facts):
        self.facts = facts

    def _recorded(self, name):
        return getattr(self.facts.configuration, name, "").strip()

    def _place(self, name):
        """Where it is, as a family reads it; empty where that is not known, or where there is none."""
        recorded = self._recorded(name)
        return "" if words.says_none(recorded) else self.facts.sentences.sentence(recorded)

    # The stop switch

    @property
    def is_spoken_of(self):
        """Whether the plan tells the family of a stop switch."""
        return any("stop switch" in line.lower() for line in plan_sentences(self.facts.content))

    @property
    def has_no_stop_switch(self):
        return words.says_none(self._recorded("stop_switch"))

    @property
    def has_stop_switch(self):
        """A paper must not send anybody to a switch that is not there."""
        return bool(self.stop_switch) or (self.is_spoken_of and not self.has_no_stop_switch)

    @property
    def stop_switch(self):
        return self._place("stop_switch")

    @property
    def stop_reset(self):
        """How it is set back; where the record does not say it, the family was shown."""
        return self._place("stop_reset") if self.has_stop_switch else ""

    # The power switch: of a ride-on, or a toy's own

    @property
    def has_no_power_switch(self):
        return words.says_none(self._recorded("power_switch"))

    @property
    def power_switch(self):
        return self._place("power_switch")

    # What holds the child

    @property
    def has_straps(self):
        return self.facts.rides and (self.facts.chest_needs_hips or self.facts.has_lap_belt)

    @property
    def straps_open(self):
        return self._place("straps_open") if self.facts.rides else ""

    def problems(self):
        """What keeps the papers in the lab, in its own words."""
        if self.is_spoken_of and self.has_no_stop_switch:
            yield "The plan tells the family of a stop switch, and the record says that there is none."
        elif self.is_spoken_of and not self.stop_switch:
            yield "Where the stop switch is, is unknown."
        if not (self.power_switch or self.has_no_power_switch):
            yield f"Where the {'power switch' if self.facts.rides else 'own on/off switch of the toy'} is, is unknown."
        if self.has_straps and words.says_none(self._recorded("straps_open")):
            yield "Straps are fitted, and the record says that there are none."
        elif self.has_straps and not self.straps_open:
            yield "How the straps open is unknown."

    # What takes the power away in the end: unplugging the battery, switching off, or unplugging a toy's press switch

    @property
    def _way(self):
        if self.facts.has_plug:
            return "plug"
        return "press switch" if self.has_no_power_switch else "off"

    @property
    def step(self):
        return {
            "plug": _("Take away the power."),
            "off": _("Switch it off."),
            "press switch": _("Unplug the switch."),
        }[self._way]

    @property
    def know_how(self):
        return {
            "plug": _("Know how to take away the power."),
            "off": _("Know how to switch it off."),
            "press switch": _("Know how to unplug the switch."),
        }[self._way]

    @property
    def headline(self):
        return {
            "plug": _("It smells hot? It moves by itself? Stop, unplug, call."),
            "off": _("It smells hot? It moves by itself? Switch it off, call."),
            "press switch": _("It smells hot? It moves by itself? Unplug the switch, call."),
        }[self._way]

    @property
    def trouble(self):
        if not self.facts.lab.phone:
            return {
                "plug": _("Trouble? Stop, unplug, call the lab."),
                "off": _("Trouble? Switch it off, call the lab."),
                "press switch": _("Trouble? Unplug the switch, call the lab."),
            }[self._way]
        return {
            "plug": _("Trouble? Stop, unplug, call %(phone)s."),
            "off": _("Trouble? Switch it off, call %(phone)s."),
            "press switch": _("Trouble? Unplug the switch, call %(phone)s."),
        }[self._way] % {"phone": self.facts.lab.phone}

    @property
    def in_doubt(self):
        if not self.facts.lab.phone:
            return {
                "plug": _("When in doubt: stop, unplug, call."),
                "off": _("When in doubt: switch it off, call."),
                "press switch": _("When in doubt: unplug the switch, call."),
            }[self._way]
        return {
            "plug": _("When in doubt: stop, unplug, call %(phone)s."),
            "off": _("When in doubt: switch it off, call %(phone)s."),
            "press switch": _("When in doubt: unplug the switch, call %(phone)s."),
        }[self._way] % {"phone": self.facts.lab.phone}

    @property
    def when_hot(self):
        return {
            "plug": _("It smells hot or smokes: unplug it and call the lab."),
            "off": _("It smells hot or smokes: switch it off and call the lab."),
            "press switch": _("It smells hot or smokes: unplug the switch and call the lab."),
        }[self._way]

    @property
    def not_only_in_the_diary(self):
        return {
            "plug": _("Something wrong? Stop, unplug, call. Do not only write it here."),
            "off": _("Something wrong? Switch it off, call. Do not only write it here."),
            "press switch": _("Something wrong? Unplug the switch, call. Do not only write it here."),
        }[self._way]

    @property
    def not_by_form(self):
        return {
            "plug": _("Is it not safe now? Do not wait for us. Stop, unplug, call."),
            "off": _("Is it not safe now? Do not wait for us. Switch it off, call."),
            "press switch": _("Is it not safe now? Do not wait for us. Unplug the switch, call."),
        }[self._way]


class Emergency:
    """The emergency number as the papers and the family's pages say it; which one, where the lab has not said, is open.

    Read while the language of the paper is active.
    """

    def __init__(self, number):
        self.number = number.strip()

    def _with(self, said):
        return said % {"number": self.number}

    @property
    def call(self):
        if not self.number:
            return _("Call the emergency number of your region.")
        return self._with(_("Call the emergency number: %(number)s."))

    @property
    def call_first(self):
        if not self.number:
            return _("Is there fire, or is somebody hurt? Call the emergency number of your region first.")
        return self._with(_("Is there fire, or is somebody hurt? Call the emergency number first: %(number)s."))

    @property
    def no_answer(self):
        """A battery that gets hot does not wait until the lab opens."""
        if not self.number:
            return _("Nobody answers? Call the emergency number of your region.")
        return self._with(_("Nobody answers? Call the emergency number: %(number)s."))

    @property
    def fire(self):
        """What a picture of fire says beside the number."""
        return self._with(_("Smoke or fire: get everybody away, then call %(number)s."))

    @property
    def medical_help(self):
        return self._with(_("Call for medical help: %(number)s.")) if self.number else _("Call for medical help.")
