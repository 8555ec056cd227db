"""The pages of a handover: counted, signed on one page, and whom the artist tells."""

from uuid import uuid4

import pytest
from django.urls import reverse

from relations.people.models import Participant
from relations.people.newcomers import Unwanted
from relations.privacy.models import User, WrongTries
from relations.rights import handing_on
from relations.rights.models import Handover, ToIntroduce
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db
OLD, NEW = "the invented tide comes in twice", "the invented boat comes in once"
COUNTED = {
    f"{who}_{what}": "0" for who in ("gone", "come") for what in ("blanks", "prints", "keys")
}


@pytest.fixture
def artist(client):
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def row(db):
    gone, come = cast.assistant(), cast.wording_reader()
    for user, password in ((gone, OLD), (come, NEW)):
        user.set_password(password)
        user.save()
    make(Participant, code="51", level="grave", standing="taking_part", call_name="Olga")
    return handing_on.begin(gone=gone, come=come, on=cast.TODAY, by=cast.artist())


def words(answer):
    return " ".join(answer.content.decode().split())


def sign(client, row, token=None, **said):
    usual = {**COUNTED, "gone_phones": "1", "come_phones": "1", "why_differs": ""}
    passwords = {"gone_password": OLD, "come_password": NEW}
    form = {"token": token or str(uuid4()), **usual, **passwords, **said}
    return client.post(reverse("rights:sign_handover", args=[row.pk]), form)


def press(client, page, *args, **said):
    return client.post(reverse(page, args=args), {"token": str(uuid4()), **said})


def test_begun_on_the_page_and_called_off_again(artist):
    page = reverse("rights:handover")
    gone, come = cast.assistant(), cast.wording_reader()
    assert "Begin the handover" in words(artist.get(page))
    same = press(artist, "rights:begin_handover", gone=gone.pk, come=gone.pk)
    assert (same.status_code, "Nobody hands on to themselves." in words(same)) == (422, True)
    assert press(artist, "rights:begin_handover", gone=gone.pk, come=come.pk).status_code == 302
    row = Handover.objects.get()
    assert "Open now, counted by the site" in words(artist.get(page))
    assert press(artist, "rights:call_off_handover", row.pk).status_code == 302
    assert "Called off on 23 November 2026." in words(artist.get(page))


def test_both_sign_on_one_page_and_the_same_press_twice_is_once(artist, row):
    token = str(uuid4())
    assert sign(artist, row, token).status_code == 302
    assert sign(artist, row, token).status_code == 302
    signed = Handover.objects.get()
    assert signed.by_hand["gone"]["phones"] == 1
    assert not User.objects.get(username="loic").is_active
    page = words(artist.get(reverse("rights:handover")))
    assert "Signed by both:" in page
    assert "1 sitter is to be told of the newcomer." in page
    assert not WrongTries.objects.filter(count__gt=0).exists()
    again = press(artist, "rights:call_off_handover", row.pk)
    assert (again.status_code, "Both have signed already." in words(again)) == (422, True)
    late = sign(artist, row)
    assert (late.status_code, "This handover is over" in words(late)) == (422, True)


def test_numbers_stay_as_typed_and_no_password_is_written_into_the_page(artist, row):
    answer = sign(artist, row, come_phones="7")
    page = words(answer)
    assert (answer.status_code, "The numbers differ." in page) == (422, True)
    assert 'value="7"' in page
    assert OLD not in page
    assert NEW not in page


@pytest.mark.parametrize("who", ["gone", "come"])
def test_a_password_that_is_not_theirs_signs_nothing_and_counts_as_a_try(artist, row, who):
    answer = sign(artist, row, **{f"{who}_password": "not this one at all"})
    assert answer.status_code == 422
    assert "This is not their password. Try again." in words(answer)
    assert Handover.objects.get().signed_by_both_at is None
    assert WrongTries.objects.filter(count=1).exists()


def test_the_keeper_reads_counts_and_nobody(client, row):
    cast.signed_in(client, cast.keeper())
    page = words(client.get(reverse("rights:handover")))
    assert "Open now, counted by the site" in page
    sign(client, row)
    page = words(client.get(reverse("rights:handover")))
    for word in ("Olga", ">51<", "to be told"):
        assert word not in page


def test_the_artist_notes_what_each_said_and_may_lift_it(artist, row):
    sign(artist, row)
    page = words(artist.get(reverse("rights:introduce")))
    assert "Olga" in page
    task = ToIntroduce.objects.get()
    late = press(artist, "rights:introduced", task.pk, said="refused", on="2026-11-22")
    assert (late.status_code, "This day comes before both had signed." in words(late)) == (
        *(422, True),
    )
    said = {"said": "refused", "on": "2026-11-23"}
    assert press(artist, "rights:introduced", task.pk, **said).status_code == 302
    assert "You ring these yourself" in words(artist.get("/"))
    refusal = Unwanted.objects.get()
    assert press(artist, "rights:lift_unwanted", refusal.pk).status_code == 302
    assert "You ring these yourself" not in words(artist.get("/"))


def test_an_assistant_notes_it_of_themselves_and_sees_them_no_more(client):
    assistant = cast.assistant()
    cast.in_sight(cast.danuta(), assistant)
    cast.signed_in(client, assistant)
    page = reverse("rights:unwanted", args=["12"])
    shown = words(client.get(page))
    assert "Loïc" in shown
    other = client.post(page, {"token": str(uuid4()), "user": cast.second_assistant().pk})
    assert other.status_code == 422
    answer = client.post(page, {"token": str(uuid4()), "user": assistant.pk})
    assert (answer.status_code, answer.headers["Location"]) == (302, "/")
    assert client.get(page).status_code == 404


def test_the_artist_notes_it_of_any_assistant(artist):
    cast.danuta()
    page = reverse("rights:unwanted", args=["12"])
    user = cast.second_assistant()
    assert artist.post(page, {"token": str(uuid4()), "user": user.pk}).status_code == 302
    assert Unwanted.objects.get().user == user
    assert "You ring these yourself" in words(artist.get(page))


@pytest.mark.parametrize("is_signed", [False, True])
def test_list_is_a_pdf_before_and_after_both_signed(artist, row, is_signed):
    if is_signed:
        sign(artist, row, come_phones="2", why_differs="One telephone is being mended.")
    answer = artist.get(reverse("rights:handover_pdf", args=[row.pk]))
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert b"Olga" not in answer.content
