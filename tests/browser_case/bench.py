"""The builder's part, the second person's and the reviewer's: from the incoming test to the fitting."""

from builds.engineering.proving import LINES, expected_wheels
from tests.browser_case.pages import picture

# What a sound unit reads, as it would be typed; by the label of the reading.
READINGS = {
    "Open-circuit voltage": "12.9",
    "Voltage under load": "11.6 V",
    "Charger voltage": "14.4",
    "Distance to stop as bought": "55 in",
    "Current without load": "1.6",
    "Current loaded": "4.8 A",
    "Wire from post to fuse": "4.5 in",
    "Greatest resistance of a run": "200 mohm",
    "Resistance from plus to minus": "4700",
    "Supply current at rest": "120 mA",
    "Quiescent current": "0.4",
    "Stall current of one motor": "27",
    "Voltage at which it stops": "9.4",
    "Controller surface": "41",
    "Motor and battery surface": "46 degC",
    "Hottest wire or connector": "38",
    "Ballast": "40 lb",
    "Fastest run": "0.67",
    "Slope reached": "18",
    "Force to start rolling": "38 N",
}
NOT_READINGS = {"Instrument", "Note", ""}


def open_step(person):
    """The step that is open on the page of a section, or None when all are done."""
    record = person.page.get_by_role("button", name="Record", exact=True)
    return person.page.get_by_role("listitem").filter(has=record) if record.count() else None


def pass_step(person, step):
    said = step.inner_text()
    person.choose("Outcome", "Passed")
    for box in step.get_by_role("textbox").all():
        label = box.evaluate("box => box.labels[0].innerText")
        if label not in NOT_READINGS:
            box.fill(READINGS[label])
            if not person.page.get_by_label("Instrument", exact=True).input_value():
                person.fill("Instrument", "Bench meter 2")
    if "the note says none" in said:
        person.fill("Note", "None")
    if "Client can be seen" in said or "The client can be seen in the photo" in said:
        person.choose("The client can be seen in the photo", "No")
    if "Needs a photo to pass" in said or "Photos all round" in said:
        person.attach("Photo", picture("step"))
    with person.page.expect_navigation() as sent:
        person.page.get_by_role("button", name="Record", exact=True).click()
    assert sent.value.status == 200, f"{said[:80]}: {person.page.get_by_role('alert').inner_text()}"


def work_through(person, words):
    """From the ticket to the section that it names, and on until nothing in it is open. How many steps it took."""
    person.ticket().do_next(words)
    done = 0
    while step := open_step(person):
        pass_step(person, step)
        done += 1
    person.sees("Every step here is done.")
    return done


def ask(builder, hold):
    builder.ticket().do_next(f"Ask a reviewer to release {hold}").press("Ask a reviewer to look")
    builder.sees(f"A reviewer has been asked for {hold}.")


def release(reviewer, hold):
    reviewer.open("/").sees("To review").follow(hold).sees("Conditions: all met")
    reviewer.press(f"Release {hold}").sees(f"{hold} is released.")


def move_on(person, stage):
    person.ticket().do_next(f"Move on to {stage}").press(f"Move to {stage}").sees(f"Build B-0001 is at {stage}.")


def incoming_test(bo, rhea):
    assert work_through(bo, "Incoming test: I1") == 11
    bo.ticket().do_next("Sound unit. Not known yet: Battery and charger are known")
    bo.follow("Change the configuration").select("Battery", "BAT-7").select("Charger", "CH-5")
    bo.fill("What changed, and why", "Battery and charger that go with this unit")
    bo.press("Make the next configuration").sees("Configuration 2 is in use.")
    ask(bo, "Sound unit")
    release(rhea, "Sound unit")
    move_on(bo, "Teardown")


def teardown(bo):
    assert work_through(bo, "Teardown: T1") == 6
    bo.ticket().follow("Restore kit")
    for name, side in (("Foot pedal with its wire", "Occupant's right"), ("Speed switch", "Neither")):
        bo.follow("Add what was taken out").fill("What was taken out", name).fill("How many", "1")
        bo.choose("Side it came from", side).fill("Where it lies", "Shelf 3, box 12").press("Add it")
    bo.follow("Say whether it is complete").fill("Where the kit lies", "Shelf 3, box 12")
    bo.choose("Kit complete", "Yes").press("Save the kit")
    move_on(bo, "Adaptation")


def adaptation(bo):
    assert work_through(bo, "Adaptation: A1") == 11
    weigh(bo)
    measure_fuses(bo)


def weigh(bo):
    bo.ticket().follow("Parts used (BOM)").follow("Weigh and place the parts")
    for legend in bo.page.get_by_role("group", name="Where it sits").all():
        for label, typed in (
            ("Forward of the rear axle", "12 in"), ("To the occupant's left", "-2"), ("Up from the ground", "30"),
        ):  # fmt: skip
            bo.fill(label, typed, within=legend)
    for mass in bo.page.get_by_label("Mass of each", exact=True).all():
        if not mass.input_value():
            mass.fill("2 lb 4 oz")
    bo.press("Save masses and places").sees("Masses and places are saved.")


