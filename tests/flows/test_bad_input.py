"""Each kind of bad input: a sentence beside the field, a summary with the focus, nothing lost."""

from html import unescape
from io import BytesIO
from urllib.parse import urljoin

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from relations.consent.models import Form
from relations.consent.states import State as FormState
from relations.documents.models import Scan
from relations.documents.serials import check
from relations.people.models import Participant, PhoneLine
from relations.prints.models import Print, Step
from relations.privacy.models import User
from tests.flows.hand import Hand, filled

MEGABYTE = 2**20


@pytest.fixture
def assistant(rehearsal) -> Hand:
    """Whoever is on the telephone, with Danuta in sight because she rang."""
    hand = Hand(User.objects.get(username="loic"))
    hand.go("/people/rang-us/").press("Heard", typed="12")
    return hand


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


def told(hand: Hand, words: str, field: str = "") -> None:
    """The answer to a bad press: 422, a summary that takes the focus, words beside the field."""
    assert hand.answer.status_code == 422
    box = next(one for one in hand.page.iter("div") if one.get("class") == "errsum")
    assert (box.get("tabindex"), box.get("role")) == ("-1", "alert")
    assert box.get("autofocus") is not None
    assert any(words in line for line in hand.errors), hand.errors
    assert "<title>Look again" in hand.html
    if field:
        typed = hand.field(field)
        assert typed.get("aria-invalid") == "true"
        beside = {one.get("id"): one for one in hand.page.iter("p")}[f"id_{field}_error"]
        assert words in "".join(beside.itertext())
        assert f"id_{field}_error" in (typed.get("aria-describedby") or "")
        assert f"#id_{field}" in [one.get("href") for one in box.iter("a")]


@pytest.mark.parametrize(
    ("number", "words"),
    [
        ("06 39 98 OO 73", "A number has no letters."),
        ("06 39 98", "This number is too short."),
    ],
)
def test_number_that_cannot_be_one_is_told_beside_it(assistant, number, words):
    before = PhoneLine.objects.count()
    assistant.go("/people/12/phone/").send("Save", number=number, is_shared=True)
    told(assistant, words, "number")
    assert assistant.value("number") == number
    assert assistant.value("is_shared") == "on"
    assert PhoneLine.objects.count() == before


def test_number_in_native_digits_is_taken_and_kept_as_it_was_typed(assistant):
    typed = "٠٦ ٣٩ ٩٨ ٠٠ ٧٣"
    assistant.go("/people/12/phone/").press("Save", number=typed)
    kept = {line.as_typed: line.number for line in PhoneLine.objects.filter(person__code="12")}
    assert kept[typed] == "+33639980073"


def test_birth_in_the_future_is_told_beside_it(assistant):
    assistant.go("/people/12/born/").send("Save", said="4/2/2027")
    told(assistant, "This day has not come yet.", "said")
    assert assistant.value("said") == "4/2/2027"


def test_introducer_who_has_not_sat_cannot_vouch(artist):
    artist.go("/people/new/").press("Save", call_name="Ilse", source="person", introducer="28")
    artist.send("Vouched for", asked_first="yes", may_say_who="no", has_power="yes")
    told(artist, "has not sat yet. Only those who have sat may vouch.")
    assert [artist.value(name) for name in ("asked_first", "has_power")] == ["yes", "yes"]


def test_serial_with_one_wrong_figure_is_said_to_be_mistyped(assistant):
    serial = _carried().sheet.serial
    wrong = f"{(int(serial[0]) + 1) % 10}{serial[1:]}"
    assistant.go("/forms/file/").send("File it", serial=wrong, scan=_scan())
    told(assistant, "This number is mistyped", "serial")
    assert assistant.value("serial") == wrong


def test_serial_that_is_right_and_not_ours_is_said_otherwise(assistant):
    serial = f"99999-{check('99999')}"
    assistant.go("/forms/file/").send("File it", serial=serial, scan=_scan())
    told(assistant, "No paper of ours has this number.", "serial")


def _carried() -> Form:
    return Form.objects.filter(state=FormState.CARRIED, person=None).first()


def _scan(content: bytes = b"", name: str = "scan.png") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content or _drawn(60, 80), "image/png")


def _drawn(wide: int, high: int) -> bytes:
    out = BytesIO()
    Image.new("1", (wide, high), 1).save(out, format="PNG")
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (lambda: b"From: me. Not an image at all.", "This is no image and no PDF."),
        (lambda: b"%PDF-1.7 and then nothing", "This file does not open."),
        (lambda: b"\x89PNG\r\n\x1a\n" + bytes(25 * MEGABYTE), "This file is larger than 25 MB."),
        (lambda: _drawn(20_000, 10_001), "This picture has more than 200 megapixels."),
    ],
    ids=["no image", "broken", "too large", "too many pixels"],
)
def test_scan_that_cannot_be_filed_is_told_beside_it(assistant, content, words):
    before, serial = Scan.objects.count(), _carried().sheet.serial
    assistant.go("/forms/file/")
    assistant.send("File it", serial=serial, code="12", scan=_scan(content()))
    told(assistant, words, "scan")
    assert [assistant.value(name) for name in ("serial", "code")] == [serial, "12"]
    assert Scan.objects.count() == before


