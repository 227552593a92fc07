"""From a build to the HTML of a paper, and from that HTML to a PDF.

The print engine may fetch this project's own static files and photos of this one build, nothing else.
"""

import logging
import mimetypes
import os
import tempfile
import threading
from pathlib import Path
from urllib.parse import unquote, urlsplit

from django.conf import settings
from django.contrib.staticfiles import finders
from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.exceptions import SuspiciousFileOperation
from django.template.loader import render_to_string
from django.urls import NoReverseMatch, reverse
from django.utils.translation import gettext as _
from django.utils.translation import override

from builds.papers import clinician, codes, diagram, home, signing, working
from builds.papers.as_built import parts_of, wiring_of
from builds.papers.catalogue import SOURCE, languages
from builds.papers.facts import Facts
from builds.papers.kinds import FOR_FAMILIES, WORKING
from builds.papers.models import PaperKind, PrintSize
from builds.papers.numbers import OF_KIND
from builds.papers.sheet import sheet_of

SIZES = ("letter", "a4")
NORMAL, LARGE = PRINT_SIZES = tuple(PrintSize.values)
HOME = "http://papers.invalid"  # no address leads there; it only makes the paths of static files complete
VARIANT = "pdf/ua-1"
DRAFT = "DRAFT"
log = logging.getLogger(__name__)


class PaperError(Exception):
    """A paper cannot be made; the text says why in a sentence."""


def render_html(
    kind, build, size=None, *, facts=None, language=SOURCE, print_size=NORMAL, copy_number=None, draft=None,
    screen=False, code="", family="",
):  # fmt: skip
    """The paper as a whole HTML document; a draft carries its mark on every page."""
    from builds.papers.rules import why_not

    checked_language(kind, language)
    english = facts if facts and facts.language == SOURCE else None
    reasons = why_not(kind, build, english, language) if draft is None else []
    facts = facts if facts and facts.language == language else Facts(build, language=language)
    with override(language):
        page = {
            "facts": facts,
            "kind": PaperKind(kind),
            "for_family": kind in FOR_FAMILIES,
            "title": _("%(paper)s for %(number)s") % {"paper": _(PaperKind(kind).label), "number": build.unit.number},
            "size": checked_size(size or facts.lab.paper),
            "print_size": checked_print_size(print_size),
            "draft": bool(reasons) if draft is None else draft,
            "reasons": reasons,
            "copy_number": copy_number,
            "screen": screen,
            "has_numbers": kind in OF_KIND,
            "code": codes.as_printed(code),
            "check_address": check_address(facts.lab),
            "family": family,  # the address of a family link, where the paper is read over one
            **more_for(kind, facts),
        }
        return render_to_string(f"papers/{kind}.html", page)


def checked_language(kind, language):
    """A language that this paper is printed in."""
    known = languages() if kind in FOR_FAMILIES else [SOURCE]
    if language not in known:
        paper = PaperKind(kind).label.lower()
        raise PaperError(f"The {paper} is printed in {' and '.join(known)}, not {language[:20]}.")
    return language


def checked_print_size(print_size):
    if print_size not in PRINT_SIZES:
        raise PaperError(f"Print must be {' or '.join(PRINT_SIZES)}, not {print_size[:20]}.")
    return print_size


def more_for(kind, facts):
    """What only one kind of paper shows."""
    if kind == PaperKind.HAND_OFF_SHEET:
        return {"sheet": sheet_of(facts), **signing.on_sheet(facts.build)}
    if kind == PaperKind.AS_BUILT:
        photos = [one for one in facts.build.photos.all() if not one.is_struck and not one.shows_client]
        return {
            "parts": parts_of(facts),
            "photos": photos,
            "wiring": wiring_of(facts),
            "diagrams": diagram.of_build(facts.build),
        }
    if kind == PaperKind.CLINICIAN_SUMMARY:
        if refused := clinician.refusal(facts.build):
            raise PaperError(refused)
        return {"summary": clinician.page(facts)}
    if kind in WORKING:
        return working.page(kind, facts)
    return home.page(kind, facts)


def check_address(lab):
    """Where a family types the code of a paper, as short as it can be said."""
    whole = lab.public_address.rstrip("/") + reverse("paper_check")
    return whole.partition("://")[2].rstrip("/")


def checked_size(size):
    if size not in SIZES:
        raise PaperError(f"Paper size must be letter or a4, not {size[:20]}.")
    return size


