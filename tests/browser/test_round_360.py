"""A round on a small telephone without scripts, from choosing to the last line."""

from playwright.sync_api import expect

from relations.prints.models import Print, RoundDoor
from tests.browser.test_story_360 import Phone, SignIn
from tests.browser.test_story_360 import sign_in as sign_in

READY = {"12": "K12", "13": "K13", "32": "K32"}


def test_round_is_planned_set_out_and_typed_in(sign_in: SignIn) -> None:
    phone = sign_in("ines")
    Print.objects.filter(person__code="12", picture__code="K12").update(state="checked")
    for code, picture in READY.items():
        where_it_goes(phone, code, picture)
    three_doors_are_planned(phone)
    round_goes_out(phone)
    each_letter_is_typed(phone)


def where_it_goes(phone: Phone, code: str, picture: str) -> None:
    phone.go(f"/prints/{code}/{picture}/")
    phone.follow("Where and when")
    phone.tick("is_safe", "yes")
    phone.type(quarter="la Forme", place="the blue gate")
    phone.press("Keep where and when")
    phone.sees("la Forme")


def three_doors_are_planned(phone: Phone) -> None:
    phone.follow("Prints owed")
    phone.follow("Rounds")
    phone.follow("Plan a round")
    phone.type(starts_at="10:00", ends_by="13:00")
    for code, picture in READY.items():
        row = Print.objects.get(person__code=code, picture__code=picture)
        phone.tick("prints", str(row.pk))
    phone.press("Work the order out")
    phone.sees("3 doors. Out at 10:00, the last door is behind you at 10:24.")


def round_goes_out(phone: Phone) -> None:
    phone.press("Set out")
    phone.sees("out on a round")
    expect(phone.page.get_by_role("button", name="Set out")).to_have_count(0)
    for sheet in ("Sheet of places", "Sheet of names"):
        expect(phone.page.get_by_role("button", name=sheet)).to_be_visible()


def each_letter_is_typed(phone: Phone) -> None:
    phone.follow("Type it in")
    phone.type(came_A="given", came_B="not_home")
    phone.press("Type it in")
    phone.type(came_C="given")
    phone.press("Type it in")
    phone.sees("Every letter is typed in. Shred both sheets.")
    assert set(RoundDoor.objects.values_list("came", flat=True)) == {"given", "not_home"}