def test_form_is_never_filed_under_two_people(assistant):
    theirs = Form.objects.filter(state=FormState.SCANNED).exclude(person__code="12").first()
    before = Scan.objects.count()
    assistant.go("/forms/file/").send(
        "File it", serial=theirs.sheet.serial, code="12", scan=_scan(_drawn(61, 80))
    )
    told(assistant, "One form is never filed under two people.", "code")
    assert Scan.objects.count() == before


def test_print_is_not_moved_two_steps_at_once(assistant):
    before = Step.objects.count()
    assistant.go("/prints/12/K12/collected/").send("Collected")
    told(assistant, "These are two steps at once.")
    assert Step.objects.count() == before
    assert Print.objects.get(person__code="12", picture__code="K12").state == "file_ready"


def test_look_alike_in_the_code_of_a_print_is_named(assistant):
    code = Print.objects.get(person__code="12", picture__code="K12").code
    assistant.go("/prints/").follow("Find a print").send("Find the print", code=f"O{code[1:]}")
    meant = f"{code[:3]} {code[3:]}"
    told(assistant, f"No code holds O. If all else is right, the slip says {meant}.", "code")
    assert assistant.value("code") == f"O{code[1:]}"


def test_two_envelopes_swapped_are_found_at_checking(artist):
    one = Print.objects.get(state="collected")
    two = Print.objects.get(state="checked")
    artist.go(f"/prints/{one.person.code}/{one.picture.code}/")
    artist.follow("Compare envelope and print")
    artist.send("Find the print", code=two.code, other=one.code)
    told(artist, "These slips do not belong together")
    for row in (one, two):
        assert artist.sees(f"Print {row.person.code} {row.picture.code}")
    artist.send("Find the print", code=one.code, other=one.code)
    assert artist.sees("They belong together")
    artist.follow("See this print").press("Checked, good")
    assert Print.objects.get(pk=one.pk).state == "checked"


@pytest.mark.parametrize("hidden", ["\u202e", "\u2066", "\u200b", "\x07", "\x00"])
def test_hidden_character_in_a_name_is_told_beside_it(artist, hidden):
    before = Participant.objects.count()
    artist.go("/people/new/").send("Save", call_name=f"Il{hidden}se", source="own")
    told(artist, "This holds characters that cannot be seen", "call_name")
    assert Participant.objects.count() == before


def test_joiners_that_a_script_needs_stay_in_a_name(artist):
    """Persian and Nepali names hold them (UAX 31, section 2.3)."""
    for name in ("علی\u200cرضا", "क्\u200dष"):
        artist.go("/people/new/").press("Save", call_name=name, source="own")


def test_same_post_twice_is_stored_once(artist):
    artist.go("/people/new/")
    form = next(one for one in artist.page.iter("form") if "call_name" in filled(one))
    data = filled(form) | {"call_name": "Ilse", "source": "own"}
    before = Participant.objects.count()
    answers = [artist.client.post("/people/new/", data) for _ in range(2)]
    assert Participant.objects.count() == before + 1
    assert answers[0].headers["Location"] == answers[1].headers["Location"]


def test_old_tab_loses_nothing_and_moves_nothing_twice(assistant, artist):
    assistant.go("/prints/12/K12/ordered/")
    artist.go("/prints/12/K12/").press("Ordered")
    assistant.send("Ordered", on="2026-11-22")
    told(assistant, "Somebody noted a step since this page was opened.")
    assert assistant.value("on") == "2026-11-22"
    assert Step.objects.filter(print__person__code="12", became="ordered").count() == 1


def test_tab_from_before_signing_in_again_is_told_that_nothing_was_done(rehearsal):
    client = Client(enforce_csrf_checks=True)
    client.force_login(User.objects.get(username="ines"))
    answer = client.post("/people/new/", {"call_name": "Ilse", "source": "own"})
    assert answer.status_code == 403
    assert "Nothing was" in unescape(answer.content.decode())


def test_summary_leads_to_every_field_that_is_wrong(artist):
    artist.go("/uses/plans/new/").send(
        "Note the plan", code="", starts_on="32.13.2026", countries="XX"
    )
    ids = {one.get("id") for one in artist.page.iter()}
    links = [one.get("href") or "" for box in artist.page.iter("div")
             if box.get("class") == "errsum" for one in box.iter("a")]  # fmt: skip
    assert len(links) == 3
    assert all(urljoin("", link)[1:] in ids for link in links)
    assert artist.value("starts_on") == "32.13.2026"
    assert artist.value("countries") == "XX"
