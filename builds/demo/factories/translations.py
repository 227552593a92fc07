"""Spanish of what the demo lab and the tests write into a record, as the lab's own translator wrote it. Invented."""

from django.utils import timezone

from builds.papers.catalogue import translated
from builds.papers.sentences import sources_of
from builds.papers.translations import Translation, digest_of, tidy

TRANSLATOR = "Lucero Baztán"
READER = "Amaro Villaseca, speaker chosen by the lab"

SPANISH = {
    "pull the red plug behind the seat, on the adult's side":
        "jale el conector rojo detrás del asiento, del lado del adulto",
    "the battery plug behind the seat, on the right; pull it out":
        "el conector de la batería, detrás del asiento, a la derecha; jálelo",
    "on the push handle at the back, the red knob": "en la barra de empuje, atrás, la perilla roja",
    "turn the red knob to the right until it comes up": "gire la perilla roja a la derecha hasta que suba",
    "press the red button of each buckle": "oprima el botón rojo de cada broche",
    "under the seat, on the right": "debajo del asiento, a la derecha",
    "on the underside, the small slider": "en la parte de abajo, la palanquita",
    "Monday to Friday, 9:00 to 17:00": "de lunes a viernes, de 9:00 a 17:00",
    "Stop using the equipment and leave a message": "Deje de usar el equipo y deje un mensaje",
    "Stop at once, stay with the child and call the first contact":
        "Pare enseguida, quédese con el niño y llame al primer contacto",
}  # fmt: skip


def translate(source, text, account, *, language="es", place="Demo", is_read=True):
    """One sentence in another language, read by the lab's speaker or not yet."""
    read = {"read_by": READER, "read_on": timezone.localdate()} if is_read else {}
    kept, _ = Translation.objects.get_or_create(
        language=language,
        source_digest=digest_of(source),
        defaults={
            "source": tidy(source), "place": place, "text": text, "translated_by": TRANSLATOR, "made_by": account,
            **read,
        },
    )  # fmt: skip
    return kept


def translate_record(build, account, **more):
    """Everything of this build's record that the catalogue does not hold and that we have in Spanish."""
    for one in sources_of(build, build.client.clearance(timezone.localdate())):
        if translated(tidy(one.text), "es") is None and tidy(one.text) in SPANISH:
            translate(one.text, SPANISH[tidy(one.text)], account, place=one.place, **more)
