"""The last stretch: papers, teach-back, terms, contacts, the signed sheet; and what the kept papers say."""

from io import BytesIO

from pypdf import PdfReader

from tests.browser_case import bench, desk
from tests.browser_case.pages import picture

PAPERS = ("use guide", "charging guide", "supervision card", "hand-off sheet", "as-built record")
ITEMS = 8  # of teach-back in the plan
ADULTS = ("Elena Castellan", "Stefan Castellan")


def hand_over(cora):
    contacts = "Hand-off. Still needed: The first contacts with the family are dated."
    cora.ticket().do_next(f"{contacts} Enter the date of the hand-off first.")
    terms(cora)
    cora.ticket().do_next(contacts).press("Add the usual dates").sees("The first contacts are dated.")
    cora.ticket().do_next("Hand-off. Still needed: Use guide of the current configuration is issued")
    for paper in PAPERS:
        cora.follow(f"Issue a copy of the {paper}").fill("Given to", ADULTS[0]).press("Issue a copy")
    teach(cora)


def terms(cora):
    cora.follow("Change the hand-off")
    cora.choose("Loan or gift", "Open-ended loan: the lab may ask for it back")
    cora.fill("Date of the hand-off", desk.day(0)).press("Save the hand-off")


def work_of(person):
    return person.page.get_by_role("region", name="The work, in the order of the path")


def teach(cora):
    """Each adult shows or says each item; one page leads to the next."""
    cora.ticket().do_next("Hand-off. Still needed: Teach-back is passed by every supervising adult")
    for adult in ADULTS:
        cora.follow(f"Record a try of {adult}")
        for _ in range(ITEMS):
            cora.sees(adult).choose("Right this time", "Yes, right without help")
            cora.press("Record and go to the next item")
    cora.sees("Every supervising adult has shown or said every item.")


def sign(cora):
    cora.ticket().follow("Hand-off", within=work_of(cora)).follow("Add the signed sheet")
    cora.attach("Scan or photo of the signed sheet", picture("signed")).press("Keep the signed sheet")
    cora.follow("Change the hand-off").fill("Signed by", " and ".join(ADULTS)).press("Save the hand-off")


def leave(cora, bo, rhea):
    bench.ask(bo, "Hand-off")
    bench.release(rhea, "Hand-off")
    sign(cora)
    bench.move_on(cora, "In use")
    cora.sees("In use since")
    assert "Call the family on" in cora.next_step().inner_text()
    cora.open("/clients/C-1001/").do_next("The equipment is with the family: build B-0001.").sees("In use since")


def kept_papers(cora):
    """The text of every kept PDF, by its kind, white space joined."""
    cora.ticket().follow("Papers")
    return {paper: text_of(cora.download(f"Copy 1 of the {paper}")) for paper in PAPERS}


def text_of(pdf):
    return " ".join(" ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages).split())
