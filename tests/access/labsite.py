"""The door, the accounts and the lab's own settings."""

from labsite.roles import Role
from tests.access.rows import row
from tests.factory import make_account

ORDER = 10
ANYONE = {"coordinator": 200, "builder": 200, "builder_elsewhere": 200, "reviewer": 200, "director": 200}
DESK_PAGE = {
    "coordinator": 200,
    "builder": 403,
    "builder_elsewhere": 403,
    "reviewer": 403,
    "director": 200,
    "signed_out": 302,
}
DESK_REFUSES = {**DESK_PAGE, "coordinator": 422, "director": 422}
DESK_CHANGE = {**DESK_PAGE, "coordinator": 302, "director": 302}
LEAVES = dict.fromkeys((*ANYONE, "signed_out"), 302)

ROWS = [
    row("health", **ANYONE, signed_out=200, page=False),
    row("home", **LEAVES),
    row("sign_in", **{**LEAVES, "signed_out": 200}),
    row("sign_in", "POST", **{**LEAVES, "signed_out": 422}),
    row("sign_out", "POST", **LEAVES),
    row("password_change", **ANYONE, signed_out=302),
    row("password_change", "POST", **dict.fromkeys(ANYONE, 422), signed_out=302),
    row("accounts", **DESK_PAGE),
    row("account_new", **DESK_PAGE),
    row("account_new", "POST", **DESK_REFUSES),
    row("account_edit", **DESK_PAGE),
    row("account_edit", "POST", **DESK_REFUSES),
    row("account_close", **DESK_PAGE),
    row("account_close", "POST", data={"reason": "Graduated"}, **DESK_CHANGE),
    row("account_reopen", "POST", **DESK_CHANGE),
    row("account_reset_password", "POST", **DESK_CHANGE),
    row("lab_settings", **DESK_PAGE),
    row("lab_settings", "POST", **DESK_REFUSES),
]


def arguments(world):
    student = make_account(Role.BUILDER, full_name="Sam Oakes")
    closed = make_account(Role.BUILDER, full_name="Gil Ferro")
    closed.close("Graduated")
    points_at = {"pk": student.pk}
    return {
        "account_edit": points_at,
        "account_close": points_at,
        "account_reset_password": points_at,
        "account_reopen": {"pk": closed.pk},
    }
