"""A person in front of a browser. Controls are found by what the page shows: labels, legends, words of links."""

from io import BytesIO

from PIL import Image

from tests.browser import is_trouble

REFUSED = "Check what you entered"


def picture(words="unit", colour="#d8d2c4"):
    """A small drawn photo, as a camera would hand it over."""
    held = BytesIO()
    Image.new("RGB", (320, 240), colour).save(held, "JPEG")
    return {"name": f"{words}.jpg", "mimeType": "image/jpeg", "buffer": held.getvalue()}


class Person:
    """Somebody with an account, in a browser of their own."""

    def __init__(self, browser, url, width=1280):
        self.url = url
        self.context = browser.new_context(viewport={"width": width, "height": 900}, reduced_motion="reduce")
        self.page = self.context.new_page()
        self.trouble = []
        self.page.on("console", lambda message: self.trouble.append(message.text) if is_trouble(message) else None)
        self.page.on("pageerror", lambda error: self.trouble.append(str(error)))

    # --- going about

    def open(self, address="/"):
        answer = self.page.goto(self.url + address)
        assert answer.status == 200, f"{address} answered {answer.status}"
        return self

    def follow(self, words, within=None):
        """Click a link; `words` as it is read out, from its beginning."""
        link = (within or self.page).get_by_role("link", name=words).first
        with self.page.expect_navigation():
            link.click()
        return self.looks_whole()

    def press(self, words, within=None):
        """Press a button that sends something, and go where it leads. A refusal is an error of the test."""
        button = (within or self.page).get_by_role("button", name=words).first
        with self.page.expect_navigation() as sent:
            button.click()
        refused = self.page.get_by_role("alert").filter(has_text=REFUSED)
        assert not refused.count(), f"{self.heading}: {refused.inner_text()}"
        assert sent.value.status == 200, f"{words}: answered {sent.value.status}: {self.text[:600]}"
        return self.looks_whole()

    def press_refused(self, words):
        """Press a button and be refused; what the page says about it."""
        with self.page.expect_navigation() as sent:
            self.page.get_by_role("button", name=words).first.click()
        assert sent.value.status == 422, f"{words}: answered {sent.value.status}, not refused"
        return self.page.get_by_role("alert").inner_text()

    def looks_whole(self):
        """Notes a page that scrolls sideways; the test looks at the notes at its end."""
        if self.page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth"):
            self.trouble.append(f"scrolls sideways: {self.page.url}")
        return self

    def send(self, address):
        """Send to an address that the page offers no button for, with this page's own token against forgery."""
        token = self.page.locator("input[name=csrfmiddlewaretoken]").first.input_value()
        return self.context.request.post(
            self.url + address, form={"csrfmiddlewaretoken": token}, headers={"Referer": self.page.url}
        )

    # --- what is filled in

    def group(self, legend):
        return self.page.get_by_role("group", name=legend, exact=True)

    def fill(self, label, typed, within=None):
        (within or self.page).get_by_label(label, exact=True).fill(typed)
        return self

    def choose(self, legend, option):
        """A round button of a question."""
        self.group(legend).get_by_label(option, exact=True).check()
        return self

    def select(self, label, option):
        self.page.get_by_label(label, exact=True).select_option(label=option)
        return self

    def tick(self, *labels, under=None):
        for label in labels:
            (self.group(under) if under else self.page).get_by_label(label, exact=True).check()
        return self

    def untick_all(self, legend):
        for box in self.group(legend).get_by_role("checkbox").all():
            box.uncheck()
        return self

    def place(self, legend, forward, left, up):
        """Where something sits: three boxes under one legend."""
        boxes = {"Forward of the rear axle": forward, "To the occupant's left": left, "Up from the ground": up}
        for label, typed in boxes.items():
            self.fill(label, typed, within=self.group(legend))
        return self

    def attach(self, label, file=None):
        self.page.get_by_label(label, exact=True).set_input_files(file or picture())
        return self

    # --- what is read

    @property
    def heading(self):
        return self.page.get_by_role("heading", level=1).inner_text()

    @property
    def text(self):
        return self.page.get_by_role("main").inner_text()

    def sees(self, *words):
        for one in words:
            assert one in self.text, f"{self.heading}: does not say {one!r}"
        return self

    def next_step(self):
        """What the page names as the one next thing."""
        return self.page.get_by_role("heading", name="Next", exact=True).locator("xpath=following-sibling::p[1]")

    def do_next(self, words=""):
        """Follow the one next thing, which must begin with these words."""
        told = self.next_step().inner_text()
        assert told.startswith(words), f"Next is {told!r}, not {words!r}"
        with self.page.expect_navigation():
            self.next_step().get_by_role("link").click()
        return self

    def ticket(self):
        """The ticket of the one build, by its number."""
        return self.open(f"/builds/{self.build}/")

    build = "B-0001"

    # --- the door

    def sign_in(self, username, password):
        self.open("/sign-in/")
        return self.fill("Sign-in name", username).fill("Password", password).press("Sign in")

    def change_password(self, old, new):
        self.fill("Password now", old).fill("New password", new).fill("New password, once more", new)
        return self.press("Change the password")

    def download(self, words):
        """The file behind a link of this page."""
        address = self.page.get_by_role("link", name=words).first.get_attribute("href")
        answer = self.context.request.get(self.url + address)
        assert answer.status == 200, f"{words}: answered {answer.status}"
        return answer.body()
