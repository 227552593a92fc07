"""The client's page, the trail of who looked and who changed, and the whole file to take along."""

from django.http import JsonResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from clients import access, page, trail
from clients.export import export


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
def client_export(request, case_code):
    client = access.get_identified_client(request, case_code, "Export of the whole file")
    answer = JsonResponse(export(client), json_dumps_params={"indent": 2, "ensure_ascii": False})
    answer["Content-Disposition"] = f'attachment; filename="{client.case_code}.json"'
    return answer
