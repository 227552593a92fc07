"""Signatures drawn on a screen of the lab: cleaned, kept with the sheet they stand on, printed on that sheet only.

No other paper shows one: nobody signed what it says.
"""

import base64
import binascii
import hashlib
from io import BytesIO

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.db import transaction
from django.db.models.signals import post_delete
from django.dispatch import receiver
from django.urls import reverse
from PIL import Image, ImageOps

from builds.papers import teaching
from builds.papers.models import DrawnSignature, PaperKind
from builds.record.rules import Refused
from labsite.photos import BROKEN

HEAD = "data:image/png;base64,"
MOST_SIGNS = 400_000
MOST_WIDE, MOST_HIGH = 2400, 1200
KEPT_WIDE, KEPT_HIGH = 900, 300
DARK = 128
LEAST_INK, LEAST_WIDE = 150, 40  # dots; less is a slip of the finger
MARGIN = 6
AGAIN = "Draw the signature in the box again, or sign on paper and keep a scan"
EMPTY = "Draw the signature in the box, or sign on paper and keep a scan"


def clean_drawing(text):
    """The signature in black on white, drawn anew from what the page sent; nothing else of the file is kept."""
    if not text:
        raise ValidationError(EMPTY)
    if len(text) > MOST_SIGNS or not text.startswith(HEAD):
        raise ValidationError(AGAIN)
    try:
        drawn = _on_white(base64.b64decode(text.removeprefix(HEAD), validate=True))
    except (binascii.Error, *BROKEN) as error:
        raise ValidationError(AGAIN) from error
    ink = drawn.point(lambda grey: 255 if grey < DARK else 0)
    box = ink.getbbox()
    if box is None or box[2] - box[0] < LEAST_WIDE or ink.histogram()[255] < LEAST_INK:
        raise ValidationError(EMPTY)
    return _kept(ImageOps.expand(drawn.crop(box), MARGIN, 255))


def _on_white(content):
    image = Image.open(BytesIO(content), formats=("PNG",))
    if image.width > MOST_WIDE or image.height > MOST_HIGH:
        raise ValueError("The drawing is larger than the box")
    image = image.convert("RGBA")
    canvas = Image.new("L", image.size, 255)
    canvas.paste(image.convert("L"), mask=image.getchannel("A"))
    return canvas


def _kept(drawn):
    drawn.thumbnail((KEPT_WIDE, KEPT_HIGH), Image.Resampling.LANCZOS)
    held = BytesIO()
    drawn.save(held, "PNG", optimize=True)
    return ContentFile(held.getvalue(), name="signature.png")


def sheet_to_sign(build):
    """The newest hand-off sheet that is current; signatures stand on it."""
    sheets = build.issued_papers.filter(kind=PaperKind.HAND_OFF_SHEET, superseded_at__isnull=True)
    return sheets.order_by("-copy_number").first()


@transaction.atomic
def sign(build, account, *, adult, drawing):
    """Keep one adult's signature: who, when, and the digest of the sheet as it was issued."""
    sheet = sheet_to_sign(build)
    if sheet is None:
        raise Refused("No hand-off sheet is current. Issue it first; the signature stands on it.")
    if adult not in teaching.supervising_adults(build):
        raise Refused("This adult is not marked as supervising. Mark that on the client's page first.")
    if not teaching.is_passed(build, adult):
        raise Refused("This adult has not shown or said every item yet. Finish the teach-back first.")
    if sheet.signatures.filter(adult=adult).exists():
        raise Refused("This adult has signed this sheet already.")
    with sheet.file.open("rb") as file:
        if hashlib.sha256(file.read()).hexdigest() != sheet.digest:
            raise Refused("The kept sheet is not the one that was issued. Issue it again, then sign.")
    row = DrawnSignature(paper=sheet, adult=adult, paper_digest=sheet.digest, made_by=account)
    row.image.save(drawing.name, drawing, save=False)
    try:
        row.save(force_insert=True)
    except BaseException:
        row.image.storage.delete(row.image.name)
        raise
    return row


def signatures(build):
    """Those that stand on a sheet that is current, the newest of each adult."""
    rows = DrawnSignature.objects.filter(paper__build=build, paper__superseded_at__isnull=True)
    newest = {one.adult_id: one for one in rows.select_related("paper", "adult", "made_by")}
    return list(newest.values())


def on_sheet(build):
    """What the hand-off sheet adds: who taught each adult, and what is signed already."""
    adults = teaching.supervising_adults(build)
    return {
        "taught_by": [(one.name, ", ".join(teaching.teachers(build, one))) for one in adults],
        "signed": [(one, address(build, one)) for one in signatures(build)],
    }


def address(build, signature):
    return reverse("hand_off_signature", args=[build.number, signature.pk])


def files(build):
    """For the print engine: the addresses of this build's signatures, with their files."""
    return {address(build, one): one.image.path for one in signatures(build)} if build is not None else {}


@receiver(post_delete, sender=DrawnSignature)
def forget_the_file(sender, instance, **more):
    """A signature goes with the person, and its file with it once that is certain."""
    name, storage = instance.image.name, instance.image.storage
    transaction.on_commit(lambda: storage.delete(name))
