"""A stack sorts itself; whatever a machine cannot place waits for a person, and nothing is lost."""

import random
from io import BytesIO

import numpy as np
import pikepdf
import pytest

from relations.consent import coming_home
from relations.consent.models import Form
from relations.consent.states import State as FormState
from relations.documents import filing, stacks
from relations.documents.models import Page, Scan, Sheet, Upload
from relations.documents.sorting import Place, Why
from relations.documents.split import look
from relations.people.models import InSight
from relations.privacy import damage
from relations.privacy.files import scans
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk, stack
from tests.consent.stack import NUMBER, OTHER, brought, sent, sides, step
from tests.documents import scanner

pytestmark = pytest.mark.django_db


def refused(act, **how):
    with pytest.raises(Refused) as caught:
        act(**how)
    return caught.value.codes


def places(upload):
    return {page.number: (page.place, page.why) for page in upload.pages.all()}


def waiting(why=None):
    found = Page.objects.filter(place=Place.WAITING)
    return found.filter(why=why) if why else found


def came(upload):
    return [(p.sheet.serial, p.sides, p.missing) for p in coming_home.came(upload)]


def nothing_lost():
    """Every sealed file that a row names is there and whole, and no row names a file for naught."""
    named = {scan.file for scan in Scan.objects.all()}
    named |= {page.file for page in Page.objects.exclude(file="")}
    named |= {upload.file for upload in Upload.objects.exclude(file="")}
    assert all(scans().open(name).read() for name in named)
    return named


def test_form_whose_sides_are_turned_and_in_the_wrong_order_is_filed_upright_and_in_order():
    form = desk.paper(person=cast.danuta())
    upload = brought(*sides(NUMBER, 2, turned=180), *sides(NUMBER, 1, turned=90))
    assert came(upload) == [(desk.serial(), (1, 2), ())]
    form.refresh_from_db()
    assert form.state == FormState.SCANNED
    assert InSight.objects.filter(person=cast.danuta(), why="form").exists()
    (scan,) = Scan.objects.all()
    content = filing.content(scan)
    key = stack.keyring.subkey("mark")
    for page in (1, 2):
        seen = look(content, page)
        assert seen.turn == 0
        assert {code.text for code in seen.codes} == {scanner.payload(NUMBER, page, key)}


def test_shuffled_part_turned_stack_of_twenty_with_a_blank_and_a_foreign_page_sorts_itself():
    numbers = [NUMBER + step for step in range(9)]
    pages = []
    for number in numbers:
        desk.paper(number, cast.danuta())
        pages += [(number, 1), (number, 2)]
    pages += ["blank", "foreign"]
    chance = random.Random(4)
    chance.shuffle(pages)
    lying = []
    for page in pages:
        if page == "blank":
            lying.append(scanner.blank())
        elif page == "foreign":
            lying += scanner.sides(NUMBER, 1, key=bytes(32))
        else:
            turned = chance.choice([0, 0, 0, 90, 180, 270])
            lying += sides(page[0], page[1], turned=turned)
    assert len(lying) == 20
    upload = brought(*lying)
    assert came(upload) == [(desk.serial(number), (1, 2), ()) for number in numbers]
    found = places(upload)
    assert found[pages.index("blank") + 1] == (Place.WAITING, Why.BLANK)
    assert found[pages.index("foreign") + 1] == (Place.WAITING, Why.FOREIGN)
    assert [place for place, _ in found.values()].count(Place.FILED) == 18
    assert set(Form.objects.values_list("state", flat=True)) == {FormState.SCANNED}


def test_stack_is_kept_until_its_last_page_has_found_its_place(django_capture_on_commit_callbacks):
    before = damage.faults()  # of files that other tests left in this home
    desk.paper(person=cast.danuta())
    with django_capture_on_commit_callbacks(execute=True):
        upload = sent(*sides(NUMBER, 1, 2), scanner.blank())
        assert scans().exists(upload.file)
        kept, upload = upload.file, step(upload)
    assert (upload.file, upload.ended_at) == ("", desk.AT)
    assert not scans().exists(kept)
    assert len(nothing_lost()) == 2, "one scan, one blank page"
    assert damage.faults() == before


