"""The pages about people, through the test client."""

import re
import uuid

import pytest
from django.test import Client
from django.urls import reverse

from relations.languages.direction import strip_marks
from relations.people import actions
from relations.people.models import (
    Community,
    InSight,
    Name,
    NeverRing,
    OutsideIntroducer,
    Participant,
    PersonHold,
    RangUs,
)
from relations.privacy.models import AccessEntry, Mending
from tests import cast
from tests.house.asking import without_chance

pytestmark = pytest.mark.django_db
AT = cast.moment()


@pytest.fixture
def artist(client: Client) -> Client:
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def assistant(client: Client) -> Client:
    return cast.signed_in(client, cast.assistant())


def page(name: str, *args: object) -> str:
    return reverse(f"people:{name}", args=args)


def send(client: Client, name: str, /, *args: object, **typed: object) -> tuple[int, str]:
    """Post a form with a fresh token: the status, and the text or where it leads."""
    said = {"token": str(uuid.uuid4()), **typed}
    answer = client.post(page(name, *args), said)
    return answer.status_code, answer.headers.get("Location") or answer.content.decode()


def text(client: Client, name: str, *args: object) -> str:
    answer = client.get(page(name, *args))
    assert answer.status_code == 200
    return answer.content.decode()


ON_A_PERSON = (
    "detail", "vouch", "mend", "hold", "never_ring", "phone", "born", "condition", "speaker",
    "ways",
)  # fmt: skip
FOR_THE_ARTIST = ("level", "names")


@pytest.mark.parametrize("name", [*ON_A_PERSON, *FOR_THE_ARTIST])
def test_every_page_of_a_person_opens_for_the_artist(artist: Client, name: str) -> None:
    cast.marcel()
    assert "Person 01" in text(artist, name, "01")


@pytest.mark.parametrize("name", ON_A_PERSON)
def test_every_page_of_a_person_opens_for_an_assistant_with_them_in_sight(
    assistant: Client, name: str
) -> None:
    cast.in_sight(cast.marcel(), cast.assistant())
    assert "Person 01" in text(assistant, name, "01")


@pytest.mark.parametrize("name", [*ON_A_PERSON, *FOR_THE_ARTIST])
def test_out_of_sight_is_the_same_404_as_absent(assistant: Client, name: str) -> None:
    cast.marcel()
    answers = [assistant.get(page(name, code)) for code in ("01", "02")]
    assert [answer.status_code for answer in answers] == [404, 404]
    assert _bare(answers[0].content) == _bare(answers[1].content)


def _bare(content: bytes) -> str:
    return re.sub(r'value="[A-Za-z0-9]{64}"', "", content.decode())


@pytest.mark.parametrize("name", [*FOR_THE_ARTIST])
def test_the_assistant_reaches_no_level_and_no_list_of_names(assistant: Client, name: str) -> None:
    cast.in_sight(cast.marcel(), cast.assistant())
    assert assistant.get(page(name, "01")).status_code == 404


@pytest.mark.parametrize("who", [cast.wording_reader, cast.keeper])
@pytest.mark.parametrize("name", ["list", "new", "rang_us"])
def test_readers_and_keepers_see_no_people(client: Client, who: object, name: str) -> None:
    cast.signed_in(client, who())  # type: ignore[operator]
    assert client.get(page(name)).status_code == 404


@pytest.mark.parametrize("name", ["list", "new", "heard", "communities", "outside"])
def test_a_stranger_is_led_to_the_sign_in_page(client: Client, name: str) -> None:
    answer = client.get(page(name))
    assert (answer.status_code, answer.headers["Location"][:4]) == (302, "/in/")


@pytest.mark.parametrize(("name", "args"), [("detail", ["01"]), ("heard", [])])
def test_nothing_can_be_sent_to_a_page_that_is_read(
    artist: Client, name: str, args: list[str]
) -> None:
    cast.marcel()
    assert artist.post(page(name, *args)).status_code == 405


def test_the_artist_lists_filters_and_pages_people(artist: Client) -> None:
    cast.herve()
    cast.ibrahima()
    everyone = text(artist, "list")
    assert "Marcel" in everyone
    assert "Ibrahima" in everyone
    narrowed = artist.get(page("list"), {"group": "erable", "standing": "gone_quiet"})
    assert "Ibrahima" in narrowed.content.decode()
    assert "Marcel" not in narrowed.content.decode()
    assert "Marcel" in artist.get(page("list"), {"group": "nowhere"}).content.decode()
    none = artist.get(page("list"), {"standing": "met"})
    assert "Nobody here." in none.content.decode()


def test_a_filter_is_kept_from_page_to_page(artist: Client) -> None:
    for number in range(60):
        cast.person(f"P{number}", f"Somebody {number}", "met")
    first = artist.get(page("list"), {"standing": "met"}).content.decode()
    assert "?standing=met&amp;page=2" in first
    second = artist.get(page("list"), {"standing": "met", "page": "2"})
    assert second.content.decode().count('class="who"') == 10


def test_the_artist_finds_by_name_without_it_standing_in_an_address(artist: Client) -> None:
    cast.rachid()
    status, answer = send(artist, "list", typed="رشيد")
    assert status == 200
    assert reverse("today:person", args=["17"]) in answer
    assert "Nobody is known by this." in send(artist, "list", typed="Zaccaria")[1]
    assert send(artist, "list", typed="")[0] == 422


