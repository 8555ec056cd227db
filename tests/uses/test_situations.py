"""The situation changed: who is marked is held, and every plan and sheet touched is listed."""

from datetime import date, timedelta
from uuid import UUID, uuid4

import pytest

from relations.people.models import Participant, PersonHold
from relations.privacy.refused import Refused
from relations.uses import actions, selection, situations
from relations.uses.models import ClearanceSheet, ClearedPicture, Weighing
from tests import cast
from tests.consent.register import AT
from tests.uses import plans

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def register():
    return plans.demo()


def codes(**whom) -> set[str]:
    return {one.code for one in situations.whom(**whom)}


def look_again(*people: str, **more) -> UUID:
    said = {"next_look_on": None, "by": plans.artist(), "at": AT, **more}
    return situations.look_again(persons=situations.whom(codes=people), **said)


def test_a_group_a_country_and_codes_are_put_together():
    plans.plan("E1", "K12")  # France
    plans.plan("W1", "K01")  # the world
    plans.shown("U1", "exhibition", "K02", countries=["PE"])
    assert codes(codes=["04"]) == {"04"}
    assert codes(countries=["FR"]) == {"12", "01"}
    assert codes(countries=["PE"]) == {"01", "02"}
    assert codes(countries=["FR"], codes=["04", "99"]) == {"12", "01", "04"}
    Participant.objects.filter(code__in=["17", "18"]).update(community=cast.aulne())
    assert codes(community=cast.aulne(), codes=["04"]) == {"17", "18", "04"}
    assert codes() == set()


def test_a_plan_that_was_given_up_is_nowhere():
    plan = plans.plan("E1", "K12")
    actions.drop(plan=plan, by=plans.artist(), on=plans.TODAY)
    assert codes(countries=["FR"]) == set()


def test_every_kept_answer_of_theirs_is_out_of_date_at_once_and_no_other():
    plan = plans.plan("E1", "K01", "K02", "K12")
    actions.weigh(plan=plan, by=plans.artist(), at=AT)
    assert selection.sheet(plan, plans.TODAY).stale == []
    look_again("12", "01")
    sheet = selection.sheet(plan, plans.TODAY)
    assert {one.picture for one in sheet.stale} == {"K01", "K12"}


def test_plans_sheets_and_what_is_shown_are_listed():
    plan = plans.plan("E1", "K01", "K02", "K12")
    other = plans.plan("B1", "K04")
    actions.weigh(plan=plan, by=plans.artist(), at=AT)
    made = {"made_at": AT, "made_by": plans.artist(), "valid_until": plans.TODAY}
    old = ClearanceSheet.objects.create(number=1, plan=plan, **made)
    new = ClearanceSheet.objects.create(number=2, plan=plan, replaces=old, **made)
    ended = ClearanceSheet.objects.create(number=3, plan=plan, ended_at=AT, **made)
    for sheet in (old, new, ended):
        for weighing in Weighing.objects.all():
            ClearedPicture.objects.create(sheet=sheet, weighing=weighing)
    row = plans.shown("U1", "web", "K12", "K01")
    found = situations.touched(situations.whom(codes=["12", "01"]))
    assert [(one.code, one.amount) for one in found.plans] == [("E1", 2)]
    assert found.sheets == [new]
    assert found.shown == [row]
    assert situations.touched(situations.whom(codes=["04"])).plans == [other]


def test_the_next_look_is_within_fourteen_days():
    look_again("12")
    assert PersonHold.objects.get(person__code="12").next_look_on == AT.date() + timedelta(14)
    with pytest.raises(Refused, match="look_within_14_days"):
        look_again("01", next_look_on=AT.date() + timedelta(15))


def test_nobody_and_another_hand_than_the_artists_are_refused():
    with pytest.raises(Refused, match="nobody"):
        look_again()
    with pytest.raises(Refused, match="artist_only"):
        look_again("12", by=cast.assistant())


def test_one_sentence_lifts_them_all_and_who_was_held_before_is_looked_at_too():
    first, second = look_again("12", "01"), look_again("12", "04")
    assert {(key, amount) for key, _look, amount in situations.open_ones()} == {
        (first, 2), (second, 1),
    }  # fmt: skip
    # 12 was held already: one hold lies, and it stays with the first change.
    assert situations.looked(key=first, sentence="A rumour.", by=plans.artist(), at=AT) == 2
    assert [key for key, _look, _amount in situations.open_ones()] == [second]
    with pytest.raises(Refused, match="no_sentence"):
        situations.looked(key=second, sentence=" ", by=plans.artist(), at=AT)
    with pytest.raises(Refused, match="artist_or_keeper"):
        situations.looked(key=second, sentence="Fine.", by=cast.assistant(), at=AT)


def test_the_page_marks_lists_and_lifts(client):
    plans.plan("E1", "K12")
    artist = cast.signed_in(client, plans.artist())
    said = {"token": str(uuid4()), "codes": "12 01", "next_look_on": date(2026, 12, 1).isoformat()}
    assert artist.post("/uses/situation/", {**said, "codes": ""}).status_code == 422
    answer = artist.post("/uses/situation/", said, follow=True)
    page = " ".join(answer.content.decode().split())
    assert "Held until somebody has looked" in page
    assert "E1" in page
    assert "Not looked into yet" in artist.get("/uses/situation/").content.decode()
    address = answer.redirect_chain[-1][0]
    lifted = artist.post(address, {"token": str(uuid4()), "sentence": "A rumour."}, follow=True)
    assert "Looked into" in lifted.content.decode()
    assert artist.get(f"/uses/situation/{uuid4()}/").status_code == 404
