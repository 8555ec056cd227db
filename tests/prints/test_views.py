"""The pages of prints: what is owed, the way of one print, and promises."""

import pytest

from relations.prints.actions import promise
from relations.prints.models import Print, Promise
from tests import cast
from tests.cast import days
from tests.prints.frames import made, picture
from tests.prints.sent import post, text

pytestmark = pytest.mark.django_db
LATE = 'class="mk"><span class="st no">'


def test_the_artist_sees_the_counts_and_the_assistant_none(client):
    made(cast.danuta(), owed_since=days(-90))
    page = text(cast.signed_in(client, cast.artist()).get("/prints/"))
    assert "0 of 1 are acknowledged (0 %)." in page
    assert "1 is late" in page
    cast.in_sight(cast.danuta(), cast.assistant())
    page = text(cast.signed_in(client, cast.assistant()).get("/prints/"))
    assert "acknowledged (" not in page
    assert "Danuta" in page


def test_prints_out_of_sight_are_not_there(client):
    made(cast.danuta())
    client = cast.signed_in(client, cast.assistant())
    assert "No print is on its way." in text(client.get("/prints/"))
    for url in ("/prints/12/K12/", "/prints/12/K12/asked_how/"):
        assert client.get(url).status_code == 404


@pytest.mark.parametrize("who", [cast.keeper, cast.wording_reader])
def test_who_sees_no_people_sees_no_prints(client, who):
    client = cast.signed_in(client, who())
    for url in ("/prints/", "/prints/promises/", "/prints/12/K12/"):
        assert client.get(url).status_code == 404


def test_owing_what_is_missing_is_one_press_of_the_artist(artist):
    picture("K12", cast.danuta())
    assert post(artist, "/prints/owe/").url == "/prints/"
    assert Print.objects.count() == 1
    assert artist.post("/prints/owe/").status_code == 422
    assert artist.get("/prints/owe/").status_code == 405


def test_the_next_step_is_one_press_on_the_way_of_a_print(hand):
    made(cast.danuta(), state="collected")
    page = text(hand.get("/prints/12/K12/"))
    assert "Collected on 22 November 2026, not checked yet." in page
    assert 'action="/prints/12/K12/checked/"' in page
    assert 'href="/prints/12/K12/faulty/"' in page
    response = post(hand, "/prints/12/K12/checked/", was="collected", on="2026-11-23")
    assert response.url == "/prints/12/K12/"
    assert Print.objects.get().state == "checked"


def test_two_steps_at_once_are_refused_in_words_with_all_as_typed(hand):
    made(cast.danuta(), state="owed")
    said = {"was": "owed", "on": "2026-11-23"}
    response = post(hand, "/prints/12/K12/ordered/", **said)
    assert response.status_code == 422
    assert "These are two steps at once." in text(response)
    assert Print.objects.get().state == "owed"


def test_an_old_tab_is_refused_in_words_and_can_be_sent_again(hand):
    made(cast.danuta(), state="in_hand")
    said = {"was": "out_on_a_round", "on": "2026-11-23", "reason": "a scratch"}
    response = post(hand, "/prints/12/K12/faulty/", **said)
    assert response.status_code == 422
    page = text(response)
    assert "Somebody noted a step since this page was opened." in page
    assert "a scratch" in page
    assert 'name="was" value="in_hand"' in page
    assert post(hand, "/prints/12/K12/faulty/", **{**said, "was": "in_hand"}).status_code == 302


def test_the_same_step_of_two_people_at_once_is_stored_once_and_the_second_is_told(hand):
    row = made(cast.danuta(), state="collected")
    said = {"was": "collected", "on": "2026-11-23"}
    assert post(hand, "/prints/12/K12/checked/", **said).status_code == 302
    second = post(cast.signed_in(hand, cast.artist()), "/prints/12/K12/checked/", **said)
    assert second.status_code == 422
    assert "It is there already." in text(second)
    assert 'class="btn main" href="/prints/12/K12/">Where it is now' in text(second)
    assert 'value="2026-11-23"' in text(second), "what was typed is not lost"
    assert 'name="was"' not in text(hand.get("/prints/12/K12/checked/")), "opened, it asks nothing"
    assert row.steps.filter(became="checked").count() == 1


