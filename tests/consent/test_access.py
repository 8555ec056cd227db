"""Who may see which form, open which scan, and read or write which wording."""

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import Http404

from relations.consent import access, actions
from relations.consent.states import State as FormState
from relations.people.newcomers import refuse
from relations.privacy.models import AccessEntry
from tests import cast
from tests.consent import desk
from tests.consent.stack import NUMBER, brought, sides

pytestmark = pytest.mark.django_db


def absent(act, *args):
    with pytest.raises(Http404):
        act(*args)
    return True


def test_artist_sees_every_form():
    form = desk.standing()
    assert access.form(cast.artist(), form.sheet.serial) == form


def test_assistant_sees_papers_on_their_way_and_those_of_people_in_sight():
    on_its_way, put_away = desk.paper(70_001), desk.standing(70_002, cast.marcel())
    cast.marcel().in_sight.all().delete()
    user = cast.assistant()
    assert access.form(user, on_its_way.sheet.serial) == on_its_way
    assert absent(access.form, user, put_away.sheet.serial)
    cast.in_sight(cast.marcel(), user)
    assert access.form(user, put_away.sheet.serial) == put_away


def test_assistant_sees_no_form_of_somebody_who_wants_another():
    filed, nobodys = desk.filed(), desk.paper(70_043)
    refuse(person=cast.danuta(), user=cast.assistant(), on=cast.TODAY, by=cast.artist())
    assert list(access.forms(cast.assistant())) == [nobodys]
    assert absent(access.scan, cast.assistant(), filed.sheet.serial, 1)
    assert access.form(cast.artist(), filed.sheet.serial) == filed


def test_page_in_the_tray_is_opened_by_nobody_its_person_refuses():
    form = desk.filed()
    brought(*sides(NUMBER, 1))
    (page,) = access.waiting(cast.artist())
    assert page.sheet == form.sheet and access.open_page(cast.assistant(), page.pk)
    refuse(person=cast.danuta(), user=cast.assistant(), on=cast.TODAY, by=cast.artist())
    assert absent(access.open_page, cast.assistant(), page.pk)
    assert access.open_page(cast.artist(), page.pk)


def test_blank_that_is_nobodys_is_seen_by_the_assistant_whatever_became_of_it():
    desk.paper(70_042, state="spoilt")
    desk.paper(70_043, cast.danuta(), state="spoilt")
    seen = access.forms(cast.assistant()).values_list("sheet__serial", flat=True)
    assert list(seen) == [desk.serial(70_042)]


@pytest.mark.parametrize("user", [cast.wording_reader, cast.keeper, AnonymousUser])
def test_nobody_else_sees_a_form(user):
    form = desk.paper()
    assert absent(access.form, user(), form.sheet.serial)


def test_scan_is_opened_with_a_line_in_the_log_and_comes_back_whole():
    form = desk.filed()
    scan, content = access.scan(cast.assistant(), form.sheet.serial, 1)
    assert content.startswith(b"\x89PNG") and len(content) == scan.size
    line = AccessEntry.objects.get(kind="scan")
    assert (line.by, line.key, line.verb) == (
        cast.assistant().pk,
        cast.danuta().log_key,
        "read",
    )


@pytest.mark.parametrize("number", [0, 2])
def test_scan_that_is_not_there_is_absent_and_leaves_no_line(number):
    form = desk.filed()
    assert absent(access.scan, cast.artist(), form.sheet.serial, number)
    assert not AccessEntry.objects.filter(kind="scan").exists()


def test_assistant_opens_a_scan_until_it_was_read_and_the_artist_always():
    form = desk.filed()
    assert access.may_open_scan(cast.assistant(), form)
    actions.read(form=form, answers=desk.WHOLE, by=cast.assistant(), at=desk.AT)
    form.refresh_from_db()
    assert not access.may_open_scan(cast.assistant(), form)
    assert absent(access.scan, cast.assistant(), form.sheet.serial, 1)
    assert access.may_open_scan(cast.artist(), form)
    assert not access.may_open_scan(cast.keeper(), form)


def test_turn_to_read_goes_from_the_assistant_to_the_artist():
    form = desk.filed()
    assert [access.may_read(user, form) for user in cast.everyone()] == [False, True, False, False]
    actions.read(form=form, answers=desk.WHOLE, by=cast.assistant(), at=desk.AT)
    form.refresh_from_db()
    assert [access.may_read(user, form) for user in cast.everyone()] == [True, False, False, False]
    actions.read(form=form, answers={}, by=cast.artist(), at=desk.AT)
    form.refresh_from_db()
    assert not any(access.may_read(user, form) for user in cast.everyone())


def test_wordings_are_open_to_all_roles_and_to_no_stranger():
    whole = desk.frozen("fr")["fr"].clauses.count()
    for user in cast.everyone():
        found = {one.language: one for one in access.wordings(user)}
        assert (found["fr"].whole, found["fr"].approved, found["ar"].approved) == (whole, whole, 0)
    assert not access.wordings(AnonymousUser())


def test_wordings_come_by_language_and_version_however_they_were_entered():
    held = desk.wordings()
    for code in sorted(held, reverse=True):
        held[code].pk = None
        held[code].version = 2
        held[code].save(force_insert=True)
    found = [(one.language, one.version) for one in access.wordings(cast.artist())]
    assert found == sorted(found)
    assert len(found) == 2 * len(held)


def test_wording_or_clause_that_is_not_there_is_absent():
    held = desk.wordings()
    assert access.wording(cast.artist(), "fr", 1) == held["fr"]
    assert absent(access.wording, cast.artist(), "fr", 2)
    assert access.clause(held["fr"], "who").number == 2
    assert absent(access.clause, held["fr"], "colour")


def test_only_a_second_person_who_reads_the_language_approves():
    held = desk.frozen("fr")
    assert access.may_approve(desk.reader(), held["ar"])
    assert not access.may_approve(desk.reader(), held["fr"])  # frozen
    assert not access.may_approve(cast.artist(), held["ar"])  # wrote it, reads no Arabic
    held["ar"].written_by = desk.reader()
    assert not access.may_approve(desk.reader(), held["ar"])


def test_artist_writes_any_language_and_a_reader_those_given():
    assert access.may_write(cast.artist(), "pt")
    assert access.may_write(cast.wording_reader(), "ar")
    assert not access.may_write(cast.wording_reader(), "fr")
    assert not access.may_write(cast.assistant(), "fr")


def test_newest_wording_of_each_language_is_offered():
    held = desk.frozen("fr")
    texts = {clause.name: ("x", clause.text) for clause in held["fr"].clauses.all()}
    newer = actions.write_wording(language="fr", texts=texts, by=cast.artist())
    found = access.newest(cast.assistant())
    assert newer in found and held["fr"] not in found
    assert len(found) == len(desk.LANGUAGES)


def test_paper_in_doubt_of_state_is_seen_with_its_serial_only_once():
    desk.paper(state=FormState.MISSING)
    assert access.forms(cast.assistant()).count() == 1
