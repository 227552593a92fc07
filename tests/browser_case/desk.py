"""The coordinator's part before the bench: the lab, its people, one case up to its clearance, the unit."""

import datetime
from zoneinfo import ZoneInfo

LAB_ZONE = "America/Chicago"
UNIT_TYPE = "Two-motor ride-on, 12 V, single seat"
PASSWORDS = {
    "cora": "quarry-lantern-58",
    "bo": "willow-hinge-4410",
    "olu": "gravel-kettle-9021",
    "rhea": "marble-otter-3377",
}
PEOPLE = {
    "bo": ("Bo Lind", "Works as builder"),
    "olu": ("Olu Marsh", "Works as builder"),
    "rhea": ("Rhea Voss", "Works as reviewer"),
}


def day(days):
    """So many days after today in the lab, which in its evening is not the server's day."""
    return (datetime.datetime.now(ZoneInfo(LAB_ZONE)).date() + datetime.timedelta(days=days)).isoformat()


def lab_settings(cora):
    cora.follow("Lab settings")
    cora.fill("Lab name", "Alder Creek Adaptive Equipment Lab").fill("Lab phone", "555 0142")
    cora.fill("Hours when the phone is answered", "Monday to Friday, 9:00 to 17:00")
    cora.fill("What a family does outside these hours", "Stop using the equipment and leave a message")
    cora.fill("Emergency number of your country or region", "911")
    cora.select("Time zone", LAB_ZONE).select("Paper size", "Letter").select("Units", "Metric (kg, cm)")
    cora.press("Save the lab settings").sees("The lab settings are saved.")


def make_accounts(cora):
    """Adds everybody, and returns each one-time password as the page shows it once."""
    handed_over = {}
    for username, (full_name, role) in PEOPLE.items():
        cora.follow("Accounts").follow("Add an account")
        cora.fill("Full name", full_name).fill("Sign-in name", username).tick(role)
        cora.press("Add the account").sees(f"Password for {full_name}")
        handed_over[username] = cora.page.get_by_role("code").nth(1).inner_text()
    return handed_over


def first_sign_in(person, username, one_time):
    """A password that somebody else chose has to be changed before anything else."""
    person.sign_in(username, one_time)
    person.change_password(one_time, PASSWORDS[username])


def referral(cora):
    cora.open("/").follow("Take a referral")
    cora.fill("Client's given name", "Mirela").fill("Client's family name", "Castellan")
    cora.fill("Birth date", "2021-05-09").fill("Date received", day(-20)).choose("Who referred", "Therapist")
    cora.fill("Referrer's name", "Joanna Pell")
    cora.fill("Reason, in the referrer's words", "Wants to move about with other children.")
    cora.choose("Level of need", "Medium").press("Open the case").sees("C-1001")
    cora.sees("Add a caregiver: whom to call", "Assessment needs the consent to the service.").follow("Move the case")
    cora.fill("Reason", "The mother was reached by phone").press("Move the case").sees("C-1001 is at Intake.")


def intake(cora):
    cora.do_next("Add a caregiver")
    for name, relation, first in (("Elena Castellan", "Mother", True), ("Stefan Castellan", "Grandfather", False)):
        cora.fill("Name", name).fill("Relation to the client", relation).fill("Phone", "555 0118")
        cora.select("Language", "English").choose("Interpreter needed", "No").choose("Reads best in", "Normal print")
        cora.tick("Will supervise the client in use", *(["First to be called"] if first else []))
        cora.press("Add the caregiver")
        if first:
            cora.follow("Add a caregiver")
    cora.follow("Change the hours and the storage")
    cora.fill("An adult is up from", "06:30").fill("The last adult goes to bed at", "22:00")
    cora.fill("Usual time they come in and can plug in", "15:30")
    for question in ("Socket where it is stored", "Storage is dry", "Storage can be locked"):
        cora.choose(question, "Yes")
    cora.press("Save the hours")
    cora.follow("Add a place").select("Kind of place", "Yard or garden").fill("What the family calls it", "Yard")
    cora.fill("Steepest slope", "3.5").fill("Street, water, stairs or other hazards near", "Steps to the cellar")
    cora.press("Add the place")
    cora.do_next("Record the consent to the service")
    consent(cora, "The service itself")
    for purpose in ("Taking and keeping measures", "Photos for the record"):
        cora.follow(f"Record {purpose}")
        consent(cora, purpose)
    cora.do_next("Move the case to Assessment").press("Move the case")


def consent(cora, purpose):
    cora.choose("Purpose", purpose).choose("Answer", "Consent given").fill("Version of the form", "2026-1")
    cora.fill("Signed by", "Elena Castellan").press("Record the consent")


