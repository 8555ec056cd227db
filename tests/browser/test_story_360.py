"""A portrait point by point on a small telephone without scripts, on the live rehearsal."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from relations.consent.models import Form
from relations.consent.states import State
from tests.browser.conftest import PHONE, Opener, scrolls_sideways
from tests.consent import desk

PASSWORDS = {
    "loic": "le scooter du quai",
    "ines": "lumiere de novembre",
    "reader-fr": "lire deux fois fr",
}
READ = {
    "way": "signed",
    "copy_kept": "yes",
    "may_keep": "yes",
    "name_form": "first",
    "place_word": "city",
    "if_cannot_answer": "ask",
    "if_died": "stop",
}
SignIn = Callable[[str], "Phone"]


class Phone:
    """A page of 360 px: what is pressed or typed stands on it, and it never scrolls sideways."""

    def __init__(self, page: Page, site: str) -> None:
        self.page, self.site = page, site

    def go(self, address: str) -> None:
        self.page.goto(self.site + address)
        self.looks_right()

    def follow(self, words: str) -> None:
        self.page.locator("main, .bar").get_by_role("link", name=words).first.click()
        self.looks_right()

    def press(self, words: str) -> None:
        self.page.get_by_role("button", name=words).first.click()
        self.looks_right()

    def type(self, **typed: str) -> None:
        for name, value in typed.items():
            field = self.page.locator(f"main [name='{name}']").first
            if field.evaluate("e => e.tagName") == "SELECT":
                field.select_option(value)
            else:
                field.fill(value)

    def tick(self, name: str, value: str = "") -> None:
        wanted = f"[value='{value}']" if value else ""
        self.page.locator(f"main [name='{name}']{wanted}").first.check()

    def tick_all(self, name: str) -> None:
        for box in self.page.locator(f"main [name='{name}']").all():
            box.check()

    def send(self, name: str, content: bytes, kind: str = "image/png") -> None:
        upload = {"name": "a.png", "mimeType": kind, "buffer": content}
        self.page.locator(f"[name='{name}']").set_input_files([upload])

    def sees(self, words: str) -> None:
        expect(self.page.locator("main")).to_contain_text(words)

    def looks_right(self) -> None:
        expect(self.page.locator("h1")).to_have_count(1)
        assert not self.page.locator(".errsum").count(), self.page.locator(".errsum").inner_text()
        assert not scrolls_sideways(self.page), self.page.url


@pytest.fixture
def sign_in(open_page: Opener, site: str) -> SignIn:
    """A telephone on which somebody has signed in by name and password."""

    def come(username: str) -> Phone:
        phone = Phone(open_page(viewport=PHONE, java_script_enabled=False), site)
        phone.page.goto(f"{site}/in/")
        phone.type(username=username, password=PASSWORDS[username])
        phone.press("Sign in")
        expect(phone.page.locator("nav.bar")).to_be_visible()
        return phone

    return come


def serial_of(state: State) -> str:
    """A paper of the rehearsal in this state."""
    return Form.objects.filter(state=state).exclude(person=None).first().sheet.serial


def test_assistant_walks_a_day(sign_in: SignIn) -> None:
    phone = sign_in("loic")
    word_comes_through(phone)
    somebody_rings_us(phone)
    ring_leads_to_a_meeting(phone)
    meeting_is_written_up(phone)
    scan_is_filed_and_read(phone)
    print_goes_a_step(phone)
    stop_is_heard(phone)


def word_comes_through(phone: Phone) -> None:
    phone.follow("Word came through")
    phone.type(call_name="Teodor", introducer="01")
    phone.tick("source", "person")
    phone.press("Save")
    for name in ("asked_first", "may_say_who"):
        phone.tick(name, "yes")
    phone.press("Vouched for")
    phone.follow("Add a number")
    phone.type(number="٠٦ ٣٩ ٩٨ ٠٠ ٧٣")
    phone.tick("is_shared")
    phone.press("Save")
    phone.press("Show number")
    phone.sees("٠٦ ٣٩ ٩٨ ٠٠ ٧٣")
    phone.sees("+33 6 39 98 00 73")


def somebody_rings_us(phone: Phone) -> None:
    phone.follow("Today")
    phone.follow("Somebody rang us")
    phone.type(typed="12")
    phone.press("Heard")
    expect(phone.page.locator("main")).not_to_contain_text("Danuta")


def ring_leads_to_a_meeting(phone: Phone) -> None:
    phone.follow("Today")
    phone.follow("Ring card")
    phone.press("Yes, let us meet")
    phone.type(
        day="2026-11-24", hour="10:30", place="The bench by the lock", exit_signal="Scarf off"
    )
    phone.tick("place_is_theirs")
    phone.press("Fix")
    phone.press("Confirm")
    phone.sees("confirmed")


def meeting_is_written_up(phone: Phone) -> None:
    phone.follow("Today")
    row = phone.page.locator(".ledger li", has_text="Write it up").first
    row.get_by_role("link", name="Open").click()
    phone.follow("Write up")
    phone.tick("power_present", "no")
    phone.tick_all("explained")
    phone.tick_all("told_back")
    phone.press("Write up")
    phone.sees("written up")


def scan_is_filed_and_read(phone: Phone) -> None:
    serial = serial_of(State.BROUGHT_HOME)
    phone.go("/forms/")
    phone.follow("File a scan")
    phone.type(serial=serial)
    phone.send("scan", desk.scan(99))
    phone.press("File it")
    phone.follow("Read it")
    reads(phone)
    phone.press("This is what I read")
    phone.sees("Waits for its second reading")


def reads(phone: Phone) -> None:
    """Every box of the paper: yes to the wall, no to the rest."""
    for name, value in READ.items():
        phone.tick(name, value)
    phone.type(given_on="2026-11-20")
    uses = phone.page.locator("[name^='use_'][value='no']").all()
    for box in uses:
        box.check()
    phone.tick("use_exhibition", "yes")


def print_goes_a_step(phone: Phone) -> None:
    phone.follow("Prints owed")
    phone.follow("Danuta")
    phone.press("Ordered")
    phone.sees("Ordered on 23 November 2026.")


def stop_is_heard(phone: Phone) -> None:
    phone.follow("Stop / Hold")
    phone.type(code="12")
    phone.press("Go on")
    phone.press("Stop everything")
    phone.sees("It is stopped.")


def test_artist_walks_from_a_sitting_to_a_cleared_wall(sign_in: SignIn) -> None:
    phone = sign_in("ines")
    sitting_with_a_picture(phone)
    form_is_printed(phone)
    form_is_read_again_and_settled(phone)
    use_is_weighed(phone)
    entry_is_mended(phone)
    wording_is_written_and_read(phone, sign_in)


def sitting_with_a_picture(phone: Phone) -> None:
    phone.go("/person/28/")
    phone.follow("Note a sitting")
    phone.type(sheets="4", holders="11 12")
    phone.press("Save")
    phone.follow("Add a picture")
    phone.type(code="K90", place_28="1")
    phone.tick("recognisable_28", "yes")
    phone.tick("others", "none")
    phone.send("light_copy", desk.scan(120))
    phone.press("Save")
    expect(phone.page.locator("main img")).to_be_visible()


def form_is_printed(phone: Phone) -> None:
    phone.go("/forms/")
    phone.follow("Print a form")
    phone.type(code="28")
    for field, language in (("first", "العربية"), ("second", "Français")):
        choice = phone.page.locator(f"[name={field}] option", has_text=language).first
        phone.type(**{field: choice.get_attribute("value") or ""})
    phone.press("Print the form")
    phone.sees("Blank: sign it out when you carry it")


def form_is_read_again_and_settled(phone: Phone) -> None:
    phone.go(f"/forms/{serial_of(State.READ_ONCE)}/")
    phone.follow("Read it")
    reads(phone)
    phone.tick_all("sittings")
    phone.press("This is what I read")
    phone.follow("Settle it")
    for group in phone.page.locator("fieldset").all():
        group.locator("input").first.check()
    phone.press("Settle it")
    expect(phone.page.get_by_role("link", name="Settle it")).to_have_count(0)


def use_is_weighed(phone: Phone) -> None:
    phone.go("/uses/plans/")
    phone.follow("Exhibition wall, Halle aux Voiles")
    phone.sees("14 may hang, 2 with conditions, 17 not.")
    phone.press("Keep these answers")
    phone.follow("Picture by picture")


def entry_is_mended(phone: Phone) -> None:
    phone.go("/people/28/")
    phone.follow("Mend a wrong entry")
    phone.type(call_name="Edel")
    phone.press("Mend")
    phone.follow("The whole page")
    phone.sees("Edel")
    phone.sees("Edelmira")


def wording_is_written_and_read(phone: Phone, sign_in: SignIn) -> None:
    phone.go("/forms/wordings/fr/write/")
    phone.type(heading_paper="Ce papier, entre nous")
    phone.press("Keep these words")
    address = phone.page.url.removeprefix(phone.site)
    reader = sign_in("reader-fr")
    reader.go(address)
    while reader.page.get_by_role("button", name="Approve").count():
        reader.page.locator("textarea").first.fill("It says what the artist wrote.")
        reader.press("Approve")
    reader.press("Freeze this version")
    reader.sees("Ce papier, entre nous")
    expect(reader.page.locator(".kicker").first).to_contain_text("and frozen")
