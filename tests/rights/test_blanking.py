"""What stays of rows in which somebody was who is erased: nothing of them, and no no is lost."""

import pytest

from relations.consent.answers import Code
from relations.documents.models import Sheet
from relations.people.models import Introduction, NeverRing, Participant, PhoneLine, RangUs
from relations.people.queries import may_not_be_rung
from relations.pictures.models import PictureHold, Sitting
from relations.pictures.values import Others
from relations.privacy.files import light_copies
from relations.privacy.models import GoneFile, Mending, Posted, Role, User
from relations.rights import erasing
from relations.rights.models import Alarm, LettingGo, Misuse, OthersAsk
from relations.uses import queries as uses
from relations.uses.models import ClearedPicture, PlannedUse, Weighing
from tests.rights.everything import everything
from tests.rows import AT, DAY, make

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path


@pytest.fixture
def gone():
    """Everything around somebody who has been erased by the keeper."""
    found = everything()
    keeper = User.objects.create_user("otto", None, role=Role.KEEPER, called="Otto")
    person = Participant.objects.get(pk=found.person.pk)
    person.undo_lines.update(done_on=DAY)
    erasing.erase(person=person, by=keeper, at=AT)
    return found


def test_link_they_made_stays_as_a_stub_with_its_wave(gone):
    told = Introduction.objects.get(person=gone.other, is_withheld=True)
    assert (told.introducer, told.may_say_who, told.has_power) == (None, None, None)
    # They were an own start (wave 0); who came through them stays one further out.
    assert told.wave == 1


def test_older_value_that_says_that_they_told_us_of_somebody_goes(gone):
    assert not Mending.objects.filter(kind="people.introduction").exists()


def test_shared_number_that_never_rings_is_given_to_nobody_anew(gone):
    mark = NeverRing.objects.get()
    assert (mark.who, mark.was, mark.whole_number) == (None, "", False)
    number = "+33465710098"
    assert may_not_be_rung(number, make(Participant))
    lives_there = make(PhoneLine, number=number, mark=mark.mark).person
    assert not may_not_be_rung(number, lives_there)


def test_who_rang_us_is_emptied_of_them_only(gone):
    heard = {(row.typed, tuple(row.perhaps)) for row in RangUs.objects.all()}
    others = (gone.other.code,)
    assert heard == {("", others), ("", ()), ("somebody else", others)}


def test_pictures_lose_face_and_words_and_are_marked(gone):
    for picture in (gone.alone, gone.together):
        picture.refresh_from_db()
        assert picture.others == Others.ERASED
        assert not picture.light_copy
        assert not picture.light_copy_type
        assert not picture.alt_text
        assert not picture.file_name
        assert [caption.words for caption in picture.captions.all()] == [""]
    assert {gone_file.folder for gone_file in GoneFile.objects.all()} == {"scans", "pictures"}
    assert GoneFile.objects.count() == 8
    assert len(light_copies().names()) == 2  # until the transaction stands


def test_printed_bytes_of_their_form_go_and_that_a_paper_existed_stays(gone):
    kept = Sheet.objects.exclude(kept="")
    assert Sheet.objects.exists() and not kept.exists()
    scanned_and_printed = GoneFile.objects.filter(folder="scans")
    assert scanned_and_printed.count() == 6  # with the recording, two loose pages and a stack


def test_sitting_named_by_their_code_is_named_anew(gone):
    gone.alone.refresh_from_db()
    sitting = Sitting.objects.get(pk=gone.alone.sitting_id)
    assert len(sitting.code) == 5
    assert not sitting.sitters.exists()
    assert list(gone.together.sitting.sitters.all()) == [gone.other]


def test_picture_that_quotes_them_loses_the_words_and_is_held(gone):
    gone.quoting.refresh_from_db()
    assert gone.quoting.words == ""
    assert gone.quoting.picture.others == Others.NONE
    hold = PictureHold.objects.get(picture=gone.quoting.picture, lifted_at=None)
    assert hold.laid_by.role == Role.KEEPER


def test_holds_on_their_pictures_stay_without_words(gone):
    assert [hold.sentence for hold in gone.together.holds.all()] == [""]
    assert not gone.alone.holds.exists()


def test_kept_answers_are_answers_no_more(gone):
    kept = Weighing.objects.get()
    assert (kept.result, kept.stops, kept.conditions, kept.digest) == ("not_cleared", [], [], "")
    line = ClearedPicture.objects.get()
    assert (line.caption, line.instruction) == ("", "")
    plan = PlannedUse.objects.get(asked__picture=gone.together)
    row = uses.with_kept(plan, uses.weighed(plan, DAY))[0]
    assert row.is_stale
    assert (gone.together.code, Code.ERASED) in row.answer.stops


def test_what_others_did_stays_without_them(gone):
    assert OthersAsk.objects.get().person is None
    for clock in LettingGo.objects.all():
        assert (clock.person, clock.thing, clock.postponed_until) == (None, "", None)
        assert clock.sentence == ""
    assert LettingGo.objects.count() == 2
    alarm = Alarm.objects.get(affected__isnull=False)
    assert list(alarm.affected.all()) == [gone.other]
    assert [one.where for one in Misuse.objects.all()] == ["a wall by the quay"]
    assert [one.old for one in Mending.objects.all()] == [{"call_name": "Bruno"}]
    assert {one.address for one in Posted.objects.all()} == {"/"}


def test_number_that_leads_through_them_goes_with_them(gone):
    assert not PhoneLine.objects.exists()
    assert Participant.objects.filter(pk=gone.other.pk).exists()


def test_hold_is_laid_by_whom_there_is(settings, tmp_path):
    settings.RELATIONS_HOME = tmp_path / "another"
    (tmp_path / "another").mkdir()
    from relations.privacy import ledger

    found = everything()
    User.objects.update(role=Role.ASSISTANT)
    ledger.append(found.person.log_key)
    erasing.catch_up()
    hold = PictureHold.objects.get(picture=found.quoting.picture)
    assert hold.laid_by == User.objects.order_by("username").first()
