"""Functions that migrations name by path. They never move."""

import uuid


def photo_path(instance, filename):
    """A name that says nothing about whom or what it shows."""
    return f"photos/{uuid.uuid4().hex}.jpg"


def paper_path(instance, filename):
    """Issued papers lie under the build's number."""
    return f"papers/{instance.build.number}/{uuid.uuid4().hex}.pdf"


def signed_sheet_path(instance, filename):
    return f"signed/{instance.build.number}/{uuid.uuid4().hex}"


def drawn_signature_path(instance, filename):
    return f"signed/{instance.paper.build.number}/{uuid.uuid4().hex}.png"


def family_photo_path(instance, filename):
    return f"family/{uuid.uuid4().hex}.jpg"


def capture_path(instance, filename):
    """Logs of sticks lie under the build's number, whatever their own names were."""
    return f"captures/{instance.build.number}/{uuid.uuid4().hex}.txt"
