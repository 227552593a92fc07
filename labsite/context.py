"""What every page knows."""

import uuid


def lab(request):
    return {"lab": getattr(request, "lab", None), "once": uuid.uuid4}