def measure_fuses(bo):
    """The plan leaves open where the fuses sit; the ticket leads to the harness."""
    bo.ticket().do_next("First power. Not known yet:")
    bo.follow("Change fuse F1").fill("Wire from the battery's positive post to the fuse", "4.5 in")
    bo.select("That wire is sheathed all the way", "No").press("Save")
    bo.follow("Change fuse F2").fill("Wire from the battery's positive post to the fuse", "0")  # it lies behind F1
    bo.select("That wire is sheathed all the way", "No").press("Save")


def check_wiring(person, page):
    """Every run that waits in this round, one after the other. How many there were."""
    person.ticket().follow(page)
    waiting = person.page.get_by_role("link", name="Check run").count()
    person.follow("Check run")
    for _ in range(waiting):
        for what in ("Terminated at both ends", "Labelled at both ends", "Continuity", "Polarity", "Strain relief"):
            person.choose(what, "Right")
        person.press("Save and go to the next run")
    return waiting


def first_power(bo, olu, rhea):
    told = "First power. Not known yet: Every wire run is terminated at both ends. Not checked by the {} person yet"
    bo.ticket().sees("Builder").do_next(told.format("first"))
    assert check_wiring(bo, "Wire checks") == 17
    olu.ticket().sees("Second person, who did no work on it").do_next(told.format("second"))
    assert check_wiring(olu, "Second-person check") == 17
    ask(bo, "First power")
    release(rhea, "First power")
    move_on(bo, "Commissioning")


def commissioning(bo, rhea, cora):
    configure(bo)
    bo.ticket().do_next("Commissioning: C1")
    while not open_step(bo).get_by_role("heading", name="C7").count():
        pass_step(bo, open_step(bo))
    calibrate(bo)
    prove(bo)
    assert work_through(bo, "Commissioning: C7") == 23 - 6
    first_ride(bo, rhea, cora)


def first_ride(bo, rhea, cora):
    """An unknown caution holds the ride until somebody has asked the family."""
    asked = "First ride. Not known yet: Every caution is answered, and each yes has a plan. Unknown or not asked: Shunt"
    cora.ticket().do_next(asked)
    cora.follow("Answer the cautions").choose("Shunt", "No").press("Save the cautions")
    bo.ticket().do_next("First ride. Not known yet: The ceiling in use is measured by timed runs")
    bo.follow("Record timed runs").fill("Distance between the marks", "5 m").fill("Times", "7.6 7.5 7.7")
    bo.fill("Position of the speed selector", "slow").fill("Ballast on the seat", "40 lb").fill("Surface", "Lab floor")
    bo.tick("This is the ceiling in use").press("Keep the runs")
    bo.ticket().do_next("First ride. Not known yet: Every ceiling of the selector is measured by timed runs")
    bo.follow("Record timed runs").fill("Distance between the marks", "5 m").fill("Times", "6.3 6.2 6.3")
    bo.fill("Position of the speed selector", "medium").fill("Ballast on the seat", "40 lb")
    bo.page.get_by_label("This is the ceiling in use", exact=True).uncheck()
    bo.press("Keep the runs")
    measure_stops(bo)
    ask(bo, "First ride")
    release(rhea, "First ride")
    move_on(bo, "Fitting")


def measure_stops(bo):
    """On the floor, and down the 3.5 degrees of the yard."""
    bo.ticket().do_next("First ride. Not known yet: Coast or brake is measured on the floor, and down the steepest")
    for where, distance in (("Level floor", "20 cm"), ("Down a slope", "28 cm")):
        bo.follow("Measure how it comes to stand").choose("Where", where)
        bo.fill("Speed at letting go", "0.66 m/s").choose("After letting go it", "Came to stand, and stayed")
        bo.fill("Distance from letting go to standing still", distance)
        bo.choose("When the signal ended, the motor controllers", "Brake").fill("Ballast on the seat", "40 lb")
        bo.press("Keep the measurement").sees("The measurement is kept.")


WHEEL = {"forward": "Forward", "backward": "Backward", "still": "Still"}
SEEN = {"left+": "Left wheel, forward", "right+": "Right wheel, forward", "y+": "The forward value rises (y+)",
        "x+": "The sideways value rises (x+)"}  # fmt: skip