def test_the_assistant_lists_only_who_is_in_sight_with_the_work(assistant: Client) -> None:
    assert "Nobody is in sight today." in text(assistant, "list")
    cast.in_sight(cast.bruno(), cast.assistant(), "ring")
    cast.in_sight(cast.bruno(), cast.assistant(), "print")
    shown = text(assistant, "list")
    assert "Bruno" in shown
    assert "a print and a ring" in shown or "a ring and a print" in shown
    assert "Danuta" not in shown


def word(**typed: object) -> dict[str, object]:
    return {
        "call_name": "Nour", "source": "person", "introducer": "01", "heard_on": "2026-11-20",
        **typed,
    }  # fmt: skip


def test_word_comes_through_and_leads_on_to_vouching(assistant: Client) -> None:
    cast.marcel()
    assert "Did someone ask them first?" in text(assistant, "new")
    status, leads_to = send(assistant, "new", **word(instruction="Evenings only."))
    person = Participant.objects.get(heard_on="2026-11-20")
    assert (status, leads_to) == (302, page("vouch", person.code))
    assert (person.call_name, person.instruction) == ("Nour", "Evenings only.")
    assert InSight.objects.get().why == "new"
    assert "Nour" not in leads_to


def test_the_same_form_sent_twice_is_one_person(assistant: Client) -> None:
    cast.marcel()
    typed = {**word(), "token": str(uuid.uuid4())}
    first, second = (assistant.post(page("new"), typed) for _ in range(2))
    assert first.headers["Location"] == second.headers["Location"]
    assert Participant.objects.filter(heard_on="2026-11-20").count() == 1


def test_a_name_already_known_is_not_announced(assistant: Client) -> None:
    cast.marcel()
    known = send(assistant, "new", **word(call_name="Marcel"))
    fresh = send(assistant, "new", **word(call_name="Nour"))
    assert known[0] == fresh[0] == 302
    assert [len(leads_to) for _, leads_to in (known, fresh)] == [len(known[1])] * 2


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"call_name": "Nour\u202e"}, "characters that cannot be seen"),
        ({"introducer": ""}, "Type the code of the one who told us."),
        ({"introducer": "ZZ9"}, "Look at this code again."),
        ({"source": "outside"}, "Choose who told us."),
        ({"heard_on": "2026-11-24"}, "This day has not come yet."),
        ({"instruction": "x" * 141}, "at most 140"),
        ({"source": ""}, "This field is required."),
    ],
)
def test_a_wrong_entry_is_shown_again_whole(
    assistant: Client, typed: dict[str, str], says: str
) -> None:
    cast.marcel()
    status, answer = send(assistant, "new", **word(**typed))
    assert status == 422
    assert says in answer
    assert 'value="Nour' in answer
    assert not Participant.objects.filter(heard_on="2026-11-20").exists()


def test_vouching_by_one_who_has_not_sat_is_refused_in_words(artist: Client) -> None:
    cast.herve()
    status, answer = send(artist, "vouch", "41", asked_first="yes", may_say_who="yes")
    assert status == 422
    assert "has not sat yet" in answer
    assert Participant.objects.get(code="41").standing == "named"


def test_the_artists_yes_leads_to_the_person(artist: Client) -> None:
    cast.told(cast.person("50", "Nour"), cast.marcel())
    typed = {"asked_first": "yes", "may_say_who": "no", "has_power": "not_said"}
    assert send(artist, "vouch", "50", **typed) == (302, page("detail", "50"))
    assert Participant.objects.get(code="50").standing == "vouched_for"


def test_not_asked_first_stands_beside_the_question(artist: Client) -> None:
    cast.told(cast.person("50", "Nour", community=cast.erable()), cast.marcel())
    status, answer = send(artist, "vouch", "50", asked_first="no")
    assert status == 422
    assert "Nobody asked them first." in answer


def test_vouching_shows_the_assistant_no_introducer(assistant: Client) -> None:
    bruno = cast.bruno()
    cast.in_sight(bruno, cast.assistant())
    shown = text(assistant, "vouch", "19")
    assert page("detail", "12") not in shown
    assert page("detail", "01") not in shown


def test_without_an_introduction_there_is_nothing_to_vouch(artist: Client) -> None:
    cast.person("50", "Nour")
    assert artist.get(page("vouch", "50")).status_code == 404


def test_the_artist_sees_level_introducer_and_shared_line(artist: Client) -> None:
    cast.bruno()
    shown = text(artist, "detail", "19")
    assert "Same telephone as" in shown
    assert page("detail", "12") in shown
    assert "counts as raised" in shown


def test_the_assistant_sees_none_of_them(assistant: Client) -> None:
    danuta = cast.danuta()
    cast.bruno()
    cast.in_sight(danuta, cast.assistant())
    shown = text(assistant, "detail", "12")
    for word in ("Same telephone as", "Shared telephone", "Level", "May vouch", "through <"):
        assert word not in shown
    assert page("detail", "01") not in shown


