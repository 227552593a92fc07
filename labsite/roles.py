"""The four roles, and the decorator that opens a view to some of them."""

from functools import wraps

from django.core.exceptions import PermissionDenied
from django.db import models


class Role(models.TextChoices):
    COORDINATOR = "coordinator", "Lab coordinator"
    BUILDER = "builder", "Builder"
    REVIEWER = "reviewer", "Reviewer"
    DIRECTOR = "director", "Lab director"

    @property
    def field(self):
        return f"is_{self.value}"


def roles_required(*roles):
    """Open a view to these roles only; others get a page that says whom to ask."""

    def decorate(view):
        @wraps(view)
        def guarded(request, *args, **kwargs):
            require_role(request.user, *roles)
            return view(request, *args, **kwargs)

        return guarded

    return decorate


def require_role(account, *roles):
    if not account.has_role(*roles):
        named = " or ".join(str(Role(role).label).lower() for role in roles)
        raise PermissionDenied(f"This is for the {named}. Ask the lab coordinator if you need it.")
