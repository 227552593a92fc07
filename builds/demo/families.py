"""Families of the demo lab, in several languages. All of them are invented."""

from dataclasses import dataclass
from datetime import timedelta

from django.utils import timezone

from builds.demo.factories.clients import CaregiverFactory, make_assessed_client, make_cleared_client
from clients.models import Measure

DAYS_A_YEAR = 365.25


@dataclass(frozen=True)
class Family:
    given: str
    family: str
    adult: str
    relation: str = "Mother"
    language: str = "en"
    years: float = 3.5
    mass_kg: float = 15.5
    side: str = "left"
    purpose: str = "better"
    method: str = "stick"
    plan: str = ""  # what is done about a seizure, where there is one to plan for
    second_adult: str = ""
    sex: str = "unknown"  # for growth charts only; the lab asks when a unit with a rider is planned

    def person(self):
        born = timezone.localdate() - timedelta(days=round(self.years * DAYS_A_YEAR))
        return {
            "person__given_name": self.given,
            "person__family_name": self.family,
            "person__birth_date": born,
            "person__sex": self.sex,
            "person__address": "Address on file at the front desk",
        }


FAMILIES = {
    "wetherby": Family("Hollis", "Wetherby-Nash", "June Wetherby-Nash", "Grandmother"),
    "jaskolska": Family("Zofia", "Jaskólska", "Hanna Jaskólska", language="pl"),
    "cabdulle": Family("Ayaan", "Cabdulle", "Hodan Cabdulle", years=2.4, mass_kg=12.1),
    "desrosiers": Family("Maëlle", "Desrosiers-Ory", "Ariane Desrosiers-Ory", language="fr", sex="female"),
    "gnatyuk": Family("Соломія", "Гнатюкевич", "Оксана Гнатюкевич", language="uk", sex="female"),
    "oyang": Family("静怡", "欧阳林", "欧阳林海", "Father", language="zh-hans", years=4.2, mass_kg=17.0, side="right",
                    sex="female"),
    "xyooj": Family("Pajzoua", "Xyoojmoua", "Maiv Xyoojmoua"),
    "quintero": Family("Itzel", "Quintero Vidales", "Rosalba Quintero Vidales", language="es", years=3.1, mass_kg=14.2,
                       second_adult="Anselmo Quintero Vidales", sex="female"),
    "hartwig": Family("Jonah", "Hartwigsen", "Maren Hartwigsen", years=5.6, mass_kg=24.4, side="right", method="press",
                      sex="male"),
    "trivedi": Family("आरव", "त्रिवेदिया", "मीरा त्रिवेदिया", language="hi", years=2.2, mass_kg=11.6, method="external"),
    "braonain": Family("Saoirse", "Ní Bhraonánta", "Eimear Ní Bhraonánta", language="ga", years=4.6, mass_kg=18.1,
                       sex="female"),
    "lindgren": Family("Alva", "Lindgrönsson", "Stellan Lindgrönsson", "Father", side="right", purpose="training",
                       sex="female"),
    "tsegaye": Family("Selam", "Tsegayewold", "Hirut Tsegayewold", years=3.0, mass_kg=13.8, method="press",
                      sex="female"),
    "kowhai": Family("Manaia", "Kōwhairangi", "Ngaire Kōwhairangi", years=3.8, mass_kg=16.3, sex="male"),
    "ferreira": Family("Dinis", "Ferreirinha", "Tânia Ferreirinha", language="pt", method="press", side="right",
                       plan="Stop at once, stay with the child and call the first contact", sex="male"),
    "haddow": Family("Iona", "Haddowmuir", "Ewan Haddowmuir", "Father", years=4.0, mass_kg=16.9, sex="female"),
    "alsabagh": Family("ليان", "الصبّاغي", "رنا الصبّاغي", language="ar", method="press", years=3.3, mass_kg=14.4,
                       sex="female"),
    "okeke": Family("Chidera", "Okekechuku", "Ifeoma Okekechuku", years=2.9, mass_kg=13.2, sex="male"),
    "petrosyan": Family("Նարե", "Պետրոսիկյան", "Անահիտ Պետրոսիկյան", language="hy", years=3.6, mass_kg=15.1),
    "vandermolen": Family("Fenna", "van der Moolenaar", "Joost van der Moolenaar", "Father", language="nl",
                          method="external", years=2.6, mass_kg=12.4),
}  # fmt: skip


def cleared(key, account, **clearance):
    """A client of this family with everything assessed and a clearance in date."""
    family = FAMILIES[key]
    if family.method == "external":
        clearance.setdefault("equipment", "toy")
    client = make_cleared_client(account, clearance=clearance, **family.person())
    return fit_to(client, family, account)


def assessed(key, account):
    """A client of this family who waits for the clearance."""
    return fit_to(make_assessed_client(account, **FAMILIES[key].person()), FAMILIES[key], account)


def fit_to(client, family, account):
    """Turn the usual rows into those of this family."""
    adult = client.caregivers.get()
    adult.name, adult.relation, adult.language = family.adult, family.relation, family.language
    adult.interpreter = "no" if family.language == "en" else "yes"
    adult.save(update_fields=["name", "relation", "language", "interpreter"])
    if family.second_adult:
        CaregiverFactory(client=client, name=family.second_adult, relation="Father", language=family.language,
                         is_first_contact=False)  # fmt: skip
    access = client.access
    access.side, access.purpose, access.method = family.side, family.purpose, family.method
    access.save(update_fields=["side", "purpose", "method"])
    for consent in client.consents.all():
        consent.signer = family.adult
        consent.save(update_fields=["signer"])
    weigh(client, family)
    plan_for_seizures(client, family, account)
    return type(client).objects.get(pk=client.pk)


def weigh(client, family):
    mass = client.measures.get(kind=Measure.Kind.MASS)
    mass.value_si, mass.typed = family.mass_kg, f"{family.mass_kg:g} kg"
    mass.save(update_fields=["value_si", "typed"])


def plan_for_seizures(client, family, account):
    if family.plan:
        client.cautions.get(kind="seizures").give("yes", family.plan, account)
