"""The working page of each role, and the whole page of a person."""

import subprocess
from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from relations.consent.models import Form, TakenBack, Wording
from relations.documents.models import Sheet
from relations.meetings.models import Call, Meeting, Trip
from relations.people import actions as people_actions
from relations.people.models import InSight, Participant
from relations.people.rules import SHOWS_A_DAY
from relations.pictures.models import Appearance, Picture, PictureHold, Sitting
from relations.prints.models import Print, Promise, Step
from relations.privacy.models import AccessEntry
from relations.uses.models import PlannedPicture, PlannedUse, Shown, UndoLine, Weighing
from tests import cast
from tests.consent import desk
from tests.house.asking import without_chance

pytestmark = pytest.mark.django_db
AT = cast.moment()


def text(client: Client, address: str = "/") -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def full() -> None:
    """A day with something in every part of the page, and Edelmira with nothing."""
    cast.edelmira()
    danuta, marcel, bruno, lucas = cast.danuta(), cast.marcel(), cast.bruno(), cast.lucas()
    sitting = Sitting.objects.create(code="12/T5", on=date(2025, 11, 10), minutes=50)
    sitting.sitters.add(danuta, marcel)
    shown = Picture.objects.create(code="K12", sitting=sitting, made_on=sitting.on)
    for who in (danuta, marcel):
        Appearance.objects.create(picture=shown, person=who)
    for who, state, extra in (
        (danuta, "file_ready", {}),
        (marcel, "out_on_a_round", {"is_safe": True, "is_sealed": True, "size": "small"}),
    ):
        row = Print.objects.create(
            person=who, picture=shown, state=state, state_on=cast.days(-3),
            owed_since=sitting.on, **extra,
        )  # fmt: skip
        Step.objects.create(print=row, number=1, became=state, on=cast.days(-3), noted_at=AT,
                            by=cast.artist(), reason="by the window")  # fmt: skip
    TakenBack.objects.create(
        person=danuta, scope="use", use="web", said_on=cast.TODAY, heard_at=AT,
        heard_by=cast.assistant(), answer_due_on=cast.days(14),
    )  # fmt: skip
    TakenBack.objects.create(
        person=danuta, scope="picture", picture=shown, said_on=cast.TODAY, heard_at=AT,
        heard_by=cast.assistant(), answer_due_on=cast.days(14),
    )  # fmt: skip
    where = Shown.objects.create(code="U1", use="web", place="the site's page",
                                 starts_on=cast.days(-9), holder="the artist")  # fmt: skip
    UndoLine.objects.create(shown=where, picture=shown, person=danuta, code="down", opened_at=AT,
                            due_at=AT + timedelta(hours=24))  # fmt: skip
    PictureHold.objects.create(picture=shown, laid_at=AT, laid_by=cast.artist(),
                               next_look_on=cast.days(3))  # fmt: skip
    people_actions.hold(person=cast.rachid(), by=cast.artist(), at=AT)
    lifted = people_actions.hold(person=danuta, by=cast.assistant(), at=AT)
    people_actions.lift(hold=lifted, sentence="It was a rumour.", by=cast.artist(), at=AT)
    people_actions.mend(row=danuta, changes={"instruction": "Ask for Danuta."}, person=danuta,
                        by=cast.assistant(), at=AT)  # fmt: skip
    Call.objects.create(person=bruno, due_on=cast.TODAY)
    Call.objects.create(person=danuta, state="settled", outcome="thinking", by=cast.assistant(),
                        at=cast.moment(cast.days(-4)), by_them=True)  # fmt: skip
    Meeting.objects.create(person=lucas, state="fixed", at=cast.moment(cast.days(1)))
    Meeting.objects.create(person=danuta, state="held", at=cast.moment(cast.days(-1)),
                           power_present=True)  # fmt: skip
    for serial, state, given in (("10003-62", "scanned", None), ("20011-11", "standing", -9)):
        Form.objects.create(
            sheet=Sheet.objects.create(serial=serial, kind="form"), person=danuta,
            is_from_before=True, state=state, state_on=cast.days(-2),
            given_on=cast.days(given) if given else None, settled_at=AT, wording_was_read=True,
            uses=["exhibition", "web"], not_countries=["PE"], no_face=True, show_first=True,
            approves_captions=True, agreed_name="Lia", own_condition="never beside a flag",
            first_day=cast.days(3), last_day=cast.days(300),
        )  # fmt: skip
    plan = PlannedUse.objects.create(code="B1", use="book", starts_on=cast.days(5))
    asked = PlannedPicture.objects.create(plan=plan, picture=shown)
    Weighing.objects.create(asked=asked, result="not_cleared", digest="", on=cast.TODAY,
                            stops=[{"about": "12", "code": "USE"}], weighed_at=AT,
                            by=cast.artist())  # fmt: skip
    Participant.objects.filter(code="12").update(last_talk_on=date(2024, 1, 1))
    people_actions.rang_us(typed="12", by=cast.artist(), at=AT)