def test_a_wrong_entry_is_mended(assistant: Client) -> None:
    cast.in_sight(cast.marcel(), cast.assistant())
    typed = {"call_name": "Marceau", "heard_on": "2023-09-20", "community": ""}
    assert send(assistant, "mend", "01", **typed)[0] == 302
    assert Mending.objects.get().old["call_name"] == "Marcel"
    assert send(assistant, "mend", "01", **typed)[0] == 302
    assert Mending.objects.count() == 1
    status, answer = send(assistant, "mend", "01", **{**typed, "heard_on": "2026-11-23"})
    assert (status, "before this day" in answer) == (422, True)


def test_a_number_is_added_as_it_was_typed(artist: Client) -> None:
    herve = cast.herve()
    typed = {"number": "٠٦ ٣٩ ٩٨ ٠٠ ٤١", "country": "FR"}
    assert send(artist, "phone", "41", **typed) == (302, page("detail", "41"))
    line = herve.lines.get()
    assert (line.as_typed, line.number) == ("٠٦ ٣٩ ٩٨ ٠٠ ٤١", "+33639980041")
    assert "No plan gives this number out" in text(artist, "detail", "41")


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"number": "06 39 AB 00 41", "country": "FR"}, "A number has no letters."),
        ({"number": "0800 PORTRAIT", "country": "FR"}, "A number has no letters."),
        ({"number": "984123456", "country": "NP"}, "No number of this country has so many"),
        ({"number": "06 39 98 00 41", "country": ""}, "Which country is this number of?"),
        ({"number": "06", "country": "FR"}, "too short"),
        ({"number": "", "country": "FR"}, "No number was typed."),
        ({"number": "", "through": "ZZ9"}, "Look at this code again."),
        ({"number": "", "through": "41"}, "This must be somebody else."),
    ],
)
def test_a_number_that_cannot_be_read_is_refused_beside_its_field(
    artist: Client, typed: dict[str, str], says: str
) -> None:
    cast.herve()
    status, answer = send(artist, "phone", "41", **typed)
    assert status == 422
    assert says in answer
    if typed["number"]:
        assert f'value="{typed["number"]}"' in answer


def test_a_never_ring_number_is_refused_in_the_same_words_to_every_role(client: Client) -> None:
    actions.never_ring(person=cast.marcel(), by=cast.artist(), at=AT)
    cast.in_sight(cast.herve(), cast.assistant())
    said = []
    for user in (cast.artist(), cast.assistant()):
        cast.signed_in(client, user)
        status, answer = send(client, "phone", "41", number="+33 465 710 001", country="")
        assert status == 422
        said.append(re.findall(r'class="err"[^>]*>(.*?)</p>', answer, re.DOTALL))
    assert said[0] == said[1]
    assert "This number may not be rung." in str(said[0])


LINE = "04 65 71 00 31 (sœur) / 06 39 98 00 32 après 18 h"


def rows(*numbers: str, **rest: str) -> dict[str, str]:
    """What the page that parts a line sends."""
    typed = {f"number_{at}": number for at, number in enumerate(numbers)}
    return {"country": "FR", "line": LINE, **typed, **rest}


def test_several_numbers_in_one_line_are_asked_about_and_nothing_is_kept_yet(
    assistant: Client,
) -> None:
    herve = cast.herve()
    cast.in_sight(herve, cast.assistant())
    status, answer = send(assistant, "phone", "41", number=LINE, country="FR")
    assert status == 200
    assert "Look at this once more" in answer
    for name, value in (
        *(("number_0", "04 65 71 00 31"), ("note_0", "sœur")),
        *(("number_1", "06 39 98 00 32"), ("note_1", "après 18 h"), ("line", LINE)),
    ):
        assert re.search(rf'name="{name}" value="{re.escape(value)}"', answer)
    assert "The figures" in answer
    assert not herve.lines.exists()


def test_the_parts_are_kept_together_each_with_its_note(artist: Client) -> None:
    herve = cast.herve()
    sent = rows("04 65 71 00 31", "06 39 98 00 32", "", note_0="sœur", note_1="après 18 h")
    assert send(artist, "split", "41", **sent) == (302, page("detail", "41"))
    kept = {(line.number, line.note, line.zone) for line in herve.lines.all()}
    assert kept == {
        ("+33465710031", "sœur", "Europe/Paris"),
        ("+33639980032", "après 18 h", "Europe/Paris"),
    }


def test_one_part_that_cannot_be_kept_keeps_none_of_them(artist: Client) -> None:
    herve = cast.herve()
    status, answer = send(artist, "split", "41", **rows("04 65 71 00 31", "68"))
    assert (status, herve.lines.count()) == (422, 0)
    assert "This number is too short." in answer
    assert 'href="#id_number_1"' in answer


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        (rows(""), "No number was typed."),
        (rows("04 65 71 00 31", "", note_1="Bruno"), "No number was typed."),
        (rows("04 65 71 00 31", country=""), "Which country is this number of?"),
        (rows("04 65 71 00 31", through="41"), "This must be somebody else."),
        (rows(*["04 65 71 00 31"] * 9), "This number stands here already."),
    ],
)
def test_a_part_that_says_too_little_is_asked_again(
    artist: Client, sent: dict[str, str], says: str
) -> None:
    herve = cast.herve()
    status, answer = send(artist, "split", "41", **sent)
    assert (status, herve.lines.count()) == (422, 0)
    assert says in answer


