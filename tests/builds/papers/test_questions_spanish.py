"""The same questions, asked by a family that reads Spanish: each has its sentence on a paper that it holds."""

import pytest

pytestmark = pytest.mark.django_db  # so that there is a database for the session's papers

USE, CHARGE, CARD, SHEET, STOP = "use_guide", "charging_guide", "supervision_card", "hand_off_sheet", "stop_use_card"

RIDE_ON = [
    ("¿Se puede cargar toda la noche?", CHARGE, "Nunca cargue de noche. Nunca cargue si todos duermen o salieron."),
    ("¿Debo quedarme mientras carga?", CHARGE, "Quédese en casa y despierto mientras carga."),
    ("¿A qué hora lo conecto?", CHARGE, "Conecte a las 6:30 am (06:30)"),
    ("¿A qué hora lo quito?", CHARGE, "Quítelo a las 4:30 pm (16:30)"),
    ("Llegamos tarde a casa", CHARGE, "¿Son más de las 12:30 pm (12:30)? Espere y cargue al día siguiente."),
    ("¿Qué luz dice que está llena?", CHARGE, "Luz cuando está llena: verde."),
    ("¿Puedo usar otro cargador?", CHARGE, "Nunca use otro cargador, aunque entre bien."),
    ("¿Puedo cargar con el niño sentado?", CARD, "Nunca cargue con el niño en el asiento."),
    ("¿Quién puede subir?", CARD, "Solo este niño puede subir."),
    ("Mi otro hijo quiere probar", USE, "Ningún hermano o amigo puede probarlo."),
    ("¿Puede cuidarlo la abuela?", USE, "¿Un abuelo o una niñera quiere ayudar? Llame al laboratorio."),
    ("Se mueve solo: ¿cuándo parar?", USE, "Se mueve solo, o no para."),
    ("Se mueve solo: ¿qué hago?", USE, "Corte la corriente aquí: jale el conector rojo detrás del asiento"),
    ("Huele a quemado", STOP, "¿Huele a quemado? ¿Se mueve solo? Pare, desconecte, llame."),
    ("Hay humo o fuego", USE, "Primero saque al niño. Aleje a todos. Llame al número de emergencia: 911."),
    ("La batería está hinchada", USE, "¿La batería está caliente, hinchada o gotea? Primero saque al niño."),
    ("Me cayó líquido en la piel", USE, "Enjuague con mucha agua. Pida ayuda médica: 911."),
    ("¿Qué tan cerca debo estar?", CARD, "Camine al lado del niño, al alcance de su brazo."),
    ("¿De qué lado va la palanca?", USE, "La palanca está a la izquierda del niño."),
    ("¿La izquierda de quién?", USE, "Izquierda y derecha son las del niño cuando mira al frente."),
    ("¿Es la guía de nuestro equipo?", USE, "Solo para el carrito con este número: {number}"),
    ("¿Qué tan rápido va?", USE, "Velocidad máxima: 2.9 km/h (1.8 mph)."),
    ("¿Quién cambia la velocidad?", CARD, "Solo el laboratorio cambia la velocidad."),
    ("¿Cuánto puede pesar mi hijo?", USE, "El niño puede pesar hasta"),
    ("¿Dónde lo usamos?", CARD, "Úselo solo aquí: patio o jardín; camino lejos de los carros; clínica o laboratorio."),
    ("¿Puede ir en una cuesta?", CARD, "Ande en suelo plano."),
    ("¿Y si llueve?", CARD, "El suelo está mojado, o llueve."),
    ("¿Puede ir por la calle?", CARD, "Aléjese de calles y entradas de carros."),
    ("El selector está en otro lugar", USE, "¿No está así? No lo use. Llame al laboratorio."),
    ("La luz nunca se pone verde", CHARGE, "¿Aún no está llena? No siga cargando. Llame al laboratorio."),
    ("¿Cómo lo paro?, dice la tarjeta", CARD, "Para pararlo usted: oprima el botón de parar. Está aquí: en la barra"),
    ("Lados en el dibujo", CARD, "izquierda derecha frente"),
    ("¿Cómo lo paro yo?", USE, "Para pararlo usted: oprima el botón de parar. Está aquí: en la barra de empuje"),
    ("¿Cuánto tiempo seguido?", CARD, "Pare después de 20 minutos y descanse."),
    ("¿Qué reviso antes?", USE, "Cinco revisiones antes de cada uso"),
    ("¿Cómo vuelve a andar después de la revisión?", USE, "¿No había nada malo? Para volver a andar: suelte"),
    ("¿Cómo regreso el botón de parar?", STOP, "Para regresar el botón de parar: gire la perilla roja a la derecha"),
    ("¿Cómo saco rápido a mi hijo?", STOP, "Para abrir las correas: oprima el botón rojo de cada broche."),
    ("Salió humo: ¿lo conecto otra vez?", STOP, "Deje la corriente apagada. Llame primero al laboratorio."),
    ("¿Qué correa cierro primero?", USE, "Cierre primero la correa de la cadera."),
    ("¿Cómo lo limpio?", USE, "Límpielo con un trapo húmedo."),
    ("¿A quién llamo?", USE, "A quién llamar 555 0142"),
    ("¿Cuándo contestan?", USE, "Contestamos: de lunes a viernes, de 9:00 a 17:00."),
    ("¿Y un domingo?", USE, "Fuera de estas horas: Deje de usar el equipo y deje un mensaje."),
    ("¿Es nuestro o prestado?", SHEET, "Préstamo sin fecha: el laboratorio puede pedirlo de vuelta"),
    ("¿Cómo lo devuelvo?", USE, "Llame al laboratorio. Le decimos adónde llevarlo."),
    ("¿Hasta cuándo vale el permiso?", USE, "Llame al laboratorio antes de ese día. No lo use después."),
]  # fmt: skip
TOY = [
    ("¿Quién puede cuidarlo?", "Lo cuida solo un adulto a quien enseñó el laboratorio."),
    ("¿Qué tan cerca debo estar?", "Quédese con el niño, al alcance de su brazo."),
    ("¿Puedo cargar las pilas?", "Nunca cargue pilas de un solo uso."),
]


@pytest.mark.parametrize("print_size", ["normal", "large"])
@pytest.mark.parametrize(("question", "kind", "answer"), RIDE_ON, ids=[row[0] for row in RIDE_ON])
def test_a_ride_on_paper_answers(packs, question, kind, answer, print_size):
    paper = packs["one-hand-stick", kind, "es", print_size]
    assert answer.format(number=paper.number) in paper.text


@pytest.mark.parametrize(("question", "answer"), TOY, ids=[row[0] for row in TOY])
def test_a_toy_guide_answers(packs, question, answer):
    assert answer in packs["switch-socket", "use_guide", "es", "normal"].text
