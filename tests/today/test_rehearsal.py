"""The rehearsal tells the whole invented story, and nothing of it where one press is refused."""

import json
from collections import Counter
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from relations.consent.models import Form, Wording
from relations.consent.states import State as FormState
from relations.meetings.models import Call, Meeting
from relations.meetings.queries import SPOKE
from relations.meetings.values import Outcome
from relations.people.models import Participant, PersonHold, PhoneLine
from relations.pictures.models import FilmSheet, Picture, PictureHold, Sitting
from relations.prints import queries as prints
from relations.prints.models import Print
from relations.prints.rules import Counts, PrintState
from relations.privacy.models import User
from relations.today.management import rehearsal as filling
from relations.uses import queries as uses
from relations.uses.models import Shown
from tests import cast
from tests.consent import casefile
from tests.consent.test_rules import demo_answers

DEMO = json.loads((Path(__file__).parents[1] / "cases" / "demo.json").read_text(encoding="utf-8"))
PLANS = ("E1", "E2", "B1", "W1")

pytestmark = pytest.mark.django_db


def code_of(said: str) -> str:
    """A word of the case file as the register keeps it: "Taking part" is taking_part."""
    return said.lower().replace(" ", "_")


def weighed(plan: str) -> dict[str, Any]:
    """The answers the register gives for a plan, by picture."""
    found = uses.weighed(uses.plan_or_404(plan), cast.TODAY)
    return {row.picture: row.answer for row in found}