def test_the_clock_is_asked_where_a_country_has_several(artist: Client) -> None:
    herve = cast.herve()
    status, answer = send(artist, "phone", "41", number="212 555 0142", country="US")
    assert (status, herve.lines.count()) == (200, 0)
    assert 'value="America/Chicago"' in answer
    status, answer = send(artist, "split", "41", **rows("212 555 0142", country="US"))
    assert (status, "they are rung by its hours" in answer) == (422, True)
    sent = rows("212 555 0142", country="US", zone_0="America/New_York")
    assert send(artist, "split", "41", **sent)[0] == 302
    assert herve.lines.get().zone == "America/New_York"
    assert "By the clock of New York" in text(artist, "detail", "41")


def test_a_line_kept_raw_is_not_asked_about(artist: Client) -> None:
    herve = cast.herve()
    sent = {"number": "06 39 98 00 41 or so (sister)", "country": "FR", "keep_raw": "on"}
    assert send(artist, "phone", "41", **sent)[0] == 302
    assert (herve.lines.get().as_typed, herve.lines.get().number) == (sent["number"], "")


def test_somebody_who_lives_elsewhere_is_rung_by_another_clock(assistant: Client) -> None:
    marcel = cast.marcel()
    cast.in_sight(marcel, cast.assistant())
    line = marcel.lines.get()
    shown = text(assistant, "detail", "01")
    assert "By our own clock" in shown
    assert page("zone", "01", line.pk) in shown
    asked = text(assistant, "zone", "01", line.pk)
    assert 'value="Asia/Kathmandu"' in asked
    assert len(asked.encode()) < 50_000
    assert send(assistant, "zone", "01", line.pk, zone="Mars/Olympus")[0] == 422
    sent = send(assistant, "zone", "01", line.pk, zone="Asia/Kathmandu")
    assert sent == (302, page("detail", "01"))
    line.refresh_from_db()
    assert line.zone == "Asia/Kathmandu"


def test_a_note_is_shown_with_its_number_only(artist: Client) -> None:
    marcel = cast.marcel()
    line = marcel.lines.get()
    line.note = "the neighbour below"
    line.save()
    assert "neighbour" not in text(artist, "detail", "01")
    assert "the neighbour below" in send(artist, "show_number", "01", line.pk)[1]


def test_a_number_never_to_be_rung_among_others_is_refused_alike_to_every_role(
    client: Client,
) -> None:
    actions.never_ring(person=cast.marcel(), by=cast.artist(), at=AT)
    cast.in_sight(cast.herve(), cast.assistant())
    said = []
    for user in (cast.artist(), cast.assistant()):
        cast.signed_in(client, user)
        status, answer = send(client, "split", "41", **rows("06 39 98 00 31", "04 65 71 00 01"))
        assert status == 422
        said.append(re.findall(r'class="err"[^>]*>(.*?)</p>', answer, re.DOTALL))
    assert said[0] == said[1]
    assert "This number may not be rung." in str(said[0])
    assert not cast.herve().lines.exists()


HEARD = {"source": "own", "heard_on": "2026-11-23"}


def test_the_artist_is_asked_whether_somebody_new_is_somebody_known(artist: Client) -> None:
    rachid = cast.rachid()
    people, before = Participant.objects.count(), rachid.introductions.count()
    status, answer = send(artist, "new", call_name="Rashid", **HEARD)
    assert status == 422
    assert "Say who it is." in answer
    assert 'value="17"' in answer
    assert Participant.objects.count() == people
    status, where = send(artist, "new", call_name="Rashid", perhaps="17", **HEARD)
    assert (status, where) == (302, page("detail", "17"))
    assert (Participant.objects.count(), rachid.introductions.count()) == (people, before + 1)
    assert send(artist, "new", call_name="Rashid", perhaps="new", **HEARD)[0] == 302
    assert Participant.objects.count() == people + 1


def test_word_sent_twice_is_answered_as_the_first_time_and_not_asked_about(artist: Client) -> None:
    sent = {"token": str(uuid.uuid4()), "call_name": "Odilon", **HEARD}
    assert send(artist, "new", **sent) == send(artist, "new", **sent)
    assert Participant.objects.count() == 1
    assert send(artist, "new", **{**sent, "token": "no token"})[0] == 422


def test_nobody_known_is_nothing_to_ask(artist: Client) -> None:
    cast.rachid()
    people = Participant.objects.count()
    assert send(artist, "new", call_name="Odilon", **HEARD)[0] == 302
    assert Participant.objects.count() == people + 1


def test_the_assistant_never_learns_that_somebody_is_known(assistant: Client) -> None:
    """By name and by number: the answers are those for somebody nobody knows (job.md row 4)."""
    cast.rachid()
    answers = []
    for name, number in (("Rashid", "06 39 98 00 17"), ("Odilon", "06 39 98 00 55")):
        status, where = send(assistant, "new", call_name=name, **HEARD)
        fresh = Participant.objects.exclude(code="17").latest("pk")
        for code in Participant.objects.exclude(code="17").values_list("code", flat=True):
            if code in where:
                fresh = Participant.objects.get(code=code)
        assert where == page("vouch", fresh.code)
        pages = [text(assistant, "vouch", fresh.code), text(assistant, "detail", fresh.code)]
        sent = send(assistant, "phone", fresh.code, number=number, country="FR")
        pages += [str(sent), text(assistant, "detail", fresh.code)]
        shown = "".join(pages).replace(name, "NAME").replace(fresh.code, "CODE")
        keys = r"[0-9a-f]{8}-[0-9a-f-]{27}|csrfmiddlewaretoken[^>]*|nonce=\S+"
        answers.append((status, re.sub(keys, "", shown)))
        assert assistant.get(page("same", fresh.code)).status_code == 404
    assert answers[0] == answers[1]


