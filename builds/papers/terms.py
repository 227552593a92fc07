"""The words of the trade and what families read instead, in English and in Spanish.

Whoever writes or translates for families takes the plain word, always the same one. A test reads the finished papers
for every technical word of this table.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Term:
    technical: str
    plain: str
    spanish: str  # the plain word in Spanish
    technical_spanish: str  # what a translator might reach for and must not


TERMS = (
    Term("base unit", "ride-on, toy", "carrito, juguete", "unidad base"),
    Term("unit under build", "equipment", "equipo", "unidad"),
    Term("configuration", "settings", "ajustes", "configuración"),
    Term("joystick", "stick", "palanca", "joystick"),
    Term("actuator", "switch", "botón", "actuador"),
    Term("emergency stop", "stop switch", "botón de parar", "paro de emergencia"),
    Term("cut-off switch", "stop switch", "botón de parar", "interruptor de corte"),
    Term("disconnect switch", "how to take away the power", "cómo cortar la corriente", "seccionador"),
    Term("speed ceiling", "top speed", "velocidad máxima", "techo de velocidad"),
    Term("rated load", "load limit", "cuánto peso aguanta", "carga nominal"),
    Term("pelvic support", "hip support", "apoyo para la cadera", "soporte pélvico"),
    Term("lateral support", "side support", "apoyo a los lados", "soporte lateral"),
    Term("wiring harness", "wires", "cables", "arnés de cables"),
    Term("access site", "the hand that works it", "la mano que lo usa", "sitio de acceso"),
    Term("clearance", "the clinician's yes", "el permiso del especialista", "autorización clínica"),
    Term("occupant restraint", "strap", "correa", "sistema de retención"),
    Term("terminal", "contact", "contacto", "borne"),
    Term("polarity", "which way round", "de qué lado va", "polaridad"),
    Term("termination", "end of a wire", "punta del cable", "terminación"),
    Term("strain relief", "what holds a wire", "lo que sujeta el cable", "alivio de tensión"),
    Term("continuity", "that a wire conducts", "que el cable conduce", "continuidad"),
    Term("commissioning", "the tests before use", "las pruebas antes del uso", "puesta en marcha"),
    Term("nonconformance", "something that is not right", "algo que no está bien", "no conformidad"),
    Term("hold point", "a yes before going on", "un sí antes de seguir", "punto de espera"),
    Term("calibration", "how the stick was set", "cómo se ajustó la palanca", "calibración"),
    Term("deadband", "how far it moves before it works", "cuánto se mueve sin efecto", "banda muerta"),
    Term("fuse", "part that cuts the power", "pieza que corta la corriente", "fusible"),
    Term("ampere", "how strong the current is", "qué tan fuerte es la corriente", "amperio"),
    Term("voltage", "how strong the battery is", "qué tan fuerte es la batería", "voltaje"),
    Term("bill of materials", "list of parts", "lista de piezas", "lista de materiales"),
    Term("ambulate", "walk", "caminar", "deambular"),
    Term("caregiver", "adult who helps", "adulto que cuida", "cuidador"),
)


def technical_words(language):
    """What must not stand on a paper for families in this language."""
    return [term.technical_spanish if language == "es" else term.technical for term in TERMS]


def plain_words():
    """Word of the trade -> what families read, for whoever writes a text of the record."""
    return {term.technical: term.plain for term in TERMS}
