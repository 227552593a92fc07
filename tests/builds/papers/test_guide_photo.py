"""The unit's own photo on the use guide: only one that is meant for it and shows nobody; else the drawing alone."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from builds.demo.factories.bench import drawn_photo
from builds.papers.render import render_html, render_pdf
from builds.record.photos import keep_photo, photo_for_guide, strike_photo
from builds.record.rules import Refused
from tests.builds.papers.conftest import again

ALT = 'alt="Photo of this equipment, taken at the lab"'


def guide(build, **options):
    return render_html("use_guide", again(build), draft=False, **options)


def images_in(html, build):
    reader = PdfReader(BytesIO(render_pdf(html, again(build))))
    return sum(len(page.images) for page in reader.pages)


def test_the_photo_meant_for_the_guide_is_printed_beside_the_drawing(ready, coordinator):
    bare = images_in(guide(ready), ready)
    keep_photo(ready, coordinator, drawn_photo(), caption="The rear axle")
    assert ALT not in guide(ready), "a photo of the record is not for the family by itself"
    kept = keep_photo(ready, coordinator, drawn_photo(), caption="The whole unit", on_guide=True)
    html = guide(ready)
    assert ALT in html and f"/photos/{kept.pk}/" in html and 'class="side-picture"' in html
    assert bare == 0 and images_in(html, ready) > 0
    assert 'alt="Foto de este equipo, tomada en el laboratorio"' in guide(ready, language="es")


def test_the_newest_one_counts_and_a_struck_one_leaves_the_drawing(ready, coordinator):
    first = keep_photo(ready, coordinator, drawn_photo(), on_guide=True)
    second = keep_photo(ready, coordinator, drawn_photo(), on_guide=True)
    assert photo_for_guide(again(ready)) == second
    strike_photo(second, coordinator, "Blurred")
    assert photo_for_guide(again(ready)) == first
    strike_photo(first, coordinator, "Blurred")
    assert ALT not in guide(ready) and 'class="side-picture"' in guide(ready)


def test_a_photo_with_the_client_never_hangs_on_a_guide(ready, coordinator):
    with pytest.raises(Refused, match="without the client|has not agreed"):
        keep_photo(ready, coordinator, drawn_photo(), shows_client=True, on_guide=True)
    kept = keep_photo(ready, coordinator, drawn_photo(), on_guide=True)
    kept.shows_client = True
    kept.save(update_fields=["shows_client"])
    assert ALT not in guide(ready)


def test_a_screen_shows_the_drawing_alone(ready, coordinator):
    """The family's phone may not open photos of the record."""
    keep_photo(ready, coordinator, drawn_photo(), on_guide=True)
    assert ALT not in guide(ready, screen=True)