def assessment(cora):
    cora.do_next("Measure the client")
    measures(cora)
    cora.do_next("Record the access profile")
    cora.choose("Side of the control", "Occupant's right").choose("Purpose of that side", "Training of the weaker hand")
    cora.choose("Access site", "Hand").choose("Access method", "Stick pushed in a direction")
    cora.choose("Lets go on request", "Yes").fill("How the release was tested", "Nine times of ten, in a game")
    cora.fill("Tires after", "15").fill("How the client says stop or enough", "Turns the head away")
    cora.press("Save the access profile")
    cora.do_next("Record the sitting level")
    cora.choose("Sitting level", "Level 4: suggests pelvic support").fill("Level given by", "Joanna Pell")
    cora.fill("Date of the level", day(-6)).untick_all("Supports decided on")
    cora.tick("Pelvic support", under="Supports decided on").tick("The supports are decided")
    cora.press("Save sitting and supports")
    cora.do_next("Answer the cautions")
    cautions(cora)
    cora.do_next("Agree a goal").fill("Goal, in the family's words", "Goes to the sandpit with the others")
    cora.fill("Expected level (0)", "Drives there with one reminder")
    cora.choose("Importance to the family", "3, most").choose("Difficulty", "2").press("Add the goal")
    cora.do_next("Move the case to Clearance").press("Move the case")


def measures(cora):
    """Pounds, feet and inches beside centimetres, as people have them on their tapes."""
    cora.fill("Mass", "35 lb").fill("Stature", "3 ft 6 in").fill("Seat width", "24").fill("Seat depth", "11 in")
    cora.fill("Elbow height", "16 cm").fill("Instrument", "Tape and chair scale")
    cora.fill("Supports worn while measured", "None")
    cora.fill("Reach on the occupant's right, without compensation", "34")
    cora.fill("Reach on the occupant's left, without compensation", "36 cm")
    cora.press("Save the measures").sees("The measures are saved.", "15.9 kg", "107 cm")


def cautions(cora):
    for answer in cora.page.get_by_role("group").all():
        answer.get_by_label("No", exact=True).check()
    cora.choose("Seizures", "Yes").fill("Seizures: what is done about it", "Rescue medicine in the adult's pocket")
    cora.choose("Shunt", "Unknown").press("Save the cautions")


def clearance(cora):
    cora.do_next("Clearance: record the clearance")
    cora.fill("Clinician's name", "Dr. Imre Solt").fill("Profession and registration", "Physiotherapist, 40817")
    cora.choose("Kind of equipment cleared", "Ride-on that the client drives")
    cora.choose("Side cleared", "Control on either side").fill("Greatest speed", "2 mph").fill("Longest session", "12")
    cora.tick("Pelvic support", under="Supports that must be fitted")
    cora.tick("Yard or garden", "Clinic or lab", under="Places cleared")
    cora.fill("Last day of the clearance", day(180)).press("Record the clearance")
    cora.do_next("Move the case to Plan").press("Move the case").sees("C-1001 is at Plan.")


def unit_and_power(cora):
    cora.follow("Base units").follow("Types of unit").follow("Add a type")
    cora.fill("Name of the type", UNIT_TYPE).select("Kind", "Ride-on with two drive motors")
    cora.fill("Rated load", "65 lb").fill("Own mass", "16 kg").place("Middle of its own mass", "30", "0", "22")
    cora.select("Wheels", "Four wheels").fill("Track (left to right wheel)", "44")
    cora.fill("Wheelbase (front to rear wheel)", "62").fill("Drive wheel diameter", "24")
    cora.fill("Number of drive motors", "2").fill("Motor running current", "5").fill("Motor stall current", "28 A")
    cora.fill("Battery voltage", "12").fill("Battery capacity", "12 Ah").select("Battery chemistry", "Sealed lead-acid")
    cora.fill("Charger current", "1.5").select("Charger is made for", "Sealed lead-acid").press("Save the type")
    cora.follow("Base units").follow("Add a unit")
    cora.fill("Equipment number", "U-201").select("Type", UNIT_TYPE)
    cora.select("Donated or purchased", "Donated").fill("Date received", day(-9)).fill("Cost", "0")
    cora.press("Save the unit").follow("Change the unit").select("Recall", "Looked up, no recall found")
    cora.fill("Recall looked up on", day(0)).fill("Where the recall was looked up", "National list")
    cora.press("Save the unit")
    cora.follow("Base units").follow("Batteries").follow("Add a battery")
    cora.fill("Battery number", "BAT-7").select("Chemistry", "Sealed lead-acid").fill("Voltage", "12")
    cora.fill("Capacity", "12").fill("Hours rate of that capacity", "20").fill("Mass", "3.9").press("Save the battery")
    cora.follow("Chargers").follow("Add a charger")
    cora.fill("Charger number", "CH-5").select("Made for", "Sealed lead-acid").fill("Voltage", "12")
    cora.fill("Current", "3").select("Stops by itself when full", "Yes")
    cora.fill("Light while charging", "red").fill("Light when full", "green").press("Save the charger")


def start_build(cora):
    cora.open("/clients/").follow("C-1001").do_next("Plan a build")
    cora.select("Build plan", "One-hand stick on a two-motor ride-on, revision 4")
    cora.select("Base unit", f"U-201, {UNIT_TYPE}")
    cora.tick("Bo Lind", "Olu Marsh", under="Builders").select("Reviewer", "Rhea Voss").press("Start the build")
    cora.sees("Build B-0001 is started.")
    cora.do_next("Move on to Incoming test").press("Move to Incoming test")