def test_asking_how_keeps_the_way_and_shows_it(hand):
    made(cast.danuta())
    assert "Is a print safe to have there?" in text(hand.get("/prints/12/K12/asked_how/"))
    said = {"was": "owed", "on": "23.11.2026", "is_safe": "yes", "size": "18 × 24 cm"}
    said |= {"into_whose_hand": "their own", "word_at_the_door": "from the quay"}
    said |= {"answer": "print", "when_to_come": "Saturdays"}
    then = post(hand, "/prints/12/K12/asked_how/", **said).url
    assert then == "/prints/12/K12/where/", "a safe print of which nobody knows where it is brought"
    page = text(hand.get(then))
    assert 'When we may come: <bdi dir="ltr" class="words">Saturdays</bdi>' in page
    assert page.index("Where, in words") < page.index("Said before") < page.index("from the quay")
    page = text(hand.get("/prints/12/K12/"))
    assert "from the quay" in page
    assert "18 × 24 cm" in page
    assert "Saturdays" in page


def test_kept_for_them_is_answered_on_the_page_of_asking(hand):
    made(cast.danuta(), not_at_the_lab=True)
    form = hand.get("/prints/12/K12/asked_how/").context["form"]
    assert form["answer"].value() == "keep"
    said = {"was": "owed", "on": "2026-11-23", "answer": "keep", "box": "B12"}
    assert post(hand, "/prints/12/K12/asked_how/", **said).url == "/prints/12/K12/"
    page = text(hand.get("/prints/12/K12/"))
    assert "Kept for them since 23 November 2026." in page
    assert "B12" in page


def test_whoever_said_no_meanwhile_is_asked_nothing_and_their_print_is_kept(hand):
    row = made(cast.danuta(), state="kept_for_them", is_safe=True)
    row.person.standing = "said_no"
    row.person.save()
    page = text(hand.get("/prints/12/K12/"))
    assert "nobody goes there. Keep it for them." in page
    assert "Ask again on each trip." not in page
    assert "btn main" not in page[page.index("<main") :]
    assert "/prints/12/K12/where/" not in page
    assert hand.get("/prints/12/K12/asked_how/").context["form"]["answer"].value() == "keep"


def test_an_apology_is_owed_first_and_another_print_may_be_promised(hand):
    made(cast.danuta(), "", state="nothing_to_print")
    page = text(hand.get("/prints/12/no-picture/"))
    assert "Say sorry first" in page
    assert "/prints/promises/new/?code=12&amp;kind=substitute_print" in page


def test_an_assistants_list_says_of_a_print_held_close_only_what_to_do(hand):
    made(cast.danuta(), "K12", "checked", not_at_the_lab=True)
    page = text(hand.get("/prints/"))
    assert "Not at the lab. Keep it for them." in page
    assert "Danuta" not in page
    assert "Checked on" not in page
    page = text(cast.signed_in(hand, cast.artist()).get("/prints/"))
    assert "Danuta" in page


def test_whoever_holds_the_print_is_offered_the_talk_and_whoever_took_all_back_is_not(hand):
    row = made(cast.danuta(), "K12", "in_hand")
    page = text(hand.get("/prints/12/K12/"))
    assert "A good moment for the talk about uses" in page
    assert "/prints/promises/new/?code=12&amp;kind=thank_you" in page
    row.person.standing = "stepped_back"
    row.person.save()
    assert "A good moment for the talk" not in text(hand.get("/prints/12/K12/"))


def test_the_artist_counts_group_by_group(client):
    made(cast.marcel(), "K01", "acknowledged")
    made(cast.person("34", "Sol", community=cast.erable()), "K34", owed_since=days(-90))
    page = text(cast.signed_in(client, cast.artist()).get("/prints/"))
    assert "Group by group" in page
    assert "Aulne" in page
    cast.in_sight(cast.marcel(), cast.assistant())
    assert "Aulne" not in text(cast.signed_in(client, cast.assistant()).get("/prints/"))


def test_a_print_of_somebody_whose_risk_became_grave_is_marked_when_the_artist_looks(client):
    made(cast.ibrahima(), "K35")
    page = text(cast.signed_in(client, cast.artist()).get("/prints/"))
    assert "Not at the lab." in page
    assert Print.objects.get().not_at_the_lab


def test_an_invitation_asks_first_who_may_see_them_and_is_kept_on_its_day(hand):
    said = {"code": "12", "kind": "invitation", "on": "2026-11-01"}
    post(hand, "/prints/promises/new/", **said)
    kept = f"/prints/promises/{Promise.objects.get().pk}/kept/"
    assert "not asked yet whether others may see them there" in text(hand.get("/prints/promises/"))
    assert "Ask, then keep it" in text(hand.get("/prints/promises/"))
    assert "May others see them there?" in text(hand.get(kept))
    response = post(hand, kept, on="2026-11-20", others_may_see="not_said")
    assert response.status_code == 422
    assert "Ask first whether others may see them there." in text(response)
    assert post(hand, kept, on="2026-11-20", others_may_see="yes").url == "/prints/promises/"
    found = Promise.objects.get()
    assert (found.kept_on, found.others_may_see) == (days(-3), True)
    assert "others may see them there" in text(hand.get("/prints/promises/"))