def test_the_artists_page_stands_in_order_of_need(client: Client) -> None:
    full()
    cast.told(cast.person("50", "Nour"), cast.marcel(), asked_first=True)
    people_actions.never_ring(person=cast.bruno(), by=cast.assistant(), at=AT)
    shown = text(cast.signed_in(client, cast.artist()))
    parts = ["Stops and holds", "Last words due", "For you", "Meetings within 48 hours",
             "Doorsteps", "Rings that fit now", "Forms to read", "Prints to move"]  # fmt: skip
    places = [shown.index(f">{part}") for part in parts]
    assert places == sorted(places)
    for words in ("Took back one use: Web.", "Took back the picture K12.", "Must come down",
                  "Waits for your yes", "Never ring, shared", "Looked into",
                  "the site&#x27;s page"):  # fmt: skip
        assert words in shown
    assert "Edelmira" not in shown


def test_the_assistants_day_is_laid_out_and_holds_nobody_else(client: Client) -> None:
    full()
    shown = text(cast.signed_in(client, cast.assistant()))
    for words in ("Bruno", "Rings that fit now", "10003-62", "First reading",
                  "In the bag", "The file is ready since"):  # fmt: skip
        assert words in shown
    # Who is to be spoken with follows from a level: the artist plans the ring, which says no more.
    for absent in ("Edelmira", "Last words due", "For you", "They said:"):
        assert absent not in shown
    assert InSight.objects.filter(person__code="19", why="ring").exists()


def test_nothing_waits_in_words(client: Client) -> None:
    cast.edelmira()
    shown = text(cast.signed_in(client, cast.artist()))
    for words in ("No last word is due.", "No meeting within 48 hours.",
                  "Nobody is to be rung today.", "No form waits to be read.",
                  "No print waits for us."):  # fmt: skip
        assert words in shown
    assert "Stops and holds" not in shown


