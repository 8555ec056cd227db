"""Blanks for a trip: proposed from those expected, printed in one go, signed out, listed."""

import re
from datetime import date
from io import BytesIO

import pypdfium2
import pytest

from relations.consent import blanks, paper
from relations.consent.blanks import Need, beside, expected, out, pack, print_blanks, proposed
from relations.consent.models import Form, Wording
from relations.consent.states import State
from relations.consent.values import FormKind
from relations.documents.models import Sheet
from relations.documents.serials import read_serial
from relations.meetings.models import Meeting, Trip
from relations.people.models import Participant
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk
from tests.rows import AT, make

pytestmark = pytest.mark.django_db


def trip() -> Trip:
    return make(Trip, code="T7", first_day=date(2026, 11, 30), last_day=date(2026, 12, 13))


def meet(trip: Trip, languages: str, **more) -> Participant:
    person = make(Participant, languages=languages)
    make(Meeting, person=person, trip=trip, **more)
    return person


def printed(trip: Trip, **how) -> list[Form]:
    given = {"by": cast.assistant(), "at": AT, "carrier": cast.assistant(), **how}
    return print_blanks(trip=trip, **given)


def refused(**how) -> tuple[str, ...]:
    with pytest.raises(Refused) as caught:
        printed(**how)
    return caught.value.codes


def test_people_expected_count_once_each_by_the_language_they_named_first():
    on = trip()
    person = meet(on, "ar fr")
    make(Meeting, person=person, trip=on)
    meet(on, "fr")
    meet(on, "")
    meet(on, "fr", state="called_off")
    make(Meeting, person=make(Participant, languages="fr"))
    assert expected(on) == {"ar": 1, "fr": 1, "": 1}


def test_whoever_comes_along_is_expected_too_by_the_same_language_and_counts_once():
    on = trip()
    person = meet(on, "fr", others=2)
    make(Meeting, person=person, trip=on, others=0)
    meet(on, "es")
    assert expected(on) == {"fr": 3, "es": 1}


def test_trip_is_proposed_what_it_needs_and_told_what_is_refused_and_why():
    """The demo's T7 (job.md F6): fr 7, es 3, bn 2, ar 2 expected; pt is not read."""
    desk.frozen("fr", "es", "bn", "ar", "en")
    on = trip()
    for tag, people in {"fr": 7, "es": 3, "bn": 2, "ar": 2, "pt": 2, "ta": 1, "": 1}.items():
        for _ in range(people):
            meet(on, tag)
    found = {need.language: need for need in proposed(on)}
    assert {tag: need.blanks for tag, need in found.items() if need.blanks} == {
        "fr": 10,
        "es": 4,
        "bn": 3,
        "ar": 3,
    }
    assert {tag: need.refused for tag, need in found.items() if need.refused} == {
        "pt": "unread",
        "ta": "no_wording",
        "": "language_unknown",
    }
    assert found["en"] == Need("en", 0, 0, "")
    assert next(iter(found)) == "fr"


def test_blanks_are_printed_in_order_of_need_and_signed_out():
    desk.frozen("fr", "ar", "en")
    on = trip()
    forms = printed(on, counts={"ar": 1, "fr": 3, "en": 0}, has_heading=True)
    assert [form.first_wording.language for form in forms] == ["fr", "ar", "fr", "fr"]
    assert [form.second_wording.language for form in forms] == ["en", "fr", "en", "en"]
    assert {(form.state, form.carried_by, form.trip) for form in forms} == {
        (State.CARRIED, cast.assistant(), on)
    }
    serials = [form.sheet.serial for form in forms]
    assert len({str(read_serial(serial)) for serial in serials}) == 4
    with pypdfium2.PdfDocument(pack(forms)) as pdf:
        said = [page.get_textpage().get_text_bounded() for page in pdf]
    assert len(said) == 8
    assert all(
        serial in said[2 * n] and serial in said[2 * n + 1] for n, serial in enumerate(serials)
    )
    top = re.sub(r"\s+", " ", said[0])
    assert "Feuille de portrait" in top and "Portrait paper" in top


def test_what_is_out_counts_against_what_is_proposed_and_what_is_written_on_is_not_packed():
    desk.frozen("fr", "en")
    on = trip()
    meet(on, "fr"), meet(on, "fr")
    forms = printed(on, counts={"fr": 2}, kind=FormKind.CHILD)
    assert [form.kind for form in out(on)] == [FormKind.CHILD] * 2
    need = next(need for need in proposed(on) if need.language == "fr")
    assert (need.blanks, need.out, need.missing) == (3, 2, 1)
    Form.objects.filter(pk=forms[0].pk).update(state=State.FILLED_IN)
    assert blanks.still_blank(on) == [forms[1]]


def test_second_language_may_be_chosen_and_never_stands_beside_itself():
    desk.frozen("fr", "ar", "en")
    assert (beside("fr"), beside("ar")) == ("en", "fr")
    forms = printed(trip(), counts={"ar": 1, "en": 1}, second="en")
    assert {form.second_wording.language for form in forms} == {"en", "fr"}


def test_unread_wording_prints_nothing_and_nothing_of_the_rest():
    desk.frozen("fr", "en")
    on = trip()
    assert refused(trip=on, counts={"fr": 1, "pt": 1}) == ("first_unread",)
    assert refused(trip=on, counts={"ta": 1}) == ("first_unread",)
    assert refused(trip=on, counts={"fr": 1}, second="ta") == ("second_unread",)
    assert refused(trip=on, counts={"fr": 0}) == ("none_asked",)
    assert refused(trip=on, counts={"fr": 201}) == ("too_many_blanks",)
    assert not Sheet.objects.exists()


def test_alone_of_all_a_language_has_none_to_stand_beside_it():
    desk.frozen("fr")
    assert beside("fr") == ""
    assert refused(trip=trip(), counts={"fr": 1}) == ("second_unread",)
    Wording.objects.all().delete()
    assert proposed(Trip.objects.get()) == []


def test_batch_and_single_form_show_the_same():
    held = desk.frozen("fr", "en")
    form = printed(trip(), counts={"fr": 1})[0]
    serial = form.sheet.serial
    assert held["fr"] == form.first_wording
    with pypdfium2.PdfDocument(BytesIO(pack([form]))) as pdf:
        # Once a language at the head, once a language on the strip.
        assert pdf[0].get_textpage().get_text_bounded().count(serial) == 4
    assert paper.AT_ONCE > 1