def test_a_promise_of_a_sum_says_how_much_and_starts_with_whose_it_is(hand):
    page = text(hand.get("/prints/promises/new/?code=12&kind=sum"))
    assert 'value="12"' in page
    assert 'value="sum" selected' in page
    said = {"code": "12", "kind": "sum", "on": "2026-11-01", "amount": "12,50", "currency": "eur"}
    post(hand, "/prints/promises/new/", **said)
    assert "12.50 EUR" in text(hand.get("/prints/promises/"))


def test_a_late_print_a_waiting_step_and_an_end_say_so(hand):
    made(cast.danuta(), "K12", "posted", owed_since=days(-90), not_at_the_lab=True, box="B1")
    page = text(hand.get("/prints/12/K12/"))
    assert "and still wait." in page
    assert "Look for a way: Wait thirty days for word first." in page
    assert "Not at the lab." in text(hand.get("/prints/"))
    made(cast.danuta(), "K13", "acknowledged")
    assert "Nothing more is to be done with it." in text(hand.get("/prints/12/K13/"))


def test_a_state_that_does_not_exist_is_not_there(hand):
    made(cast.danuta())
    assert hand.get("/prints/12/K12/eaten/").status_code == 404


def test_nothing_came_out_and_it_is_owed_all_the_same(hand):
    assert hand.get("/prints/without-picture/").status_code == 200
    response = post(hand, "/prints/without-picture/", code="12", on="2026-11-20")
    assert response.url == "/prints/12/no-picture/"
    page = text(hand.get(response.url))
    assert "There is nothing to print" in page
    assert "/prints/12/no-picture/" in text(hand.get("/prints/"))
    assert post(hand, "/prints/without-picture/", code="77", on="").status_code == 422


def test_a_promise_that_ended_otherwise_says_so_and_waits_for_nothing(hand):
    made = {"kind": "book_copy", "on": days(-30), "due_on": days(-1)}
    row = promise(person=cast.danuta(), by=cast.artist(), **made)
    page = text(hand.get(f"/prints/promises/{row.pk}/ended/"))
    assert "It could not be kept" not in page, "that is for the artist to say"
    assert f'href="/prints/promises/{row.pk}/kept/"' in page
    assert LATE in text(hand.get("/prints/promises/"))
    said = {"how": "let_off", "why": "no room for books", "on": "2026-11-22"}
    assert post(hand, f"/prints/promises/{row.pk}/ended/", **said).status_code == 302
    page = text(hand.get("/prints/promises/"))
    told = "They let us off on 22 November 2026. Why: "
    assert f'{told}<bdi dir="ltr" class="words">no room for books</bdi>' in page
    for name in ("kept", "ended"):
        opened = text(hand.get(f"/prints/promises/{row.pk}/{name}/"))
        assert told in opened and 'name="on"' not in opened
    assert f"/prints/promises/{row.pk}/" not in page, "nothing more is to be pressed"
    assert LATE not in page


def test_promises_are_noted_and_kept(hand):
    assert "Nothing else is promised." in text(hand.get("/prints/promises/"))
    assert hand.get("/prints/promises/new/").status_code == 200
    said = {"code": "12", "kind": "invitation", "on": "2026-11-01", "others_may_see": "no"}
    response = post(hand, "/prints/promises/new/", **said, due_on="2026-10-01")
    assert response.status_code == 422
    assert "It is due before it was promised." in text(response)
    post(hand, "/prints/promises/new/", **said, due_on="2026-11-20")
    promise = Promise.objects.get()
    assert promise.others_may_see is False
    assert "give them a quiet hour" in text(hand.get("/prints/promises/"))
    assert hand.post(f"/prints/promises/{promise.pk}/kept/").status_code == 422
    post(hand, f"/prints/promises/{promise.pk}/kept/")
    assert "Kept on 23 November 2026." in text(hand.get("/prints/promises/"))


def test_after_two_failures_a_better_way_is_asked_for_before_anybody_sets_out(hand):
    row = made(cast.danuta(), state="looking_for_a_way", tries=2, is_safe=None)
    first = '<a class="btn main" href="/prints/12/K12/where/">'
    assert first in text(hand.get("/prints/12/K12/"))
    Print.objects.filter(pk=row.pk).update(is_safe=True)
    assert first not in text(hand.get("/prints/12/K12/"))