def test_the_page_of_today_asks_few_questions_whatever_the_day(
    client: Client, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    full()
    cast.signed_in(client, cast.artist())
    text(client)
    with django_assert_max_num_queries(49):
        text(client)


def test_the_keeper_sees_counts_and_no_people(client: Client) -> None:
    full()
    shown = text(cast.signed_in(client, cast.keeper()))
    assert "How many, never who." in shown
    for who in Participant.objects.all():
        assert who.call_name not in shown


def test_a_wording_reader_sees_wordings_only(client: Client) -> None:
    full()
    cast.signed_in(client, cast.wording_reader())
    assert "No wording waits for you." in text(client)
    Wording.objects.create(language="ar", version=1, written_by=cast.artist())
    shown = text(client)
    assert "Arabic" in shown
    assert "Danuta" not in shown


def test_opening_today_lets_the_day_old_never_rings_go(client: Client) -> None:
    daud = cast.daud()
    people_actions.never_ring(person=daud, by=cast.artist(), at=AT - timedelta(hours=25))
    text(cast.signed_in(client, cast.wording_reader()))
    daud.refresh_from_db()
    assert daud.call_name == ""


@pytest.mark.parametrize("address", ["/", "/person/01/"])
def test_a_stranger_is_led_to_the_sign_in_page(client: Client, address: str) -> None:
    cast.marcel()
    answer = client.get(address)
    assert (answer.status_code, answer.headers["Location"][:4]) == (302, "/in/")


@pytest.mark.parametrize("address", ["/", "/person/01/"])
def test_nothing_can_be_sent_to_a_page_that_is_read(client: Client, address: str) -> None:
    cast.marcel()
    assert cast.signed_in(client, cast.artist()).post(address).status_code == 405


def test_the_whole_page_holds_everything_for_the_artist(client: Client) -> None:
    full()
    shown = text(cast.signed_in(client, cast.artist()), "/person/12/")
    for words in (
        "What they allow", "not in Peru", "Lia", "No face.", "Show it to them first.",
        "never beside a flag", "Taken back", "Where they are planned",
        "Has not said yes to this use.", "Their print",
        "The file is ready since", "Form", "20011-11", "Word came through", "Through them",
        "Said and done", "Thinking it over.", "it does not count", "by the window",
        "It was a rumour.", "Before, it read:", "Nobody named yet. Ask.", "Ordinary",
        "Speak with them before", "50 minutes",
    ):  # fmt: skip
        assert words in shown, words
    assert "04 65 71 00 12" not in shown
    assert not AccessEntry.objects.filter(verb="read").exists()


def test_the_whole_page_of_somebody_new_is_empty_in_words(client: Client) -> None:
    cast.herve()
    shown = text(cast.signed_in(client, cast.artist()), "/person/41/")
    for words in ("Wait until somebody vouches", "No form stands", "No print yet.",
                  "No form yet.", "Nothing yet.", "Not set: counts as raised."):  # fmt: skip
        assert words in shown


def test_the_assistants_page_holds_no_level_no_introductions_and_no_number(
    client: Client,
) -> None:
    full()
    bruno = cast.bruno()
    Participant.objects.filter(pk=bruno.pk).update(level="grave")
    cast.signed_in(client, cast.assistant())
    text(client)
    shown = text(client, "/person/19/")
    for words in ("Before you ring", "I will ring again", "Never rung yet.", "Show number"):
        assert words in shown
    for absent in ("Word came through", "grave", "Grave", "What they allow", "Said and done",
                   "Before, it read:", "/person/12/", "/person/01/", "04 65 71 00 12"):  # fmt: skip
        assert absent not in shown, absent


def test_the_assistant_may_say_who_sent_us_where_that_was_allowed(client: Client) -> None:
    nour = cast.person("50", "Nour", "vouched_for")
    cast.told(nour, cast.marcel(), may_say_who=True)
    cast.in_sight(nour, cast.assistant())
    cast.signed_in(client, cast.assistant())
    assert (
        'You may say that <bdi><bdi dir="ltr" class="words">Marcel</bdi></bdi> sent you.'
        in text(client, "/person/50/")
    )
    daud = cast.daud()
    cast.in_sight(daud, cast.assistant())
    shown = text(client, "/person/42/")
    assert "name nobody else" in shown
    assert "Marcel" not in shown


def test_out_of_sight_and_absent_are_the_same_404(client: Client) -> None:
    cast.marcel()
    cast.signed_in(client, cast.assistant())
    answers = [client.get(f"/person/{code}/") for code in ("01", "02")]
    assert [answer.status_code for answer in answers] == [404, 404]


@pytest.mark.parametrize("who", [cast.wording_reader, cast.keeper])
def test_others_open_no_person(client: Client, who: object) -> None:
    cast.marcel()
    cast.signed_in(client, who())  # type: ignore[operator]
    assert client.get("/person/01/").status_code == 404


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"condition": "died", "condition_on": cast.days(-9)}, "Speak with who speaks for them"),
        ({"condition": "cannot_answer", "condition_on": cast.days(-9)}, "cannot answer for now"),
        ({"standing": "never_ring"}, "Never to be rung"),
        ({}, "Nothing is due but what stands below"),
    ],
)
def test_the_first_thing_to_do_follows_what_is_known(
    client: Client, changes: dict[str, object], says: str
) -> None:
    cast.marcel()
    Participant.objects.filter(code="01").update(**changes)
    assert says in text(cast.signed_in(client, cast.artist()), "/person/01/")