def test_the_artist_says_later_that_a_name_is_somebody_known(artist: Client) -> None:
    rachid, odile = cast.rachid(), cast.person("80", "Odile", "taking_part")
    cast.told(cast.person("90", "Rashid"), odile)
    shown = text(artist, "detail", "90")
    assert "Perhaps the same as" in shown
    assert page("same", "90") in text(artist, "vouch", "90")
    assert 'value="80"' not in text(artist, "same", "90")
    assert send(artist, "same", "90")[0] == 422
    assert send(artist, "same", "90", perhaps="80")[0] == 422
    assert send(artist, "same", "90", perhaps="17") == (302, page("detail", "17"))
    assert rachid.introductions.filter(introducer=odile).exists()
    status, answer = send(artist, "same", "90", perhaps="17")
    assert (status, "This was noted before." in answer) == (422, True)


def test_somebody_on_the_same_telephone_is_perhaps_the_same(artist: Client) -> None:
    cast.marcel()
    cast.line(cast.person("90", "Odilon"), "04 65 71 00 01")
    assert 'value="01"' in text(artist, "same", "90")


def test_who_takes_part_is_not_asked_about_any_more(artist: Client) -> None:
    cast.person("90", "Marcelle")
    assert "Perhaps the same as" not in text(artist, "detail", cast.marcel().code)
    assert "Nobody here is like them." in text(artist, "same", "01")


def test_the_artists_search_finds_a_person_in_any_script(artist: Client) -> None:
    cast.rachid()
    status, answer = send(artist, "list", typed="Rashid")
    found = answer[answer.index("h-found") : answer.index("h-all")]
    assert (status, "/person/17/" in found) == (200, True)


def test_a_number_is_shown_one_at_a_time_and_noted(assistant: Client) -> None:
    marcel = cast.marcel()
    cast.in_sight(marcel, cast.assistant())
    line = marcel.lines.get()
    assert "04 65 71 00 01" not in text(assistant, "detail", "01")
    assert not AccessEntry.objects.exists()
    address = page("show_number", "01", line.pk)
    assert assistant.get(address).status_code == 405
    shown = assistant.post(address).content.decode()
    assert "+33 4 65 71 00 01" in shown
    assert 'href="tel:+33-4-65-71-00-01"' in shown
    assert AccessEntry.objects.get().kind == "phone"


def test_who_is_to_be_written_to_has_no_link_to_ring(artist: Client) -> None:
    marcel = cast.marcel()
    marcel.text_only = True
    marcel.save()
    shown = artist.post(page("show_number", "01", marcel.lines.get().pk)).content.decode()
    assert "tel:" not in shown


def test_a_line_out_of_sight_is_absent(assistant: Client) -> None:
    line = cast.marcel().lines.get()
    for name in ("show_number", "end_line"):
        assert assistant.post(page(name, "01", line.pk)).status_code == 404


def test_a_number_that_reaches_them_no_more_leaves_the_list(artist: Client) -> None:
    line = cast.marcel().lines.get()
    artist.post(page("end_line", "01", line.pk))
    assert "No number yet." in text(artist, "detail", "01")


def test_names_are_kept_with_script_and_shown_to_the_assistant_on_request(
    client: Client,
) -> None:
    cast.in_sight(cast.rachid(), cast.assistant())
    cast.signed_in(client, cast.artist())
    typed = {"text": "Rachid Ouldamer", "kind": "spelling", "script": "Latn"}
    assert send(client, "names", "17", **typed)[0] == 302
    assert "Rachid Ouldamer" in text(client, "names", "17")
    assert send(client, "names", "17", **{**typed, "text": "x\u202e"})[0] == 422
    cast.signed_in(client, cast.assistant())
    assert "Ouldamer" not in text(client, "detail", "17")
    shown = client.post(page("show_names", "17")).content.decode()
    assert "Rachid Ouldamer" in shown
    assert AccessEntry.objects.get().kind == "names"
    assert Name.objects.count() == 1


def test_a_name_written_wrongly_is_mended(client: Client) -> None:
    rachid = cast.rachid()
    name = Name.objects.create(person=rachid, kind="spelling", text="Rachit", script="Latn")
    cast.signed_in(client, cast.assistant())
    cast.in_sight(rachid, cast.assistant())
    assert client.get(page("mend_name", "17", name.pk)).status_code == 404
    cast.signed_in(client, cast.artist())
    assert "Rachit" in text(client, "mend_name", "17", name.pk)
    typed = {"text": "Rachid", "kind": "spelling", "script": "Latn"}
    assert send(client, "mend_name", "17", name.pk, **typed) == (302, page("names", "17"))
    name.refresh_from_db()
    assert name.text == "Rachid"
    assert Mending.objects.get().old["text"] == "Rachit"
    assert client.get(page("mend_name", "17", uuid.uuid4())).status_code == 404


