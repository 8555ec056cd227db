"""The learnt sentence stands before whoever may be asked; noting it confirms nobody."""

from uuid import uuid4

import pytest
from django.urls import reverse

from relations.pictures.models import Picture
from relations.privacy.access import HANDS
from relations.rights.asked_views import others_ask
from relations.rights.models import OthersAsk
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db
SENTENCE = (
    "“I do not speak about people. Leave me a name and a way to reach you; if there is an answer, "
    "it will come to you.”"
)
TO_POLICE = "“I may not answer. Please write to the artist, who answers through a lawyer.”"


def users():
    return {"artist": cast.artist(), "assistant": cast.assistant()}


def test_whoever_may_note_it_is_shown_the_sentence(client):
    assert others_ask.roles == frozenset(HANDS) == frozenset(users())
    for user in users().values():
        cast.signed_in(client, user)
        page = client.get(reverse("rights:others_ask")).content.decode()
        assert SENTENCE in page and TO_POLICE in page


@pytest.mark.parametrize("who", ["press", "police", "scholar"])
@pytest.mark.parametrize("role", ["artist", "assistant"])
def test_who_asks_is_noted_and_the_answer_is_the_same_for_anybody_and_nobody(client, who, role):
    cast.signed_in(client, users()[role])
    answers = []
    for code in (cast.danuta().code, "ZZ9ZZ", ""):
        said = {"asked_by": who, "told": "nothing", "asked_on": cast.TODAY, "code": code}
        sent = client.post(reverse("rights:others_ask"), {"token": str(uuid4()), **said})
        answers.append((sent.status_code, sent["Location"], sent.content))
    assert len(set(answers)) == 1 and answers[0][0] == 302
    assert OthersAsk.objects.filter(asked_by=who).count() == 3
    assert OthersAsk.objects.exclude(person=None).count() == 1


def test_whoever_noted_it_is_told_that_it_is_noted(client):
    cast.signed_in(client, cast.assistant())
    assert "It is noted." not in client.get(reverse("rights:others_ask")).content.decode()
    picture = make(Picture, code="K12").code
    for name, said in (
        ("others_ask", {"asked_by": "press", "told": "nothing", "asked_on": cast.TODAY}),
        ("misuse", {"picture": picture, "where": "a wall", "seen_on": cast.TODAY}),
    ):
        sent = client.post(reverse(f"rights:{name}"), {"token": str(uuid4()), **said})
        assert "It is noted." in client.get(sent["Location"]).content.decode()


def test_an_assistant_is_offered_one_choice_for_the_sentence_to_police(client):
    for role, offered in (("artist", True), ("assistant", False)):
        cast.signed_in(client, users()[role])
        page = client.get(reverse("rights:others_ask")).content.decode()
        assert 'value="nothing"' in page and ('value="to_lawyer"' in page) is offered
