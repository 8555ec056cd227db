"""Pages of wordings through the client: read by a second person, written, and who may."""

from uuid import uuid4

import pytest
from django.urls import reverse

from relations.consent.source import latest
from relations.consent.texts import Clause, Wording
from relations.consent.values import ClauseState
from tests import cast
from tests.consent import desk
from tests.consent.test_views import post

pytestmark = pytest.mark.django_db
PAGES = {"wordings": (), "wording": ("fr", 1), "write": ("fr",)}
ALL = {"ines", "loic", "samira", "aude", "yara"}
OPEN_TO = {"wordings": ALL, "wording": ALL, "write": {"ines", "yara"}}


def at(name):
    return reverse(f"consent:{name}", args=PAGES[name])


@pytest.mark.parametrize("name", PAGES)
def test_page_is_open_to_its_roles_and_to_nobody_else(client, name):
    desk.frozen("fr")
    assert client.get(at(name)).status_code == 302
    for user in [*cast.everyone(), desk.reader()]:
        answer = cast.signed_in(client, user).get(at(name))
        assert answer.status_code == (200 if user.username in OPEN_TO[name] else 404)


def test_list_takes_no_post(client):
    desk.wordings()
    assert cast.signed_in(client, cast.artist()).post(at("wordings")).status_code == 405


@pytest.mark.parametrize("name", ["wording", "write"])
def test_page_refuses_an_empty_post(client, name):
    desk.wordings()
    answer = cast.signed_in(client, cast.artist()).post(at(name))
    assert answer.status_code == 422
    assert "Please look again" in answer.content.decode()


def press(client, act, language="ar", version=1, **said):
    return post(client, reverse("consent:wording", args=[language, version]), act=act, **said)


def test_reader_says_back_and_approves_clause_by_clause_and_freezes(client):
    held = desk.frozen("fr")
    cast.signed_in(client, desk.reader())
    # The page of all clauses for each of a few; what a press does stands in test_approvals.py.
    clauses = list(held["ar"].clauses.all())
    for clause in clauses[4:]:
        desk.approve(clause)
    for clause in clauses[:4]:
        assert press(client, "freeze").status_code == 422
        said = {f"said_{clause.name}": "It says so."}
        assert press(client, f"approve:{clause.name}", **said).status_code == 302
    assert press(client, "freeze").status_code == 302
    wording = Wording.objects.get(language="ar")
    assert (wording.read_by, wording.frozen_at is not None) == (desk.reader(), True)
    page = client.get(reverse("consent:wordings")).content.decode()
    assert 'Read by <bdi><bdi dir="ltr" class="words">Yara</bdi></bdi>' in page
    shown = client.get(reverse("consent:wording", args=["ar", 1])).content.decode()
    assert 'Said back by <bdi><bdi dir="ltr" class="words">Yara</bdi></bdi>' in shown


def test_clause_is_not_approved_before_it_is_said_back_and_nothing_typed_is_lost(client):
    desk.wordings()
    cast.signed_in(client, desk.reader())
    answer = press(client, "approve:who", "fr", said_plain="We take a picture.", why_day="Long?")
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Say first, in your own words, what this clause says." in page
    assert "We take a picture.</textarea>" in page and 'value="Long?"' in page
    assert not Clause.objects.exclude(read_back="").exists()


def test_what_was_typed_beside_other_clauses_is_kept_with_the_press(client):
    desk.wordings()
    cast.signed_in(client, desk.reader())
    said = {"said_who": "We are two.", "said_plain": "We take a picture.", "why_day": "Long?"}
    answer = press(client, "approve:who", "fr", **said)
    assert answer["Location"].endswith("#who")
    page = client.get(answer["Location"]).content.decode()
    assert "We take a picture.</textarea>" in page and 'value="Long?"' in page
    assert latest("fr").clauses.get(paper="form", key="plain").state == ClauseState.READ_BACK


def test_same_press_twice_is_stored_once(client):
    desk.wordings()
    cast.signed_in(client, desk.reader())
    said = {"act": "approve:who", "said_who": "We are two.", "token": str(uuid4())}
    address = reverse("consent:wording", args=["fr", 1])
    assert [client.post(address, said).status_code for _ in range(2)] == [302, 302]
    clause = latest("fr").clauses.get(paper="form", key="who")
    assert (clause.state, clause.read_back) == (ClauseState.APPROVED, "We are two.")