def test_birth_is_kept_as_an_interval_with_what_was_said(artist: Client) -> None:
    cast.bruno()
    assert send(artist, "born", "19", said="٢٠٠٨")[0] == 302
    bruno = Participant.objects.get(code="19")
    assert (str(bruno.born_earliest), str(bruno.born_latest)) == ("2008-01-01", "2008-12-31")
    for said, says in (
        ("2027", "This day has not come yet."),
        ("about eighteen", "cannot be read"),
        ("", "Say when they were born"),
    ):
        status, answer = send(artist, "born", "19", said=said)
        assert (status, says in answer) == (422, True)


def test_birth_in_another_calendar_is_shown_back_and_sent_once_more(artist: Client) -> None:
    cast.bruno()
    status, answer = send(artist, "born", "19", said="BS 2065")
    assert status == 422
    assert "Understood: " in answer and "13 April 2008" in answer and "2065 BS" in answer
    assert not Participant.objects.get(code="19").born_earliest
    assert send(artist, "born", "19", said="BS 2065", said_meant="2008-04-13")[0] == 302
    bruno = Participant.objects.get(code="19")
    assert (str(bruno.born_earliest), str(bruno.born_latest)) == ("2008-04-13", "2009-04-13")
    assert bruno.born_said == "BS 2065"
    page = text(artist, "detail", "19")
    assert "perhaps under age: taken as under age" in page
    assert "17–18" in page


def test_birth_is_noted_as_an_age_on_the_day_it_was_said(artist: Client) -> None:
    cast.bruno()
    typed = {"said": "about 18", "said_on": "2026-03-01"}
    born = {"said_meant": "2005-03-02/2010-03-01"}
    status, answer = send(artist, "born", "19", **typed)
    assert status == 422
    understood = "age 16–20 on 1 March 2026; born between 2 March 2005 and 1 March 2010"
    assert f"Understood: {understood}" in strip_marks(answer)
    assert "Look at what was understood" in answer
    assert not Participant.objects.get(code="19").born_earliest
    assert send(artist, "born", "19", **typed, **born)[0] == 302
    bruno = Participant.objects.get(code="19")
    assert (str(bruno.born_earliest), str(bruno.born_latest)) == ("2005-03-02", "2010-03-01")
    assert bruno.born_said == "about 18 (2026-03-01)"
    assert "16–21" in text(artist, "detail", "19")


def test_an_age_in_figures_is_shown_back_and_sent_once_more(artist: Client) -> None:
    cast.bruno()
    status, answer = send(artist, "born", "19", said="३६")
    assert status == 422
    assert "age 36 on 23 November 2026; born between 24 November 1989" in strip_marks(answer)
    assert 'value="३६"' in artist.post(page("born", "19"), {"said": "३६"}).content.decode()
    meant = "1989-11-24/1990-11-23"
    # What was confirmed of another age, or of another day, is asked again.
    assert send(artist, "born", "19", said="17", said_meant=meant)[0] == 422
    other = {"said": "36", "said_on": "2026-11-20", "said_meant": meant}
    assert send(artist, "born", "19", **other)[0] == 422
    assert not Participant.objects.get(code="19").born_earliest
    assert send(artist, "born", "19", said="३६", said_meant=meant)[0] == 302
    assert "of age" in text(artist, "detail", "19") and "36" in text(artist, "detail", "19")
    status, answer = send(artist, "born", "19", said="17", said_on="2026-11-30")
    assert (status, "This day has not come yet." in answer) == (422, True)
    assert "Understood" not in answer


def test_of_whoever_is_of_age_the_year_alone_is_kept_where_asked(artist: Client) -> None:
    cast.bruno()
    assert send(artist, "born", "19", said="5/3/1990", year_only="on")[0] == 302
    bruno = Participant.objects.get(code="19")
    assert (str(bruno.born_earliest), str(bruno.born_latest)) == ("1990-01-01", "1990-12-31")
    assert bruno.born_said == "1990"
    meant = {"said": "9 Mangsir 2047", "said_meant": "1990-11-25", "year_only": "on"}
    assert send(artist, "born", "19", **meant)[0] == 302
    bruno.refresh_from_db()
    assert (str(bruno.born_earliest), bruno.born_said) == ("1990-04-14", "2047 BS")
    # Of a child the day is kept.
    assert send(artist, "born", "19", said="5/3/2016", year_only="on")[0] == 302
    bruno.refresh_from_db()
    assert (str(bruno.born_latest), bruno.born_said) == ("2016-03-05", "5/3/2016")


def test_their_calendar_stands_beside_the_days_of_their_page(artist: Client) -> None:
    cast.bruno()
    assert send(artist, "born", "19", said="5/3/2016")[0] == 302
    assert "BS" not in without_chance(text(artist, "detail", "19"))
    assert send(artist, "ways", "19", first="fr", calendar="bikram_sambat")[0] == 302
    assert Participant.objects.get(code="19").calendar == "bikram_sambat"
    assert "22 Falgun 2072 BS" in text(artist, "detail", "19")
    assert send(artist, "ways", "19", first="fr", calendar="mayan")[0] == 422
    # That of their language, where they named none.
    assert send(artist, "ways", "19", first="fa", calendar="")[0] == 302
    assert "15 Esfand 1394 SH" in text(artist, "detail", "19")


