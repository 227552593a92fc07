"""The client's side of the evidence: mass, access, supports, cautions, places, hours, clearance, consent, the lab."""

from builds.record import hooks
from builds.record.registry import Evidence
from clients.models import Consent, Measure
from labsite.marks import Side
from labsite.models import Lab


def in_unit(value, unit):
    return None if value is None else f"{value:.6g} {unit}"


def client_evidence(build, client):
    yield Evidence("client-mass", "client-mass", "The client's mass", {"mass": mass_in_words(build, client)})
    yield from needs_evidence(build, client)
    yield cautions_evidence(client)
    yield places_evidence(client)
    yield from hours_evidence(client)


def needs_evidence(build, client):
    access = getattr(client, "access", None)
    if access:
        fields = {
            "side": access.get_side_display(),
            "purpose": access.get_purpose_display(),
            "site": access.get_site_display(),
            "method": access.get_method_display(),
            "release": access.get_releases_on_request_display(),
            "reach": reach_in_words(client, access.side, build.configuration()),
        }
        yield Evidence("client-access", "client-access", "Access profile", fields)
    sitting = getattr(client, "sitting", None)
    if sitting:
        decided = sorted(sitting.supports) if sitting.supports_decided else None
        yield Evidence("client-supports", "client-supports", "Supports needed", {"supports": decided})


def cautions_evidence(client):
    answers = {
        one.get_kind_display(): f"{one.get_answer_display()} {one.plan}".strip() for one in client.cautions.all()
    }
    return Evidence("client-cautions", "client-cautions", "Cautions", {"answers": answers})


def places_evidence(client):
    places = told_apart(client.places.all())
    slopes = {name: in_unit(one.slope_deg, "°") for name, one in places.items()}
    hazards = {name: one.hazards for name, one in places.items()}
    return Evidence("client-places", "client-places", "Places", {"slopes": slopes, "hazards": hazards})


def hours_evidence(client):
    home = getattr(client, "household", None)
    if home:
        hours = {"wake": home.wake_time, "sleep": home.sleep_time, "plug_in": home.plug_in_time}
        told = {name: in_clock(time) for name, time in hours.items()}
        yield Evidence("client-hours", "client-hours", "Hours at home", told)


def told_apart(places):
    """Name -> place; of two places with one name, each keeps its own slope."""
    found = {}
    for one in sorted(places, key=lambda place: place.pk):
        name, number = one.name, 2
        while name in found:
            name, number = f"{one.name} ({number})", number + 1
        found[name] = one
    return found


def in_clock(time):
    return None if time is None else f"{time:%H:%M}"


def mass_in_words(build, client):
    """The client's mass, or that it is within the proved ballast: growing up to that voids nothing."""
    mass = client.latest(Measure.Kind.MASS)
    if mass is None:
        return None
    proved = proved_ballast_kg(build)
    if proved is not None and mass.value_si <= proved:
        return f"within the {proved:.3g} kg that the unit was proved with"
    return f"{mass.value_si:.4g} kg"


def proved_ballast_kg(build):
    """The ballast of the floor run, as recorded by the bench; None where there is none."""
    known = [value for value in (ask(build) for ask in hooks.proved_ballast) if value is not None]
    return min(known, default=None)


def reach_in_words(client, side, configuration):
    """The reach of the side in use; of both sides where the arm swaps, because both are judged then."""
    if configuration is None or configuration.arm != configuration.Reversible.SWAPS:
        return reach_of(client, side)
    return {one.label: reach_of(client, one) for one in (Side.LEFT, Side.RIGHT)}


def reach_of(client, side):
    reach = client.latest(Measure.Kind.REACH, side=side, compensation="without")
    return None if reach is None else f"{reach.value_si:.4g} m"


def clearance_evidence(client):
    clearance = client.clearance()
    if clearance:
        yield Evidence(
            "clearance",
            "clearance",
            "Clearance",
            {
                "given": f"{clearance.clinician}, {clearance.given_on}",
                "expires": str(clearance.expires_on),
                "scope": clearance.get_scope_display(),
                "equipment": clearance.get_equipment_display(),
                "speed": in_unit(clearance.greatest_speed_m_s, "m/s"),
                "supports": sorted(clearance.supports),
                "session": clearance.session_min,
                "places": sorted(clearance.places),
                "conditions": clearance.conditions,
            },
        )


def consent_evidence(client):
    """What the hand-off asks for. To take back a yes to photos must not take the unit away."""
    newest = {purpose: client.consent(purpose) for purpose in Consent.NEEDED_FOR_HAND_OFF}
    given = {purpose.label: "given" if one.in_force else "not given" for purpose, one in newest.items() if one}
    return Evidence("consent", "consent", "Consents", {"given": given})


def lab_evidence():
    lab = Lab.current()
    return Evidence(
        "lab",
        "lab",
        "The lab",
        {
            "name": lab.name,
            "phone": lab.phone,
            "hours": lab.hours,
            "outside_hours": lab.outside_hours or None,
            "emergency_number": lab.emergency_number or None,
        },
    )