def test_words_that_changed_meanwhile_are_shown_with_their_new_mark(client):
    desk.wordings()
    cast.signed_in(client, desk.reader())
    said = {"said_who": "We are two.", "seal_who": "of other words"}
    answer = press(client, "approve:who", "fr", **said)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "have changed since you opened the page" in page
    assert "of other words" not in page and "We are two.</textarea>" in page


def test_writer_is_told_that_another_person_reads(client):
    desk.wordings()
    cast.signed_in(client, cast.artist())
    answer = press(client, "approve:who", "fr")
    assert answer.status_code == 422
    assert "cannot be the one who reads it" in answer.content.decode()
    assert press(client, "approve:colour", "fr").status_code == 404


def test_clause_that_is_sent_back_says_so_and_why(client):
    desk.frozen("fr")
    cast.signed_in(client, desk.reader())
    assert press(client, "send_back:who").status_code == 422
    answer = press(client, "send_back:who", why_who="Nobody says it so.")
    assert answer["Location"].endswith("#who")
    page = client.get(answer["Location"]).content.decode()
    assert "sent back" in page and "Nobody says it so." in page
    assert press(client, "freeze").status_code == 422


def test_only_the_newest_version_of_a_language_is_written_on(client):
    desk.frozen("en", "fr")
    cast.signed_in(client, cast.artist())
    write(client, "en", text_who="We are two. Ring this number:")
    page = client.get(at("wordings")).content.decode()
    assert page.count(reverse("consent:write", args=["fr"])) == 1
    assert page.count(reverse("consent:wording", args=["fr", 1])) == 1


def test_list_says_who_may_read_what_waits(client):
    desk.wordings()
    Wording.objects.filter(language="en").update(language="sv")
    page = cast.signed_in(client, cast.artist()).get(at("wordings")).content.decode()
    assert "Nobody who signs in may read it as a second person" in page
    desk.reader()
    listed = client.get(at("wordings")).content.decode()
    assert 'Who may read it: <bdi dir="ltr" class="words">Yara</bdi>' in listed


def test_form_of_two_editions_is_refused_and_its_proof_offered(client):
    held = desk.frozen("en", "fr", "ar")
    held["ar"].clauses.filter(paper="form", key="who").update(source_version=2)
    cast.signed_in(client, cast.artist())
    pair = {"first": held["ar"].pk, "second": held["fr"].pk}
    answer = post(client, reverse("consent:print"), **pair)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "not on the same version of your own words" in page
    assert reverse("consent:proof", args=["ar", "fr"]) in page


def write(client, language="fr", **changed):
    form = client.get(reverse("consent:write", args=[language])).context["form"]
    said = {name: field.initial or "" for name, field in form.fields.items()}
    said = {name: value for name, value in said.items() if not name.startswith("stands_")}
    address = reverse("consent:write", args=[language])
    return post(client, address, **said | changed | {"token": uuid4()})


def test_new_version_is_written_clause_by_clause(client):
    desk.frozen("fr")
    cast.signed_in(client, cast.artist())
    answer = write(client, text_who="Nous deux.")
    assert answer["Location"] == reverse("consent:wording", args=["fr", 2])
    assert write(client).status_code == 422


def test_reader_sees_what_changed_in_the_artists_words_and_in_the_answer_to_it(client):
    desk.frozen("en", "fr")
    cast.signed_in(client, cast.artist())
    write(client, "en", text_who="We are two, and only two. Ring this number:")
    page = client.get(reverse("consent:wording", args=["fr", 2])).content.decode()
    assert "source changed" in page
    assert '<ins><span class="vh">New: </span>two,' in page
    write(client, "fr", text_who="Nous sommes deux, et pas plus. Appelez ce numéro :")
    cast.signed_in(client, desk.reader())
    page = client.get(reverse("consent:wording", args=["fr", 2])).content.decode()
    assert "Changed since it was approved last" in page
    assert '<del><span class="vh">Gone: </span>' in page
    assert "LIX" in page and "A number never approves a clause." in page
