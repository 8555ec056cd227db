"""Everything about one person: what they allow, their prints, what was said and done."""

from datetime import date
from uuid import uuid4

import pytest

from relations.consent.models import Form, TakenBack
from relations.consent.states import State as FormState
from relations.consent.values import Use
from relations.documents.models import Sheet
from relations.meetings.models import Call, Meeting
from relations.people import actions as people_actions
from relations.people.models import Participant, Speaker
from relations.pictures.models import Appearance, Picture, Sitting
from relations.prints.models import Print, Step
from relations.privacy.models import Mending
from relations.today import person
from relations.uses.models import PlannedPicture, PlannedUse, Weighing
from tests import cast

pytestmark = pytest.mark.django_db
AT = cast.moment()


def form(
    who: Participant, serial: str, state: str, given_on: date | None = None, **rest: object
) -> Form:
    sheet = Sheet.objects.create(serial=serial, kind="form")
    settled = {"settled_at": AT, "settled_by": cast.artist(), "wording_was_read": True}
    return Form.objects.create(
        sheet=sheet, person=who, is_from_before=True, state=state, state_on=cast.days(-1),
        given_on=given_on, **settled, **rest,
    )  # fmt: skip


def took_back(who: Participant, scope: str, said_on: date, **rest: object) -> TakenBack:
    return TakenBack.objects.create(
        person=who, scope=scope, said_on=said_on, heard_at=AT, heard_by=cast.artist(),
        answer_due_on=cast.days(14), **rest,
    )  # fmt: skip


def picture(code: str, *sitters: Participant) -> Picture:
    sitting = Sitting.objects.create(code=f"S{code}", on=date(2024, 5, 14), minutes=55)
    row = Picture.objects.create(code=code, sitting=sitting, made_on=sitting.on)
    for sitter in sitters:
        Appearance.objects.create(picture=row, person=sitter)
        sitting.sitters.add(sitter)
    return row


def answers(who: Participant) -> dict[str, str]:
    found = person.allowed(who, person.standing_form(who), cast.TODAY)
    assert [one.use for one in found] == list(Use)
    return {one.use: one.answer for one in found if one.answer != "no"}


def test_without_a_standing_form_nothing_is_allowed() -> None:
    marcel = cast.marcel()
    form(marcel, "10003-62", FormState.READ_ONCE, date(2024, 5, 14), uses=["book"])
    assert answers(marcel) == {}


def test_the_newest_form_that_stands_says_what_is_allowed() -> None:
    marcel = cast.marcel()
    form(marcel, "10003-62", FormState.STANDING, date(2024, 5, 14), uses=["book", "web"])
    form(marcel, "20011-11", FormState.WITHDRAWN_IN_PART, date(2025, 5, 14), uses=["book"])
    assert answers(marcel) == {"book": "yes"}


def test_a_no_acts_on_hearing_and_an_older_one_is_over() -> None:
    marcel = cast.marcel()
    form(marcel, "10003-62", FormState.STANDING, date(2024, 5, 14), uses=["book", "web"])
    took_back(marcel, "use", date(2024, 5, 13), use="book")
    took_back(marcel, "use", date(2024, 5, 14), use="web")
    assert answers(marcel) == {"book": "yes", "web": "taken_back"}
    took_back(marcel, "all", cast.TODAY)
    assert set(answers(marcel).values()) == {"taken_back"}
    assert set(answers(marcel)) == set(Use)


def test_a_form_whose_last_day_is_past_allows_nothing_more() -> None:
    marcel = cast.marcel()
    form(marcel, "10003-62", FormState.STANDING, date(2024, 5, 14), uses=["book"],
         last_day=cast.days(-1))  # fmt: skip
    assert answers(marcel) == {"book": "ended"}


def test_only_the_latest_answer_of_each_plan_is_shown_with_what_is_about_them() -> None:
    marcel = cast.marcel()
    plan = PlannedUse.objects.create(code="E1", use="exhibition", starts_on=cast.days(30))
    asked = PlannedPicture.objects.create(plan=plan, picture=picture("K01", marcel))
    for minute, result, stops in (
        (1, "not_cleared", [{"about": "01", "code": "USE"}, {"about": "K01", "code": "HOLD"}]),
        (0, "cleared", []),
    ):
        Weighing.objects.create(
            asked=asked, result=result, stops=stops, digest="", on=cast.TODAY,
            conditions=[{"about": "01", "code": "LAST-WORD"}],
            weighed_at=cast.moment(minute=minute), by=cast.artist(),
        )  # fmt: skip
    found = person.planned(marcel)
    assert [row.result for row in found] == ["not_cleared"]
    assert person.about(marcel, found[0]) == ["USE", "LAST-WORD"]
    plan.dropped_on = cast.TODAY
    plan.save()
    assert person.planned(marcel) == []