def test_the_higher_level_of_two_views_counts(artist: Client) -> None:
    cast.bruno()
    assert "keep the higher" in text(artist, "level", "19")
    for theirs, ours, kept in (
        ("ordinary", "ordinary", "ordinary"),
        ("", "ordinary", "raised"),
        ("ordinary", "grave", "grave"),
    ):
        assert send(artist, "level", "19", theirs=theirs, ours=ours)[0] == 302
        assert Participant.objects.get(code="19").level == kept
    assert send(artist, "level", "19", theirs="grave")[0] == 422


def test_a_condition_has_its_day_and_no_cause(assistant: Client) -> None:
    cast.in_sight(cast.marcel(), cast.assistant())
    status, answer = send(assistant, "condition", "01", condition="cannot_answer")
    assert (status, "Say since which day." in answer) == (422, True)
    late = send(assistant, "condition", "01", condition="died", condition_on="2026-12-01")
    assert (late[0], "This day has not come yet." in late[1]) == (422, True)
    typed = {"condition": "cannot_answer", "condition_on": "2026-11-20"}
    assert send(assistant, "condition", "01", **typed)[0] == 302
    assert Participant.objects.get(code="01").standing == "spoken_for"


def test_a_speaker_is_named(assistant: Client) -> None:
    cast.in_sight(cast.marcel(), cast.assistant())
    cast.danuta()
    for typed, says in (
        ({"speaker": "01"}, "This must be somebody else."),
        ({}, "Name the one who answers for them."),
        ({"speaker": "ZZ9"}, "Look at this code again."),
    ):
        status, answer = send(assistant, "speaker", "01", named_on="2026-11-20", **typed)
        assert (status, says in answer) == (422, True)
    assert send(assistant, "speaker", "01", named_on="2026-11-20", speaker="12")[0] == 302


def test_ways_of_ringing_are_noted(assistant: Client) -> None:
    marcel = cast.marcel()
    cast.in_sight(marcel, cast.assistant())
    assert "Imagine this line read aloud at a checkpoint." in text(assistant, "ways", "01")
    typed = {"first": "fr", "second": "ar", "reads": "no", "begin": "13:00", "end": "15:00",
             "safe_days": ["1"], "instruction": "Ask for Marcel."}  # fmt: skip
    assert send(assistant, "ways", "01", **typed)[0] == 302
    marcel.refresh_from_db()
    assert (marcel.languages, marcel.safe_hours) == ("fr ar", [["13:00", "15:00"]])
    assert (marcel.safe_days, marcel.reads) == ([1], False)
    shown = text(assistant, "detail", "01")
    for words in ("Tuesday", "French", "13:00", "Ask for Marcel."):
        assert words in shown


@pytest.mark.parametrize(
    ("begin", "end", "says"),
    [("13:00", "", "from when until when"), ("", "13:00", "from when until when"),
     ("15:00", "13:00", "not after the first hour")],
)  # fmt: skip
def test_hours_are_whole(artist: Client, begin: str, end: str, says: str) -> None:
    cast.marcel()
    status, answer = send(artist, "ways", "01", begin=begin, end=end)
    assert (status, says in answer) == (422, True)


def test_hours_that_nobody_could_name_and_further_hours_are_kept(artist: Client) -> None:
    marcel = cast.marcel()
    send(artist, "ways", "01", hours_unknown="on")
    marcel.refresh_from_db()
    assert marcel.safe_hours == [["10:00", "12:00"], ["14:00", "19:00"]]
    marcel.safe_hours = [["08:00", "09:00"], ["18:00", "19:00"]]
    marcel.save()
    send(artist, "ways", "01", begin="08:00", end="09:00")
    marcel.refresh_from_db()
    assert marcel.safe_hours == [["08:00", "09:00"], ["18:00", "19:00"]]
    send(artist, "ways", "01")
    marcel.refresh_from_db()
    assert marcel.safe_hours == []


def test_whoever_rings_us_the_answer_is_the_same(assistant: Client) -> None:
    cast.danuta()
    answers = [
        assistant.post(page("rang_us"), {"token": str(uuid.uuid4()), "typed": typed}, follow=True)
        for typed in ("12", "somebody unheard of")
    ]
    bodies = [_bare(answer.content) for answer in answers]
    assert bodies[0] == bodies[1]
    assert "Heard." in bodies[0]
    assert RangUs.objects.count() == 2
    assert "Danuta" in text(assistant, "list")


def test_a_hold_is_laid_in_one_press_and_lifted_with_a_sentence(client: Client) -> None:
    cast.in_sight(cast.marcel(), cast.assistant())
    cast.signed_in(client, cast.assistant())
    assert send(client, "hold", "01", next_look_on="2026-12-01")[0] == 302
    assert "A hold lies here" in text(client, "detail", "01")
    assert client.get(page("lift", "01")).status_code == 404
    late = send(client, "hold", "01", next_look_on="2027-01-01")
    assert (late[0], "within 14 days" in late[1]) == (422, True)
    cast.signed_in(client, cast.artist())
    assert send(client, "lift", "01", sentence="")[0] == 422
    assert send(client, "lift", "01", sentence="A rumour.")[0] == 302
    assert client.get(page("lift", "01")).status_code == 404


