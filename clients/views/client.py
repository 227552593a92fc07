"""The client's page, the trail of who looked and who changed, and the whole file to take along."""

from django.http import FileResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from clients import access, page, trail
from clients.export import packed, parts_of


@require_safe
def client_page(request, case_code):
    if request.user.sees_identity:
        client = access.get_identified_client(request, case_code, "Client page", page.clients_with_family())
        family = page.family_of(client)
    else:
        client = access.get_client(request, case_code, page.clients_with_needs())
        family = None
    return render(request, "clients/client_page.html", page.needs_of(client, request.user) | {"family": family})


@require_safe
def client_trail(request, case_code):
    client = access.get_identified_client(request, case_code, "Trail")
    return render(
        request,
        "clients/client_trail.html",
        {"client": client, "openings": trail.openings(client), "changes": trail.changes(client), "most": trail.MOST},
    )


@require_safe
def client_copy(request, case_code):
    """Says what is in the copy before somebody downloads it."""
    client = access.get_identified_client(request, case_code, "What is kept, before an export")
    return render(request, "clients/client_copy.html", {"client": client, "parts": parts_of(client)})


@require_safe
def client_export(request, case_code):
    client = access.get_identified_client(request, case_code, "Export of the whole file")
    answer = FileResponse(packed(client), as_attachment=True, filename=f"{client.case_code}.zip")
    answer["Cache-Control"] = "private, no-store"
    return answer
