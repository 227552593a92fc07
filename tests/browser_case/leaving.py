"""The last stretch: papers, teach-back, terms, contacts, the signed sheet; and what the kept papers say."""

from io import BytesIO

from pypdf import PdfReader

from tests.browser_case import bench, desk
from tests.browser_case.pages import picture

PAPERS = ("use guide", "charging guide", "supervision card", "hand-off sheet", "as-built record")
ADULTS = ("Elena Castellan", "Stefan Castellan")


def hand_over(cora):
    terms(cora)
    cora.ticket().follow("Contacts with the family").press("Add the usual dates").sees("The first contacts are dated.")
    cora.ticket().follow("Papers")
    for paper in PAPERS:
        cora.follow(f"Issue a copy of the {paper}").fill("Given to", ADULTS[0]).press("Issue a copy")
    teach(cora)


def terms(cora):
    cora.ticket().follow("Hand-off", within=work_of(cora)).follow("Change the hand-off")
    cora.choose("Loan or gift", "Open-ended loan: the lab may ask for it back")
    cora.fill("Date of the hand-off", desk.day(0)).press("Save the hand-off")


def work_of(person):
    return person.page.get_by_role("region", name="The work, in the order of the path")


def teach(cora):
    """Each adult shows or says each item. How many tries that took."""
    cora.ticket().follow("Teach-back")
    items = cora.page.get_by_role("link", name="Record a try of").all()
    addresses = [one.get_attribute("href") for one in items]
    for address in addresses:
        cora.open(address).choose("Right this time", "Yes, right without help").press("Record this try")
    cora.sees("Every supervising adult has shown or said every item.")
    assert len(addresses) == len(ADULTS) * 8


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


def kept_papers(cora):
    """The text of every kept PDF, by its kind, white space joined."""
    cora.ticket().follow("Papers")
    return {paper: text_of(cora.download(f"Copy 1 of the {paper}")) for paper in PAPERS}


def text_of(pdf):
    return " ".join(" ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages).split())
