"""What the family papers print and no other evidence holds, in words: a paper stands on what it prints, and no more.

Only the record changes it, never the day: a contact that has passed, or was made, is no change.
"""

from django.utils import translation

from builds.papers import handing_over, home, sheet, teaching, words
from builds.papers.catalogue import SOURCE
from builds.papers.facts import Facts
from builds.papers.models import PaperKind
from builds.record.registry import Evidence

KIND = "printed"


def facts_in_words(facts):
    """name -> (what it is, as it is printed; None where nothing is printed that could become wrong)"""
    return {
        "rider_limit": ("Greatest mass of the child", rider_limit(facts)),
        "lifting": ("What has to be lifted", home.weight_sentence(facts) if facts.rides else None),
        "keeping_up": ("Whether an adult keeps up", facts.pace_sentence),
        "lights": ("Lights of the charger", lights(facts)),
        "photo": ("Photo on the use guide", facts.unit_photo),
        **facts_of_hand_off(facts),
    }


def facts_of_hand_off(facts):
    hand_off, adults = handing_over.hand_off_of(facts.build), teaching.supervising_adults(facts.build)
    return {
        "terms": ("Loan or gift", hand_off.get_terms_display()),
        "handed_on": ("Date of the hand-off", words.a_day(hand_off.handed_on) if hand_off.handed_on else None),
        "interpreter": ("Whether an interpreter is needed", interpreter(facts.build)),
        "adults": ("Supervising adults", [without_name(*one) for one in enumerate(adults, 1)]),
    }


PRINTED_ON = {
    "rider_limit": (PaperKind.USE_GUIDE, PaperKind.SUPERVISION_CARD, PaperKind.HAND_OFF_SHEET),
    "lifting": (PaperKind.USE_GUIDE,),
    "keeping_up": (PaperKind.USE_GUIDE,),
    "lights": (PaperKind.CHARGING_GUIDE,),
    "photo": (PaperKind.USE_GUIDE,),
    "terms": (PaperKind.HAND_OFF_SHEET,),
    "handed_on": (PaperKind.HAND_OFF_SHEET,),
    "interpreter": (PaperKind.HAND_OFF_SHEET,),
    "adults": (PaperKind.HAND_OFF_SHEET, PaperKind.TEACH_BACK_SHEET),
}


def rider_limit(facts):
    """A limit that becomes known counts as a change: whoever holds a paper without one may think there is none."""
    return facts.rider_limit_sentence or "no limit is printed" if facts.rides else None


def interpreter(build):
    return " ".join(handing_over.language_sentences(build)) or "nobody is said to need one"


def lights(facts):
    return "; ".join(filter(None, [facts.light_charging, facts.light_full])) if facts.is_charged else None


def without_name(number, adult):
    """Who stands on a sheet, as the device file may keep it: a name that was corrected counts, and is not told."""
    times = {0: "as first written", 1: "changed once"}.get(adult.renamed, f"changed {adult.renamed} times")
    return f"adult {number} (entry {adult.pk}), name {times}"


def evidence(build):
    with translation.override(SOURCE):
        facts = Facts(build)
        for name, (label, says) in facts_in_words(facts).items():
            yield Evidence(KIND, f"{KIND}:{name}", f"{label}, as printed", {name: says or None})
        for one in build.contacts.all():
            if not one.is_struck:
                label = f"{one.get_kind_display()} that the family is told of"
                yield Evidence(KIND, key_of(one), label, {"contact": sheet.a_contact(one)})


def key_of(contact):
    return f"{KIND}:contact-{contact.pk}"


def of_paper(kind, facts, snapshot):
    """A snapshot of now without what this paper does not print."""
    keys = {f"{KIND}:{name}" for name, kinds in PRINTED_ON.items() if kind in kinds}
    keys |= {key_of(one) for one in told_contacts(kind, facts)}
    says = {key for key in keys & snapshot.keys() if any(snapshot[key]["fields"].values())}
    return still(says, snapshot)


def told_contacts(kind, facts):
    if kind == PaperKind.HAND_OFF_SHEET:
        return sheet.first_contacts(facts)
    return filter(None, [facts.next_contact]) if kind == PaperKind.FOLLOW_UP_FORM else []


def still(kept, now):
    """The snapshot of now as far as a paper stands on it: what it never printed cannot become wrong on it."""
    return {key: item for key, item in now.items() if not is_printed(key) or key in kept}


def is_printed(key):
    return key.startswith(f"{KIND}:")