def test_large_stack_is_placed_in_parts_and_goes_on_where_it_stopped(monkeypatch):
    monkeypatch.setattr(stacks.look_on, "__defaults__", (2,))
    monkeypatch.setattr(coming_home, "PAPERS", 1)
    desk.paper(person=cast.danuta())
    desk.paper(OTHER, cast.bruno())
    upload = sent(*sides(NUMBER, 1), *sides(OTHER, 1), scanner.blank(), *sides(NUMBER, 2))
    upload = step(upload)
    assert (upload.looked, upload.ended_at) == (2, None)
    assert not Scan.objects.exists()
    upload = step(Upload.objects.get())
    assert (upload.looked, upload.ended_at) == (4, None)
    assert [scan.sheet.serial for scan in Scan.objects.all()] == [desk.serial()]
    upload = step(Upload.objects.get())
    assert upload.ended_at is not None
    assert came(upload) == [(desk.serial(), (1, 2), ()), (desk.serial(OTHER), (1,), (2,))]


def test_two_presses_in_one_moment_do_each_page_once():
    desk.paper(person=cast.danuta())
    upload = sent(*sides(NUMBER, 1, 2))
    seen = coming_home.look_on(upload)
    how = {"by": cast.assistant(), "at": desk.AT, "seen": seen}
    coming_home.go_on(upload=upload, **how)
    again = coming_home.go_on(upload=upload, **how)
    assert (again.looked, Page.objects.count(), Scan.objects.count()) == (2, 2, 1)
    assert coming_home.look_on(again) == []


def test_side_that_comes_in_a_later_stack_makes_the_form_whole():
    desk.paper(person=cast.danuta())
    assert came(brought(*sides(NUMBER, 1))) == [(desk.serial(), (1,), (2,))]
    assert coming_home.missing(Sheet.objects.get()) == (2,)
    assert came(brought(*sides(NUMBER, 2))) == [(desk.serial(), (1, 2), ())]
    assert coming_home.missing(Sheet.objects.get()) == ()


def test_very_same_stack_sent_again_is_kept_once():
    desk.paper(person=cast.danuta())
    content = scanner.pdf([*sides(NUMBER, 1, 2), scanner.blank()], 150)
    brought(files=[content])
    again = brought(files=[content])
    assert {place for place, _ in places(again).values()} == {Place.TWICE}
    assert Scan.objects.count() == 1 and waiting().count() == 1


def test_two_different_scans_of_one_side_are_both_kept_and_ask_a_person():
    desk.paper(person=cast.danuta())
    one, other = (
        scanner.flat(grey, noise=5, seed=n) for n, grey in enumerate(sides(NUMBER, 1) * 2)
    )
    upload = brought(one, other, *sides(NUMBER, 2))
    assert places(upload)[1] == places(upload)[2] == (Place.WAITING, Why.TWO_SCANS)
    assert came(upload) == [(desk.serial(), (2,), (1,))]
    first, second = waiting()
    assert first.file != second.file and nothing_lost() >= {first.file, second.file}
    coming_home.place(page=second, serial=desk.serial(), by=cast.assistant(), at=desk.AT)
    assert coming_home.missing(Sheet.objects.get()) == ()


def test_another_scan_of_a_filed_side_waits_and_may_be_kept_beside_the_first():
    desk.paper(person=cast.danuta())
    brought(*sides(NUMBER, 1, 2))
    brought(scanner.flat(sides(NUMBER, 1)[0], noise=3, seed=9))
    (page,) = waiting(Why.ANOTHER_SCAN)
    coming_home.place(page=page, serial=desk.serial(), by=cast.assistant(), at=desk.AT)
    assert Scan.objects.count() == 2


def test_page_of_a_paper_that_was_filed_by_hand_asks_since_nobody_knows_its_sides():
    desk.filed()
    upload = brought(*sides(NUMBER, 1))
    assert places(upload) == {1: (Place.WAITING, Why.ANOTHER_SCAN)}
    assert coming_home.missing(Sheet.objects.get()) == ()