class MissingSigns(logging.Handler):
    """Hears which signs the engine had no font for, in this thread and while it is asked to."""

    def __init__(self):
        super().__init__(logging.WARNING)
        self.thread = threading.get_ident()
        self.found = []

    def emit(self, record):
        if record.thread == self.thread and ".notdef" in record.getMessage():
            self.found.append(record.getMessage())

    def __enter__(self):
        logging.getLogger("weasyprint").addHandler(self)
        return self

    def __exit__(self, *error):
        logging.getLogger("weasyprint").removeHandler(self)


def render_pdf(html, build=None, files=None, must_have_fonts=False):
    """The bytes of the PDF: tagged, with title and language. `files`, where known, are those of `files_of(build)`.

    With `must_have_fonts` a paper is refused on which a box would stand in place of a sign.
    """
    from weasyprint import HTML

    try:
        with MissingSigns() as missing:
            document = HTML(string=html, base_url=f"{HOME}/", url_fetcher=fetcher(build, files))
            content = document.write_pdf(pdf_variant=VARIANT)
    except Exception as error:  # the engine raises many kinds; whoever asked gets one sentence
        log.exception("A paper could not be rendered")
        raise PaperError(
            "The paper could not be made into a PDF. Tell the person who looks after this site."
        ) from error
    if must_have_fonts and missing.found:
        raise PaperError("The paper holds a sign that no font here has, in a name or a sentence. Write it otherwise.")
    return content


def files_of(build):
    """Addresses of this build that a paper may show, with their files: photos without the client, signatures."""
    return {**photo_files(build), **signing.files(build)}


def fetcher(build=None, files=None):
    """A fetcher for WeasyPrint that opens static files and this build's photos and signatures only."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    files = files_of(build) if files is None else files

    class OwnFilesOnly(URLFetcher):
        def fetch(self, url, headers=None):
            path = own_file(url, files)
            kind = mimetypes.guess_type(path)[0] or "application/octet-stream"
            return URLFetcherResponse(url, Path(path).read_bytes(), {"Content-Type": kind})

    return OwnFilesOnly()


def own_file(url, photos=None):
    """The file behind an address of ours; any other address is refused."""
    if not url.startswith(f"{HOME}/"):
        raise ValueError(f"Papers fetch nothing from {url[:80]}")
    path = unquote(urlsplit(url).path)
    if photos and path in photos:
        return photos[path]
    if not path.startswith(settings.STATIC_URL):
        raise ValueError(f"Papers fetch nothing from {path[:80]}")
    return static_file(path.removeprefix(settings.STATIC_URL))


def static_file(name):
    """A static file by its plain name, or by the hashed name it has in production."""
    try:
        found = finders.find(name)
        if not found and staticfiles_storage.exists(name):
            found = staticfiles_storage.path(name)
    except SuspiciousFileOperation as error:
        raise ValueError("Papers fetch nothing from outside the static files") from error
    if not found:
        raise ValueError(f"There is no static file {name[:80]}")
    return found


def photo_files(build):
    """Addresses of this build's photos that show no client, with their files."""
    if build is None:
        return {}
    found = {}
    for photo in build.photos.all():
        if photo.struck_at is None and not photo.shows_client:
            try:
                found[reverse("photo", args=[build.number, photo.pk])] = photo.file.path
            except NoReverseMatch:
                return {}
    return found


def write_whole(path, content):
    """Write a file so that it is there whole or not at all."""
    path = Path(path)
    handle, waiting = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(waiting, path)
    except BaseException:
        Path(waiting).unlink(missing_ok=True)
        raise


def put_paper(path, content):
    """Write a paper, and take away the one that it was before: a draft never lies beside what may leave, or instead."""
    path = Path(path)
    write_whole(path, content)
    is_draft = path.name.startswith(f"{DRAFT}-")
    path.with_name(path.name.removeprefix(f"{DRAFT}-") if is_draft else f"{DRAFT}-{path.name}").unlink(missing_ok=True)


def file_name(build, kind, *, configuration=None, copy_number=None, draft=False):
    """A file name without personal data: B-0007-use-guide-c3-copy2.pdf. A draft says so before anything else."""
    words = [*([DRAFT] if draft else []), build.number, str(kind).replace("_", "-")]
    if configuration is not None:
        words.append(f"c{configuration.number}")
    if copy_number is not None:
        words.append(f"copy{copy_number}")
    return "-".join(words) + ".pdf"