@pytest.mark.usefixtures("rehearsal")
class TestStory:
    """Source of every figure: tests/cases/demo.json and the counts written beside it."""

    def test_forty_two_people_stand_where_the_story_leaves_them(self) -> None:
        told = {one["code"]: code_of(one["standing"]) for one in DEMO["people"]}
        assert dict(Participant.objects.values_list("code", "standing")) == told
        assert len(told) == 42

    def test_levels_are_the_higher_of_two_views(self) -> None:
        told = {one["code"]: one["risk"] or "" for one in DEMO["people"]}
        assert dict(Participant.objects.values_list("code", "level")) == told
        assert Counter(told.values()) == {"ordinary": 23, "raised": 11, "grave": 4, "": 4}

    def test_who_was_born_when_and_spoke_when_is_as_told(self) -> None:
        found = {one.code: one for one in Participant.objects.all()}
        for told in DEMO["people"]:
            row, day, year = found[told["code"]], told["born_on"], told["born_year"]
            born = (f"{day}", f"{day}") if day else (f"{year}-01-01", f"{year}-12-31")
            assert (str(row.born_earliest), str(row.born_latest)) == (
                born if day or year else ("None", "None")
            ), row.code
            if spoke := told["last_talk_on"]:
                assert str(row.last_talk_on) == spoke, row.code

    def test_every_number_is_set_aside_for_fiction_and_is_as_told(self) -> None:
        told = {one["code"]: one["phone"] for one in DEMO["people"] if one["phone"]}
        lines = PhoneLine.objects.select_related("person", "through")
        own = {line.person.code: line.number for line in lines if line.number}
        assert own == {
            code: f"+33{number[1:]}" for code, number in told.items() if number.isdigit()
        }
        # Sources of the two blocks: tests/outside/test_phones.py.
        assert {number[:9] for number in own.values()} == {"+33465710", "+33639980"}
        children = {line.person.code for line in lines if not line.number and line.through}
        assert children == {"13", "40"}
        assert "06" not in own, "who asked never to be rung has no number left"

    def test_33_pictures_and_172_sheets_come_from_32_sitters(self) -> None:
        assert set(Picture.objects.values_list("code", flat=True)) == {
            one["id"] for one in DEMO["pictures"]
        }
        # Four more were fogged on the way home, and show nobody.
        states = Counter(FilmSheet.objects.values_list("state", flat=True))
        assert states == {"exposed": 172, "lost": 4}
        sat = {person.code for one in Sitting.objects.all() for person in one.sitters.all()}
        assert len(sat) == 32

    def test_every_print_is_where_the_story_left_it(self) -> None:
        told = {
            (one["person"], None if one["picture"] == "none" else one["picture"]): code_of(
                one["state"]
            )
            for one in DEMO["prints"]
        }
        rows = Print.objects.values_list("person__code", "picture__code", "state")
        assert {(person, picture): state for person, picture, state in rows} == told
        assert set(told.values()) == {*PrintState} - {PrintState.CLOSED_OUT}

    def test_prints_owed_are_counted_as_the_story_counts_them(self) -> None:
        counted = prints.counts(cast.TODAY)
        assert counted == Counts(rows=40, owed=38, returned=17, in_hands=19, late=14)

    def test_every_way_a_ring_ends_is_there(self) -> None:
        ended = set(Call.objects.exclude(outcome="").values_list("outcome", flat=True))
        # With those who have sat one also just speaks.
        assert ended == {*Outcome, SPOKE}

    def test_meetings_are_in_every_state_of_the_story(self) -> None:
        assert set(Meeting.objects.values_list("state", flat=True)) >= {
            *("fixed", "confirmed", "moved", "called_off", "held", "nobody_came", "written_up")
        }

    def test_forms_are_in_every_state_of_the_story(self) -> None:
        states = FormState
        assert set(Form.objects.values_list("state", flat=True)) >= {
            *(states.PRINTED, states.CARRIED, states.SPOILT, states.FILLED_IN, states.MISSING),
            *(states.BROUGHT_BACK_BLANK, states.BROUGHT_HOME, states.LEFT_WITH_THEM),
            *(states.SCANNED, states.READ_ONCE, states.DOUBTFUL, states.STANDING),
            *(states.REPLACED, states.WITHDRAWN_IN_PART, states.ENDED, states.KEPT_AS_PROOF),
        }

    def test_every_wording_was_said_back_and_approved_but_the_one_nobody_reads(self) -> None:
        languages = {"en", "fr", "es", "ar", "ne", "bn"}
        read = Wording.objects.exclude(frozen_at=None)
        assert set(read.values_list("language", flat=True)) == languages
        assert set(Wording.objects.values_list("language", flat=True)) == languages | {"pt"}
        for wording in read:
            assert wording.read_by != wording.written_by
            assert not wording.clauses.filter(read_back="").exists()
            assert not wording.clauses.exclude(state="approved").exists()
        unread = Wording.objects.get(language="pt")
        assert not unread.clauses.exclude(state="drafted").exists()

    def test_holds_lie_and_what_is_shown_is_known(self) -> None:
        held = PersonHold.objects.filter(lifted_at=None).values_list("person__code", flat=True)
        assert list(held) == ["35"]
        told = {one["id"] for one in DEMO["pictures"] if one["hold"]}
        laid = PictureHold.objects.filter(lifted_at=None).values_list("picture__code", flat=True)
        assert set(laid) == told
        assert set(Shown.objects.values_list("code", flat=True)) == {"U1", "U2", "U3", "U4", "U5"}

    @pytest.mark.parametrize(
        ("plan", "totals"), [("E1", [14, 2, 17]), ("B1", [9, 2, 22])], ids=["wall", "book"]
    )
    def test_plan_weighs_as_computed_elsewhere(self, plan: str, totals: list[int]) -> None:
        answers = weighed(plan)
        wanted = {key: casefile.expected(one) for key, one in DEMO["expected"][plan].items()}
        assert {key: casefile.comparable(one) for key, one in answers.items()} == wanted
        results = [answer.result for answer in answers.values()]
        assert [results.count(result) for result in casefile.Result] == totals

    @pytest.mark.parametrize("plan", PLANS)
    def test_register_weighs_as_the_rule_does_on_the_story_itself(self, plan: str) -> None:
        wanted = {key: casefile.comparable(one) for key, one in demo_answers(plan).items()}
        assert {key: casefile.comparable(one) for key, one in weighed(plan).items()} == wanted

    def test_taking_everything_back_stops_a_picture_in_every_plan_at_once(self) -> None:
        who, by = Participant.objects.get(code="12"), User.objects.get(username="loic")
        before = {plan: weighed(plan)["K12"] for plan in PLANS}
        assert not any(
            "WITHDRAWN" in casefile.line(casefile.comparable(a)) for a in before.values()
        )
        filling.stop(person=who, by=by, at=cast.moment(), said_on=cast.TODAY, scope="all")
        for plan in PLANS:
            answer = weighed(plan)["K12"]
            assert answer.result == "not_cleared"
            assert [(one.about, one.code) for one in answer.stops] == [("12", "WITHDRAWN")]

    def test_story_never_looks_beyond_its_own_day(self) -> None:
        told = json.loads(filling.STORY.read_text(encoding="utf-8"))["events"]
        days = [date.fromisoformat(event["at"][:10]) for event in told]
        assert days == sorted(days)
        assert days[-1] == cast.TODAY


def short_story(folder: Path, *more: dict[str, Any]) -> Path:
    """The first presses of the story, and what is added to them."""
    told = json.loads(filling.STORY.read_text(encoding="utf-8"))
    path = folder / "story.json"
    path.write_text(json.dumps({"users": told["users"], "events": [*told["events"][:4], *more]}))
    return path


HERE = {"at": "2026-11-23T08:00", "by": "ines"}


def test_story_of_a_few_presses_is_entered(tmp_path: Path) -> None:
    assert filling.fill(short_story(tmp_path)) == 4
    assert User.objects.count() == len(list(filling.users()))


@pytest.mark.parametrize(
    "press",
    [
        {"do": "people.hold", "with": {"person": "99"}},
        {"do": "people.never_heard_of", "with": {}},
        {"do": "people.hear", "with": {"call_name": "Nobody", "age": 40}},
    ],
    ids=["about nobody", "no such action", "a word the action does not take"],
)
def test_press_that_cannot_be_made_leaves_nothing(tmp_path: Path, press: dict[str, Any]) -> None:
    story = short_story(tmp_path, HERE | press)
    with pytest.raises(Exception) as told:
        filling.fill(story)
    assert told.value.__notes__[0].startswith("event 4: ")
    assert not User.objects.exists()
    assert not Participant.objects.exists()
