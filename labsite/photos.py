"""Photos as they are kept: upright, small enough to load, and with nothing in them but the picture.

A photo from a phone carries the place where it was taken. It is drawn anew on an empty canvas, so that no
metadata of any kind can come along.
"""

import threading
import uuid
from contextlib import contextmanager
from io import BytesIO

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from PIL import Image, ImageFile, ImageOps
from pillow_heif import register_heif_opener

register_heif_opener()

FORMATS = ("JPEG", "PNG", "WEBP", "HEIF")
ACCEPTED = "image/jpeg,image/png,image/webp,image/heic,image/heif"
MAX_BYTES = 15 * 1024 * 1024
MAX_PIXELS = 60_000_000
LONGEST_SIDE = 1600
# What Pillow and the HEIF library raise for files that are broken or are no pictures.
BROKEN = (OSError, ValueError, SyntaxError, RuntimeError, EOFError, MemoryError, Image.DecompressionBombError)


def clean_photo(file, label="Photo"):
    """The photo upright, at most 1600 px, as JPEG without metadata, under a name that tells nothing."""
    if file.size > MAX_BYTES:
        raise ValidationError(f"{label} must be {MAX_BYTES // 1024**2} MB or smaller", code="too_large")
    try:
        with _whole_files_only():
            picture = _redrawn(_opened(file, label))
    except BROKEN as error:
        raise ValidationError(_not_a_photo(label), code="invalid_image") from error
    kept = BytesIO()
    picture.save(kept, "JPEG", quality=85, optimize=True)
    return ContentFile(kept.getvalue(), name=f"{uuid.uuid4().hex}.jpg")


_one_at_a_time = threading.Lock()


@contextmanager
def _whole_files_only():
    """The print engine lets Pillow fill what a cut-off file lacks with grey, for everybody; a record may not."""
    with _one_at_a_time:
        before = ImageFile.LOAD_TRUNCATED_IMAGES
        ImageFile.LOAD_TRUNCATED_IMAGES = False
        try:
            yield
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES = before


def _not_a_photo(label):
    return f"{label} could not be opened. Choose a JPEG, PNG, WebP or HEIC photo"


def _opened(file, label):
    file.seek(0)
    image = Image.open(file, formats=FORMATS)
    if image.width * image.height > MAX_PIXELS:
        raise ValidationError(f"{label} must be {MAX_PIXELS // 1_000_000} megapixels or smaller", code="too_large")
    return image


def _redrawn(image):
    # JPEGs can be decoded at a fraction of their size, which keeps a large photo from filling the memory.
    image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
    upright = ImageOps.exif_transpose(image)
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    canvas = Image.new("RGB", upright.size, "white")
    if upright.has_transparency_data:
        upright = upright.convert("RGBA")
        canvas.paste(upright, mask=upright)
    else:
        canvas.paste(upright.convert("RGB"))
    return canvas


class PhotoField(forms.FileField):
    """A form field whose cleaned value is already the photo to keep."""

    widget = forms.FileInput
    default_error_messages = {"empty": "Choose a photo that is not empty"}

    def __init__(self, **options):
        options.setdefault("help_text", "JPEG, PNG, WebP or HEIC, up to 15 MB")
        super().__init__(**options)
        self.widget.attrs["accept"] = ACCEPTED

    def to_python(self, data):
        file = super().to_python(data)
        return None if file is None else clean_photo(file, self.label or "Photo")