def test_blank_form_waits_to_be_told_whose_it_is_and_is_filed_whole():
    form = desk.paper()
    brought(*sides(NUMBER, 2), *sides(NUMBER, 1, turned=180))
    assert waiting(Why.WHOSE).count() == 2
    how = {"serial": desk.serial(), "by": cast.assistant(), "at": desk.AT}
    scan = coming_home.whose(person=cast.bruno(), **how)
    form.refresh_from_db()
    assert (form.person, form.state, scan.pages) == (cast.bruno(), FormState.SCANNED, 2)
    assert [look(filing.content(scan), page).turn for page in (1, 2)] == [0, 0]
    assert refused(coming_home.whose, person=cast.bruno(), **how) == ("not_waiting",)
    assert nothing_lost() == {scan.file}


@pytest.mark.parametrize(
    ("state", "why"),
    [(FormState.SPOILT, Why.NOT_EXPECTED), (FormState.BROUGHT_BACK_BLANK, Why.NOT_EXPECTED)],
)
def test_paper_that_cannot_have_come_home_waits(state, why):
    desk.paper(person=cast.danuta(), state=state)
    assert places(brought(*sides(NUMBER, 1))) == {1: (Place.WAITING, why)}


def test_form_that_was_read_twice_takes_no_further_scan_by_machine():
    desk.paper(person=cast.danuta())
    brought(*sides(NUMBER, 1))
    desk.read_twice(Form.objects.get(), desk.WHOLE)
    assert places(brought(*sides(NUMBER, 2))) == {1: (Place.WAITING, Why.ALREADY_FILED)}


def test_code_of_ours_without_a_paper_in_the_register_waits():
    assert places(brought(*sides(NUMBER, 1))) == {1: (Place.WAITING, Why.UNKNOWN)}


def test_stop_card_with_the_serial_of_a_form_is_not_filed_as_the_form():
    desk.paper(person=cast.danuta())
    assert places(brought(*sides(NUMBER, 1, kind="C"))) == {1: (Place.WAITING, Why.BESIDE)}


@pytest.mark.parametrize(
    ("kind", "letter", "why"),
    [("spot", "P", Why.OTHER_SHEET), ("take_back", "T", Why.TAKEN_BACK)],
)
def test_sheet_that_is_no_form_waits_to_be_read_and_is_never_filed_unseen(kind, letter, why):
    sheet = Sheet.objects.create(serial=desk.serial(), kind=kind, pages=1)
    upload = brought(*sides(NUMBER, 1, kind=letter))
    assert places(upload) == {1: (Place.WAITING, why)}
    assert (came(upload), sheet.scans.count()) == ([], 0)
    page, how = waiting().get(), {"by": cast.assistant(), "at": desk.AT}
    assert refused(coming_home.place, page=page, serial=sheet.serial, **how) == ("no_form",)
    coming_home.set_aside(page=page, word="done", person=cast.danuta(), **how)
    page.refresh_from_db()
    assert (page.place, page.word) == (Place.ASIDE, "done")
    assert [row.person for row in sheet.of.all()] == [cast.danuta()]


def test_page_of_a_form_is_of_nobody_else_when_it_is_set_aside():
    form = desk.paper(person=cast.danuta())
    brought(*sides(NUMBER, 1, kind="C"))
    how = {"by": cast.assistant(), "at": desk.AT}
    coming_home.set_aside(page=waiting().get(), word="a card", person=cast.bruno(), **how)
    assert not form.sheet.of.exists()


def test_paper_printed_before_a_rekey_is_still_known(monkeypatch):
    desk.paper(person=cast.danuta())
    old = bytes(range(1, 33))
    keys = [stack.keyring.subkey("mark"), old]
    monkeypatch.setattr(type(stack.keyring), "mark_keys", lambda self: keys)
    upload = brought(*scanner.sides(NUMBER, 1, key=old))
    assert came(upload) == [(desk.serial(), (1,), (2,))]


def test_page_without_a_code_is_placed_by_its_typed_serial():
    form = desk.paper(person=cast.danuta())
    torn = sides(NUMBER, 1)[0][250:1500]
    brought(np.ascontiguousarray(torn))
    page = waiting().get()
    how = {"by": cast.assistant(), "at": desk.AT}
    assert refused(coming_home.place, page=page, serial="70042-75", **how) == ("mistyped",)
    assert refused(coming_home.place, page=page, serial=desk.serial(OTHER), **how) == (
        "no_such_paper",
    )
    scan = coming_home.place(page=page, serial="70042 74", side=1, **how)
    form.refresh_from_db()
    assert (scan.sheet, form.state) == (form.sheet, FormState.SCANNED)
    assert coming_home.missing(form.sheet) == (2,)
    assert refused(coming_home.place, page=page, serial="70042-74", **how) == ("not_waiting",)