def test_a_hold_comes_before_everything(client: Client) -> None:
    people_actions.hold(person=cast.marcel(), by=cast.assistant(), at=AT)
    shown = text(cast.signed_in(client, cast.artist()), "/person/01/")
    assert "Nothing: a hold lies here" in shown
    assert shown.index("A hold lies here") < shown.index("What to do")


def test_the_page_of_a_person_asks_a_constant_number_of_questions(
    client: Client, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    full()
    cast.signed_in(client, cast.artist())
    text(client, "/person/12/")
    with django_assert_max_num_queries(40):
        text(client, "/person/12/")


def test_artist_and_keeper_are_told_of_too_many_numbers_and_nobody_else_is() -> None:
    """The one who looks is told on the page of the number; nothing is refused."""
    marcel, client = cast.marcel(), Client()
    cast.in_sight(marcel, cast.assistant())
    client.force_login(cast.assistant())
    address = f"/people/01/phone/{marcel.lines.get().pk}/"
    pages = [client.post(address).content.decode() for _ in range(SHOWS_A_DAY + 1)]
    assert all("+33 4 65 71 00 01" in page for page in pages)
    assert ["are told to the artist" in page for page in pages] == [False] * 30 + [True]
    assert f"More than {SHOWS_A_DAY} in a day" in pages[-1]
    for user in cast.everyone():
        client.force_login(user)
        is_told = user.role in ("artist", "keeper")
        assert (
            '<bdi><bdi dir="ltr" class="words">loic</bdi></bdi> was shown 31 numbers'
            in text(client)
        ) == is_told


@pytest.mark.needs("pdftotext")
def test_receipt_bears_the_code_of_the_print_and_nobodys_name(client):
    full()
    address = reverse("today:receipt", args=["12", "K12"])
    cast.signed_in(client, cast.artist())
    way = text(client, reverse("prints:way", args=["12", "K12"]))
    assert f'href="{address}"' in way
    row = Print.objects.get(person__code="12", picture__code="K12")
    code = f"{row.code[:3]} {row.code[3:]}"
    assert f">{code}<" in text(client, address)
    held = desk.frozen("fr", "en")
    press = {"token": str(uuid4()), "first": held["fr"].pk, "second": held["en"].pk}
    before = Sheet.objects.count()
    answer = client.post(address, press)
    assert answer.headers["Content-Type"] == "application/pdf", answer.content
    assert Sheet.objects.filter(kind="receipt").count() == 1 == Sheet.objects.count() - before
    ran = subprocess.run(
        ["pdftotext", "-", "-"], input=answer.content, capture_output=True, check=True
    )
    page = ran.stdout.decode()
    assert page.count(code) == 2, "on our part and on theirs, as on its slips"
    for name in ("Danuta", "by the window", "K12"):
        assert name not in page


def test_print_without_a_picture_has_a_receipt_by_its_own_code(client):
    danuta = cast.danuta()
    days = {"state_on": cast.TODAY, "owed_since": cast.TODAY}
    row = Print.objects.create(person=danuta, state="in_hand", **days)
    cast.signed_in(client, cast.artist())
    address = reverse("today:receipt", args=[danuta.code, "no-picture"])
    assert address in text(client, reverse("prints:way", args=[danuta.code, "no-picture"]))
    assert f">{row.code[:3]} {row.code[3:]}<" in text(client, address)


def kept(who: Participant, code: str) -> Print:
    """A print that is kept for somebody since before the trip of these days."""
    Trip.objects.get_or_create(code="T7", first_day=cast.days(-2), last_day=cast.days(9))
    picture = Picture.objects.create(
        code=code, sitting=Sitting.objects.create(code=f"S{code}", on=cast.days(-90)),
        made_on=cast.days(-90),
    )  # fmt: skip
    return Print.objects.create(
        person=who, picture=picture, state="kept_for_them", state_on=cast.days(-40),
        owed_since=cast.days(-90), box="B12",
    )  # fmt: skip


def test_kept_prints_are_asked_about_again_on_the_days_of_a_trip(client: Client) -> None:
    kept(cast.danuta(), "K12")
    cast.signed_in(client, cast.assistant())
    shown = text(client)
    assert "Kept for them: ask again" in shown
    assert 'href="/prints/12/K12/asked_how/"' in shown
    page = client.get("/prints/12/K12/asked_how/").context["form"]
    typed = {"token": str(uuid4()), "was": "kept_for_them", "on": cast.TODAY, "answer": "keep"}
    assert page["answer"].value() == "keep"
    assert client.post("/prints/12/K12/asked_how/", typed).status_code == 302
    assert "Kept for them: ask again" not in text(client)
    Trip.objects.update(last_day=cast.days(-1))
    Print.objects.update(state_on=cast.days(-40))
    assert "Kept for them: ask again" not in text(client), "at home nobody is asked"


def test_a_kept_print_held_close_is_a_code_to_the_assistant(client: Client) -> None:
    kept(cast.danuta(), "K12")
    Print.objects.update(not_at_the_lab=True)
    Participant.objects.update(condition="cannot_answer")
    shown = text(cast.signed_in(client, cast.assistant()))
    assert "Ask whoever speaks for them." in shown
    assert "Danuta" not in shown
    assert "Danuta" in text(cast.signed_in(client, cast.artist()))


def test_lists_say_of_a_print_held_close_only_what_to_do(client: Client) -> None:
    full()
    Print.objects.update(not_at_the_lab=True)
    shown = text(cast.signed_in(client, cast.assistant()))
    prints = shown[shown.index('id="h-prints"') : shown.index('id="h-else"')]
    assert "Not at the lab. Keep it for them." in prints
    assert "Danuta" not in prints
    door = shown[shown.index('id="h-door"') : shown.index('id="h-rings"')]
    assert "Not at the lab. Bring it only as was agreed" in door
    assert "Marcel" not in door


def test_promises_due_stand_on_today_and_all_of_them_on_the_persons_page(client: Client) -> None:
    who, said = cast.danuta(), {"promised_on": cast.days(-9)}
    Promise.objects.create(person=who, kind="sum", amount=40, currency="EUR", **said,
                           due_on=cast.days(-1))  # fmt: skip
    Promise.objects.create(person=who, kind="thank_you", **said, kept_on=cast.days(-2))
    Promise.objects.create(person=who, kind="book_copy", **said)
    Promise.objects.create(person=who, kind="invitation", **said, due_on=cast.days(-1),
                           ended_how="could_not", ended_why="the hall was shut",
                           ended_on=cast.days(0), ended_by=cast.artist())  # fmt: skip
    cast.signed_in(client, cast.artist())
    shown = text(client)
    assert "Promises to keep" in shown
    assert "an invitation" not in shown, "what ended otherwise is due no more"
    assert "40.00 EUR" in shown
    assert "a copy of the book" not in shown
    shown = text(client, "/person/12/")
    for words in ("Promised to them", "a thank-you", "Kept on 21 November 2026.",
                  "a copy of the book", "40.00 EUR", "by 22 November 2026",
                  "We said on 23 November 2026 that it could not be kept.",
                  '<bdi dir="ltr" class="words">the hall was shut</bdi>'):  # fmt: skip
        assert words in shown
    assert shown.count(">Kept, or ended<") == 2, "of the two that are open"
    assert 'href="/prints/promises/new/?code=12"' in shown


def test_whoever_is_told_before_is_told_of_the_use_to_the_artist_alone(client: Client) -> None:
    full()
    Promise.objects.create(person=cast.danuta(), kind="tell_before", promised_on=cast.days(-9))
    cast.in_sight(cast.danuta(), cast.assistant())
    assert "to tell them before: <span" in text(cast.signed_in(client, cast.artist()))
    shown = text(cast.signed_in(client, cast.assistant()), "/person/12/")
    assert "to tell them before" in shown
    assert "B1" not in without_chance(shown)


def test_the_second_talk_is_offered_by_the_artist_to_whoever_has_decided_nothing(
    client: Client,
) -> None:
    row = kept(cast.danuta(), "K12")
    Print.objects.filter(pk=row.pk).update(state="in_hand")
    cast.signed_in(client, cast.artist())
    assert "They hold the print and have decided on no use: offer a talk." in text(client)
    assert "They have decided on no use yet" in text(client, "/person/12/")