def prove(bo):
    """Line by line, wheels up, as a sound drive with the gains of this configuration shows it."""
    bo.ticket().do_next("C7: go through the proving run").follow("Begin a proving run")
    bo.fill("Supply, and the limit of its current", "Bench supply, 12 V, limited to 2 A").press("Begin")
    for line in LINES:
        assert bo.heading == line.title
        if line.kind == "wheels":
            left, right = expected_wheels(push=line.push, turn_gain=0.7, reverse_gain=0.5)
            bo.choose("The wheel on the occupant's left", WHEEL[left[0]])
            bo.choose("The wheel on the occupant's right", WHEEL[right[0]])
        elif line.kind == "stop":
            bo.choose("What it did", "Both wheels stopped, and stayed still")
            if line.timed:
                bo.fill("Time to stop", "0.4 s")
        else:
            bo.choose("What turned" if line.kind == "channel" else "What moved", SEEN[line.wanted])
        bo.press("Keep it, and on to the next")
    bo.sees("Passed", f"{len(LINES)} of {len(LINES)} lines.")


def set_drive(bo):
    """The controller's part of the configuration."""
    bo.choose("Speed selector fitted", "Yes")
    bo.fill("Positions of the speed selector with their ceilings", "slow; 40 %; 0.7 m/s\nmedium; 50 %; 0.85 m/s")
    for label, typed in (
        ("Rise of the command", "1"), ("Fall of the command while the stick is eased", "4"), ("Reverse gain", "0.5"),
        ("Turn gain", "0.7"), ("Expo shape", "0.3"), ("Neutral pulse, left", "1500"), ("Neutral pulse, right", "1500"),
        ("Span of the pulse", "400"), ("Lowest possible reading of the stick", "51"),
        ("Highest possible reading of the stick", "972"),
    ):  # fmt: skip
        bo.fill(label, typed)
    bo.choose("When the signal ends, the motor controllers", "Brake")
    bo.select("Left motor controller inverted", "No").select("Right motor controller inverted", "Yes")


def set_arm(bo):
    for label, typed in (
        ("Arm on the right: path along its pieces", "40 cm"), ("Arm on the right: foot to control, level", "28 cm"),
        ("Length that one piece of the arm adds", "4 cm"), ("Mass of one piece of the arm", "25 g"),
        ("Mass of the control on the arm", "220 g"), ("Downward force of the hand on the control", "12 N"),
        ("Moment that the foot of the arm holds", "11 N*m"),
    ):  # fmt: skip
        bo.fill(label, typed)
    bo.select("Where that moment is from", "Measured on this arm")


def configure(bo):
    """What is set for this client on this unit; a person types it once, in whatever unit the tape has."""
    bo.ticket().do_next("Set the configuration before commissioning").follow("Change the configuration")
    bo.select("Arm", "Fixed on this side").fill("Speed ceiling in use", "0.7 m/s")
    bo.fill("Position of the speed selector", "slow").fill("Mount and where it sits", "Jointed arm on the side rail")
    bo.fill("Seat", "Bought seat with a pelvic belt").tick("Pelvic support", under="Supports fitted")
    bo.fill("Battery disconnect within the adult's reach: what it is and where", "Pull plug behind the seat")
    bo.fill("Stop switch, and where it is", "on the push handle, the red knob")
    bo.fill("Power switch, and where it is", "under the seat, on the right")
    bo.place("Middle of the seated client", "28", "0", "46")
    bo.place("Shoulder of that side, seated", "26", "-13", "62")
    bo.place("Control, where the hand meets it", "16 in", "-5 in", "50")
    set_arm(bo)
    set_drive(bo)
    bo.fill("What changed, and why", "Set for this client").press("Make the next configuration")
    bo.sees("Configuration 3 is in use.")


def calibrate(bo):
    bo.ticket().do_next("Calibrate the stick before C7")
    bo.ticket().follow("Stick calibration")
    for when, rest in (("As found", ("538", "489")), ("As left", ("514", "509"))):
        bo.follow("Record a calibration").choose("As found or as left", when)
        bo.choose("Side of the control", "Occupant's right").fill("Full scale of the converter", "1023")
        for axis, at_rest, low, high in (("Sideways", rest[0], "118", "905"), ("Forward", rest[1], "130", "916")):
            bo.fill(f"{axis} axis at rest", at_rest).fill(f"{axis} axis, lowest", low)
            bo.fill(f"{axis} axis, highest", high).fill(f"{axis} axis, spread at rest", "3")
        bo.choose("The sideways reading, when the stick is pushed to the occupant's right", "Rises")
        bo.choose("The forward reading, when the stick is pushed forward", "Rises")
        bo.fill("Supply voltage", "5 V").fill("Instrument", "Readout of the controller board")
        bo.press("Keep the calibration")
    bo.press("Accept for the client").sees("It made configuration 4.", "At rest both axes command exactly 0.")


def fitting(bo):
    assert work_through(bo, "Fitting: FT1") == 5
    move_on(bo, "Hand-off")
    told_that_it_is_done_at_the_desk(bo)


def told_that_it_is_done_at_the_desk(bo):
    """What is next names the family, so the builder reads whose work it is and gets no link that would be refused."""
    told = bo.ticket().next_step()
    assert told.inner_text().startswith("Hand-off. Still needed: The first contacts with the family are dated.")
    assert told.inner_text().endswith("Lab coordinator")
    assert not told.get_by_role("link").count()
