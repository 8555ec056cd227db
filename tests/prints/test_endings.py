"""A print is closed out by somebody named and for a reason; a promise has one ending."""

from uuid import uuid4

import pytest
from django.urls import reverse

from relations.prints import actions, endings, queries
from relations.prints.models import Print, Promise
from relations.privacy.refused import Refused
from tests import cast
from tests.cast import days
from tests.prints.frames import made

pytestmark = pytest.mark.django_db
KEPT = {"state": "kept_for_them"}


def close_out(row, **said):
    usual = {"ending": "archive", "decided_by": "Ines", "why": "moved, no word since 2024"}
    when = {"on": days(0), "by": cast.artist(), "at": cast.moment(), "is_closing": True}
    return endings.close_out(print=row, **{**usual, **when, **said})


def promised(**rest):
    said = {"kind": "book_copy", "on": days(-400), "by": cast.artist(), **rest}
    return actions.promise(person=cast.danuta(), **said)


def end(promise, how="let_off", why="", on=None, by=cast.artist):
    said = {"how": how, "why": why, "on": on or days(0), "by": by(), "at": cast.moment()}
    return endings.end_promise(promise=promise, **said)


def refused(act, *args, **said):
    with pytest.raises(Refused) as caught:
        act(*args, **said)
    return caught.value.codes


@pytest.mark.parametrize(
    ("state", "said", "how"),
    [
        ("kept_for_them", {}, "archive"),
        ("kept_for_them", {"ending": "given_to_speaker"}, "given_to_speaker"),
        ("kept_for_them", {"ending": "destroyed"}, "destroyed"),
        ("nothing_to_print", {"ending": "", "apology_given": True}, "apology"),
        ("lost", {"ending": ""}, "lost"),
    ],
)
def test_closed_out_says_how_who_decided_and_why(state, said, how):
    close_out(made(cast.danuta(), state=state), **said)
    row = Print.objects.get()
    assert (row.state, row.closed_how, row.decided_by) == ("closed_out", how, "Ines")
    last = queries.way(row)[0]
    assert (last.became, last.reason) == ("closed_out", "moved, no word since 2024")


@pytest.mark.parametrize(
    ("said", "codes"),
    [
        ({"why": " "}, ("why",)),
        ({"decided_by": "  "}, ("decided_by",)),
        ({"is_closing": False}, ("closing",)),
        ({"ending": "sold"}, ("ending",)),
        ({"was": "lost"}, ("moved_meanwhile",)),
        ({"on": days(1)}, ("day_in_future",)),
    ],
)
def test_without_one_of_these_nothing_ends(said, codes):
    row = made(cast.danuta(), **KEPT)
    assert refused(close_out, row, **said) == codes
    row.refresh_from_db()
    assert (row.state, row.closed_how, row.decided_by) == ("kept_for_them", "", None)
    assert row.steps.count() == 1


def test_a_print_on_its_way_is_not_cut_short():
    assert refused(close_out, made(cast.danuta(), state="checked")) == ("two_steps",)


def test_they_let_us_off_without_a_reason_and_anybody_may_hear_it():
    end(promised(), by=cast.assistant)
    row = Promise.objects.get()
    assert (row.ended_how, row.ended_on, row.ended_by) == ("let_off", days(0), cast.assistant())
    assert row.kept_on is None


def test_that_it_could_not_be_kept_is_said_by_the_artist_with_the_reason():
    row = promised()
    assert refused(end, row, "could_not", "no book", by=cast.assistant) == ("artist_only",)
    assert refused(end, row, "could_not") == ("why",)
    assert end(row, "could_not", "no book came of it").ended_why == "no book came of it"


def test_a_promise_ends_once():
    row = promised()
    assert refused(end, row, on=days(1)) == ("day_in_future",)
    assert refused(end, row, on=days(-401)) == ("ended_before",)
    end(row)
    assert refused(end, row) == ("ended_already",)
    kept = {"promise": row, "on": days(0), "by": cast.artist()}
    assert refused(actions.keep_promise, **kept) == ("ended_already",)
    other = promised()
    actions.keep_promise(promise=other, on=days(0), by=cast.artist())
    assert refused(end, other) == ("ended_already",)


def test_what_has_no_ending_is_listed_first():
    let_off, open_, kept = promised(), promised(), promised()
    end(let_off)
    actions.keep_promise(promise=kept, on=days(-1), by=cast.artist())
    assert list(queries.promises(cast.artist())) == [open_, kept, let_off]


def sent(client, promise, **said):
    address = reverse("prints:end_promise", args=[promise.pk])
    return client.post(address, {"token": str(uuid4()), "on": days(0).isoformat(), **said})


def words(answer):
    return " ".join(answer.content.decode().split())


def test_the_page_of_promises_leads_there_and_says_how_it_ended(client):
    row = promised()
    cast.signed_in(client, cast.artist())
    address = reverse("prints:end_promise", args=[row.pk])
    kept = reverse("prints:kept", args=[row.pk])
    assert f'href="{kept}"' in words(client.get(reverse("prints:promises")))
    assert f'href="{address}"' in words(client.get(kept))
    page = words(client.get(address))
    assert "A copy of the book." in page and "It could not be kept" in page
    answer = sent(client, row, how="could_not")
    assert (answer.status_code, "Say why." in words(answer)) == (422, True)
    assert sent(client, row, how="could_not", why="no book came of it").status_code == 302
    page = words(client.get(reverse("prints:promises")))
    assert "We said on 23 November 2026 that it could not be kept." in page
    assert "no book came of it" in page
    assert f'href="{kept}"' not in page


def test_an_assistant_hears_that_they_let_us_off_and_says_no_more(client):
    row = promised()
    cast.in_sight(cast.danuta(), cast.assistant())
    cast.signed_in(client, cast.assistant())
    answer = sent(client, row, how="could_not", why="no book")
    assert (answer.status_code, Promise.objects.get().is_open) == (422, True)
    assert "is for the artist to say" in words(answer)
    assert "It could not be kept" not in words(client.get(answer.request["PATH_INFO"]))
    assert sent(client, row, how="let_off").status_code == 302
    again = sent(client, row, how="let_off")
    assert "This promise has its ending already." in words(again)
    assert Promise.objects.get().ended_by == cast.assistant()


def test_a_promise_to_somebody_out_of_sight_is_not_there(client):
    row = promised()
    cast.signed_in(client, cast.assistant())
    assert client.get(reverse("prints:end_promise", args=[row.pk])).status_code == 404


def test_who_decided_stands_on_the_way_of_a_print_for_the_artist_alone(client):
    close_out(made(cast.danuta(), **KEPT), decided_by="Zéphirine")
    cast.in_sight(cast.danuta(), cast.assistant())
    page = words(cast.signed_in(client, cast.artist()).get("/prints/12/K12/"))
    assert (
        "Into the archive." in page
        and 'Decided by <bdi><bdi dir="ltr" class="words">Zéphirine</bdi></bdi>.' in page
    )
    page = words(cast.signed_in(client, cast.assistant()).get("/prints/12/K12/"))
    assert "Into the archive." in page and "Zéphirine" not in page
