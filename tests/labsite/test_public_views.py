"""Everything asks for a sign-in, but for the pages listed here with their reason."""

from django.urls import URLPattern, get_resolver

PUBLIC = {
    "health": "a watchdog signs in nowhere",
    "sign_in": "the door of the lab",
    "sign_out": "whoever is signed out already is told so",
    "paper_check": "whoever holds a paper asks whether it is still true, and learns nothing else",
    "family_link": "the door of the family: a signed address and the second word",
    "family_paper": "behind that door",
    "family_lost": "an address of a family that leads nowhere says what to do",
    "family_report": "behind that door",
    "family_reported": "behind that door",
    "family_diary": "behind that door",
    "family_close": "leaving by that door",
}


def patterns(found=None):
    for one in get_resolver().url_patterns if found is None else found:
        if isinstance(one, URLPattern):
            yield one
        else:
            yield from patterns(one.url_patterns)


def test_no_other_page_is_open_to_everybody():
    assert {one.name for one in patterns() if not getattr(one.callback, "login_required", True)} == set(PUBLIC)


def test_pages_are_closed_by_default(settings):
    assert "labsite.middleware.SignInFirstMiddleware" in settings.MIDDLEWARE