def test_page_placed_without_saying_its_side_says_nothing_of_what_is_missing():
    form = desk.paper(person=cast.danuta())
    brought(scanner.blank())
    how = {"by": cast.assistant(), "at": desk.AT}
    coming_home.place(page=waiting().get(), serial=desk.serial(), **how)
    assert coming_home.missing(form.sheet) == ()


def test_page_that_is_not_ours_is_set_aside_with_a_word_and_can_still_be_placed():
    desk.paper(person=cast.danuta())
    brought(scanner.blank(), *scanner.sides(NUMBER, 1, key=bytes(32)))
    blank, foreign = waiting().order_by("number")
    how = {"by": cast.assistant(), "at": desk.AT}
    coming_home.set_blanks_aside(**how)
    coming_home.set_aside(page=foreign, word="a form of the hospital", **how)
    assert not waiting().exists()
    assert {page.word for page in Page.objects.all()} == {"blank", "a form of the hospital"}
    assert nothing_lost() == {blank.file, foreign.file}
    coming_home.place(page=blank, serial=desk.serial(), **how)
    blank.refresh_from_db()
    assert (blank.place, blank.word) == (Place.FILED, "")
    assert refused(coming_home.set_aside, page=blank, word="no", **how) == ("not_waiting",)


def test_page_of_a_form_that_was_erased_is_not_kept():
    form = desk.paper(person=cast.danuta())
    form.delete()
    upload = brought(*sides(NUMBER, 1, 2))
    assert {place for place, _ in places(upload).values()} == {Place.NOT_KEPT}
    assert nothing_lost() == set()
    brought(scanner.blank())
    how = {"serial": desk.serial(), "by": cast.assistant(), "at": desk.AT}
    assert refused(coming_home.place, page=waiting().get(), **how) == ("erased_form",)


def test_photographs_sent_at_once_are_one_stack_and_a_bad_one_is_named():
    desk.paper(person=cast.danuta())
    photos = [scanner.jpeg(grey, 80) for grey in sides(NUMBER, 2, 1)]
    upload = brought(files=[photos[0], b"words", None, photos[1]])
    assert upload.left_out == [[2, "not_a_scan"], [3, "too_large"]]
    assert came(upload) == [(desk.serial(), (1, 2), ())]


def paper(count):
    document = pikepdf.new()
    for _ in range(count):
        document.add_blank_page()
    out = BytesIO()
    document.save(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("files", "codes"),
    [
        ([b""], ("empty",)),
        ([b"words", b"\xff\xd8\xff", b"more"], ("not_a_scan", "broken")),
        ([None], ("too_large",)),
        ([paper(0)], ("no_pages",)),
        ([paper(1001)], ("too_many_pages",)),
    ],
)
def test_stack_of_which_nothing_can_be_taken_is_refused_with_each_reason(files, codes):
    assert refused(sent, files=files) == codes
    assert not Upload.objects.exists()


@pytest.mark.long
def test_two_hundred_pages_are_placed_in_parts_of_twenty_and_none_is_lost():
    key, numbers = stack.keyring.subkey("mark"), range(71_000, 71_100)
    lying = [scanner.coded(number, side, key) for number in numbers for side in (2, 1)]
    random.Random(7).shuffle(lying)
    for number in numbers:
        desk.paper(number, cast.danuta())
    halves = [scanner.pdf(part, 150) for part in (lying[:100], lying[100:])]  # each below 25 MB
    upload, parts = sent(files=halves), []
    while upload.ended_at is None:
        before = upload.looked
        # What a press finds is what the last one left on the disk.
        upload = step(Upload.objects.get())
        parts.append(upload.looked - before)
    assert parts == [20] * 10 + [0] * 4
    assert came(upload) == [(desk.serial(number), (1, 2), ()) for number in numbers]
    assert not waiting().exists()
