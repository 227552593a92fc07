"""Papers are read by whoever may see the build; what names the family, by the coordinator and the director only."""

from django.core.files.base import ContentFile

from builds.demo.factories.papers import settle
from builds.papers.models import DrawnSignature, IssuedPaper, PaperKind, TeachBack
from tests.access.record import DESK, READS, done, refused
from tests.access.rows import row

ORDER = 45
IDENTITY = {**READS, "builder": 403, "reviewer": 403}
SHEET = "hand_off_sheet"

ROWS = [
    row("papers", **READS),
    row("paper_view", **READS),
    row("paper_pdf", **READS, page=False),
    row("paper_numbers", **READS),
    row("paper_pdf", query="?size=a5", page=False, **refused(READS)),
    row("paper_issue", **DESK),
    row("paper_issue", "POST", **refused(DESK)),
    row("issued_paper", **READS, page=False),
    row("paper_collect", "POST", **done(DESK)),
    row("papers_reprint", "POST", **done(DESK)),
    row("hand_off_sign", **DESK),
    row("hand_off_sign", "POST", **refused(DESK)),
    row("hand_off_signature", **IDENTITY, page=False),
    row("teach_back", **IDENTITY),
    row("teach_back_try", **DESK),
    row("teach_back_try", "POST", **refused(DESK)),
    row("teach_back_strike", **DESK),
    row("teach_back_strike", "POST", **refused(DESK)),
    row("hand_off", **IDENTITY),
    row("hand_off_edit", **DESK),
    row("hand_off_edit", "POST", **refused(DESK)),
    row("signed_sheet_add", **DESK),
    row("signed_sheet_add", "POST", **refused(DESK)),
    row("signed_sheet", **IDENTITY, page=False),
]


def arguments(world):
    build, account = world.build, world.coordinator
    paper = IssuedPaper(
        build=build, kind=PaperKind.USE_GUIDE, configuration=build.configuration(), copy_number=1, size="letter",
        digest="0" * 64, made_by=account,
    )  # fmt: skip
    paper.file.save("paper.pdf", ContentFile(b"%PDF-1.7\n%%EOF\n"), save=False)
    paper.save(force_insert=True)
    adult = build.client.caregivers.get()
    first = TeachBack.objects.create(
        build=build, configuration=build.configuration(), adult=adult, item="stop", how="shown", right=True,
        made_by=account,
    )  # fmt: skip
    kept = settle(build, account)
    kept.signed_sheet.save("sheet.pdf", ContentFile(b"%PDF-1.7\n%%EOF\n"), save=False)
    kept.signed_sheet_type = "application/pdf"
    kept.save(update_fields=["signed_sheet", "signed_sheet_type"])
    number = {"number": build.number}
    guide = {**number, "kind": "use_guide"}
    signed = DrawnSignature(paper=paper, adult=adult, paper_digest=paper.digest, made_by=account)
    signed.image.save("signature.png", ContentFile(b"PNG"), save=False)
    signed.save(force_insert=True)
    plain = (
        "papers", "papers_reprint", "teach_back", "hand_off", "hand_off_edit", "hand_off_sign", "signed_sheet",
        "signed_sheet_add",
    )  # fmt: skip
    return {
        **dict.fromkeys(plain, number),
        **dict.fromkeys(("paper_view", "paper_pdf", "paper_issue", "paper_numbers"), guide),
        **dict.fromkeys(("issued_paper", "paper_collect"), {**number, "pk": paper.pk}),
        "teach_back_try": {**number, "adult": adult.pk, "item": "stop"},
        "teach_back_strike": {**number, "pk": first.pk},
        "hand_off_signature": {**number, "pk": signed.pk},
    }