@pytest.mark.parametrize("who", [cast.artist, cast.assistant, cast.wording_reader, cast.keeper])
def test_anyone_holds_by_a_code_and_is_told_nothing(client: Client, who: object) -> None:
    cast.marcel()
    cast.signed_in(client, who())  # type: ignore[operator]
    for code in ("01", "nobody"):
        typed = {"code": code, "next_look_on": "2026-12-01"}
        assert send(client, "hold_by_code", **typed) == (302, page("heard"))
    assert PersonHold.objects.get().person.code == "01"


def test_the_keeper_lifts_by_a_code_and_is_told_nothing(client: Client) -> None:
    actions.hold(person=cast.marcel(), by=cast.assistant(), at=AT)
    cast.rachid()
    cast.signed_in(client, cast.keeper())
    for code in ("01", "17", "nobody"):
        typed = {"code": code, "sentence": "A rumour."}
        assert send(client, "lift_by_code", **typed) == (302, page("heard"))
    assert PersonHold.objects.get().lifted_by == cast.keeper()
    cast.signed_in(client, cast.assistant())
    assert client.get(page("lift_by_code")).status_code == 404


def test_never_ring_takes_two_presses_and_is_undone_within_a_day(client: Client) -> None:
    cast.in_sight(cast.marcel(), cast.assistant())
    cast.signed_in(client, cast.assistant())
    assert "marked now" in text(client, "never_ring", "01")
    assert not NeverRing.objects.exists()
    assert send(client, "never_ring", "01")[0] == 302
    assert "erased 24 hours after" in text(client, "detail", "01")
    assert client.get(page("undo_never_ring")).status_code == 404
    cast.signed_in(client, cast.keeper())
    for code in ("12", "nobody"):
        status, answer = send(client, "undo_never_ring", code=code)
        assert (status, "is over" in answer) == (422, True)
    assert send(client, "undo_never_ring", code="01") == (302, page("heard"))
    assert Participant.objects.get(code="01").standing == "taking_part"


def test_the_artist_settles_who_rang_and_shared_numbers(client: Client) -> None:
    heard = actions.rang_us(typed="somebody", by=cast.assistant(), at=AT)
    mark = actions.never_ring(person=cast.bruno(), by=cast.assistant(), at=AT)
    cast.signed_in(client, cast.assistant())
    for name, key in (("settle_rang_us", heard.pk), ("settle_shared", mark.pk)):
        assert client.post(page(name, key)).status_code == 404
    cast.signed_in(client, cast.artist())
    for name, key in (("settle_rang_us", heard.pk), ("settle_shared", mark.pk)):
        assert client.post(page(name, key)).status_code == 302
        assert client.post(page(name, key)).status_code == 404
    mark.refresh_from_db()
    assert mark.whole_number


def test_the_artist_says_who_may_vouch(artist: Client) -> None:
    cast.bruno()
    for typed, may in (({"yes": "1"}, True), ({}, False)):
        artist.post(page("may_vouch", "19"), typed)
        assert Participant.objects.get(code="19").may_vouch is may


def test_groups_have_neutral_names_given_once(artist: Client) -> None:
    assert "No group yet." in text(artist, "communities")
    typed = {"key": "orme", "name": "Orme", "is_raised": "on"}
    assert send(artist, "communities", **typed)[0] == 302
    assert Community.objects.get().is_raised
    status, answer = send(artist, "communities", **typed)
    assert (status, "with this key" in answer, "with this name" in answer) == (422, True, True)
    assert "Many at risk" in text(artist, "communities")


def test_the_artist_says_how_many_of_a_group_are_hoped_for(artist: Client) -> None:
    cast.aulne()
    assert "Nobody has said how many" in text(artist, "communities")
    assert send(artist, "hope", "aulne", hoped_for="12")[0] == 302
    assert "We hope for 12 sitters." in text(artist, "communities")
    assert 'value="12"' in text(artist, "hope", "aulne")
    assert send(artist, "hope", "aulne", hoped_for="-1")[0] == 422
    assert send(artist, "hope", "aulne", hoped_for="")[0] == 302
    assert Community.objects.get().hoped_for is None
    assert artist.get(page("hope", "nowhere")).status_code == 404


def test_somebody_outside_is_a_label(artist: Client) -> None:
    assert "Nobody outside" in text(artist, "outside")
    assert send(artist, "outside", code="x4", label="a choir")[0] == 302
    assert send(artist, "outside", code="x5", label="a café", accepted_on="2026-11-01")[0] == 302
    assert OutsideIntroducer.objects.get(code="X4").accepted_on is None
    shown = text(artist, "outside")
    assert ("Accepted" in shown, "Not yet" in shown) == (True, True)


def test_people_outside_tell_us_of_somebody(artist: Client) -> None:
    typed = word(source="outside", introducer="", outside=str(cast.chaplaincy().pk))
    assert send(artist, "new", **typed)[0] == 302
    told = Participant.objects.get(heard_on="2026-11-20").introductions.get()
    assert told.outside == cast.chaplaincy()
    own = word(source="own", introducer="01", perhaps="new")
    assert send(artist, "new", **own)[0] == 302