def test_prints_that_are_still_under_way_come_first() -> None:
    marcel = cast.marcel()
    for code, state in (("K01", "acknowledged"), ("K02", "owed")):
        Print.objects.create(
            person=marcel, picture=picture(code, marcel), state=state, state_on=cast.TODAY,
            owed_since=cast.TODAY,
        )  # fmt: skip
    found = person.prints(marcel)
    assert [(way.print.picture.code, way.is_over) for way in found if way.print.picture] == [
        ("K02", False), ("K01", True),
    ]  # fmt: skip


def test_what_was_said_and_done_is_newest_first() -> None:
    marcel = cast.marcel()
    shown = picture("K01", marcel)
    Call.objects.create(person=marcel, state="settled", outcome="thinking", by=cast.artist(),
                        at=cast.moment(cast.days(-3)))  # fmt: skip
    Call.objects.create(person=marcel, due_on=cast.days(5))
    Meeting.objects.create(person=marcel, state="held", at=cast.moment(cast.days(-2)))
    Meeting.objects.create(person=marcel, state="proposed")
    form(marcel, "10003-62", FormState.STANDING, cast.days(-4))
    took_back(marcel, "picture", cast.TODAY, picture=shown)
    row = Print.objects.create(person=marcel, picture=shown, state="asked_how",
                               state_on=cast.days(-1), owed_since=shown.made_on)  # fmt: skip
    Step.objects.create(print=row, number=1, became="asked_how", on=cast.days(-1), noted_at=AT,
                        by=cast.artist())  # fmt: skip
    kinds = [line.kind for line in person.said_and_done(marcel)]
    assert kinds == ["taken_back", "step", "meeting", "call", "form", "sitting"]


def test_the_log_of_a_long_life_is_cut() -> None:
    marcel = cast.marcel()
    for number in range(45):
        Meeting.objects.create(person=marcel, state="held", at=cast.moment(cast.days(-number)))
    assert len(person.said_and_done(marcel)) == 40


def test_what_was_mended_is_read_newest_first_and_only_theirs() -> None:
    marcel, danuta = cast.marcel(), cast.danuta()
    for who, name, hour in ((marcel, "M.", 9), (marcel, "Marceau", 10), (danuta, "D.", 9)):
        people_actions.mend(
            row=who, changes={"call_name": name}, person=who, by=cast.artist(),
            at=cast.moment(hour=hour),
        )  # fmt: skip
    assert [dict(one.old)["call_name"] for one in person.mended(marcel)] == ["M.", "Marcel"]


def test_older_value_that_leads_to_another_row_is_read_by_what_that_is_called() -> None:
    marcel = cast.marcel()
    people_actions.mend(
        row=marcel, changes={"community": None}, person=marcel, by=cast.artist(), at=cast.moment()
    )
    Mending.objects.create(
        kind="people.introduction", key=marcel.pk, about=marcel.log_key, at=cast.moment(),
        by=cast.artist(), old={"introducer": str(cast.danuta().pk), "outside": None},
    )  # fmt: skip
    read = {name: old for one in person.mended(marcel) for name, old in one.old}
    assert read == {"community": "Aulne", "introducer": "12", "outside": None}


def test_next_of_kin_speaks_only_where_nobody_was_named() -> None:
    marcel = cast.marcel()
    assert person.speaker(marcel) is None
    say = {"person": marcel, "named_on": cast.TODAY}
    Speaker.objects.create(**say, name="a niece", is_next_of_kin=True)
    kin = person.speaker(marcel)
    assert kin is not None
    assert kin.name == "a niece"
    Speaker.objects.create(person=marcel, named_on=cast.days(-9), speaker=cast.danuta())
    named = person.speaker(marcel)
    assert named is not None
    assert named.speaker == cast.danuta()


def test_who_sent_us_is_said_only_where_they_said_that_it_may_be() -> None:
    assert person.may_say(cast.person("50", "Nour")) == ""
    assert person.may_say(cast.daud()) == ""
    nour = cast.person("51", "Nour")
    cast.told(nour, cast.marcel(), may_say_who=True)
    assert person.may_say(nour) == "Marcel"
    salma = cast.person("52", "Salma")
    cast.told(salma, outside=cast.chaplaincy(), may_say_who=True)
    assert person.may_say(salma) == "the seamen's chaplaincy"
    own = cast.person("53", "Omar")
    cast.told(own, may_say_who=True)
    assert person.may_say(own) == ""


def test_the_assistant_is_given_no_level_and_no_introduction() -> None:
    bruno = cast.bruno()
    given = {
        **person.for_everyone(bruno, AT),
        **person.for_assistant(bruno, cast.assistant(), cast.days(0)),
    }
    assert not {"told", "introduced", "log", "mended", "uses", "planned"} & set(given)
    assert given["person"] == bruno


def test_three_rings_at_most_are_the_assistants() -> None:
    bruno = cast.bruno()
    for day in range(5):
        Call.objects.create(
            id=uuid4(), person=bruno, state="settled", outcome="no_answer", by=cast.artist(),
            at=cast.moment(cast.days(-day)),
        )  # fmt: skip
    found = person.for_assistant(bruno, cast.assistant(), cast.days(0))["last_rings"]
    assert [call.at for call in found] == [cast.moment(cast.days(-day)) for day in range(3)]
