"""What is typed on the pages of papers and wordings, and what is said when it cannot be."""

from uuid import uuid4

import pytest
from django.core.files.uploadedfile import InMemoryUploadedFile, SimpleUploadedFile

from relations.consent.forms import (
    FileForm,
    MoveForm,
    PrintForm,
    SpeakerForm,
    wording_name,
)
from relations.consent.refusals import REFUSALS
from relations.consent.states import State
from relations.consent.states import State as FormState
from relations.privacy.refused import Refused
from relations.privacy.uploads import TooLarge
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def post(**said):
    return {"token": str(uuid4()), **said}


def file_form(upload=None, user=None, **said):
    files = {"scan": upload or SimpleUploadedFile("IMG_2041.png", desk.scan())}
    return FileForm(post(**said), files, user=user or cast.artist())


def test_serial_is_typed_in_any_digits_and_any_spacing():
    for typed in ("70042-74", "70042 74", "٧٠٠٤٢-٧٤", "7004274"):
        form = file_form(serial=typed)
        assert form.is_valid(), form.errors
        assert form.cleaned_data["serial"] == "70042-74"


def test_refusal_stands_beside_the_field_it_is_about():
    form = file_form(serial="70042-75")
    assert form.is_valid()
    form.refuse(Refused("mistyped", "already_filed"))
    assert form.errors["serial"] == [str(REFUSALS["mistyped"])]
    assert form.non_field_errors() == [str(REFUSALS["already_filed"])]


def test_code_of_somebody_out_of_sight_reads_like_one_that_is_unknown():
    cast.danuta()
    unknown = file_form(serial="70042-74", code="99")
    out_of_sight = file_form(serial="70042-74", code="12", user=cast.assistant())
    assert unknown.errors["code"] == out_of_sight.errors["code"]
    seen = file_form(serial="70042-74", code="12")
    assert seen.is_valid() and seen.cleaned_data["person"] == cast.danuta()


def test_scan_beyond_the_limit_is_said_to_be_too_large():
    content = desk.scan()
    upload = TooLarge(None, "scan", "a.png", "image/png", len(content), None)
    assert isinstance(upload, InMemoryUploadedFile)
    form = file_form(upload, serial="70042-74")
    assert form.errors["scan"] == [str(REFUSALS["too_large"])]


def print_form(**said):
    held = desk.frozen("fr", "ar")
    chosen = {key: str(held[value].pk) for key, value in said.items() if value in held}
    return PrintForm(post(**{**said, **chosen}), user=cast.artist(), wordings=held.values()), held


def test_two_wordings_are_chosen_by_name_and_version():
    form, held = print_form(first="ar", second="fr")
    assert form.is_valid()
    assert form.pair == (held["ar"], held["fr"])
    assert form.unread_pair is None
    assert str(wording_name(held["fr"])) == "Français, version 1"
    assert str(wording_name(held["ne"])).endswith("not read yet, proof only")


def test_proof_is_offered_for_a_pair_that_is_not_read():
    form, held = print_form(first="ne", second="fr")
    assert form.unread_pair == (held["ne"], held["fr"])
    assert print_form(first="fr", second="fr")[0].unread_pair is None
    blank = PrintForm(user=cast.artist(), wordings=held.values())
    assert blank.unread_pair is None


def test_paper_is_moved_only_where_it_can_go():
    paper = desk.paper(state=FormState.CARRIED)
    form = MoveForm(user=cast.artist(), paper=paper, more=[State.DOUBTFUL])
    offered = [value for value, _words in form.fields["to"].choices]
    assert offered == ["spoilt", "filled_in", "brought_back_blank", "missing", "doubtful"]
    wrong = MoveForm(post(to="standing", on="2026-11-23"), user=cast.artist(), paper=paper)
    assert "to" in wrong.errors


def test_day_that_has_not_come_is_refused():
    said = post(to="missing", on="2026-11-24")
    form = MoveForm(said, user=cast.artist(), paper=desk.paper())
    assert form.errors["on"] == [str(REFUSALS["day_in_future"])]
    spoken = SpeakerForm(post(use="web", is_yes="no", on="24.11.2026"), user=cast.artist())
    assert "on" in spoken.errors


def test_speakers_answer_is_yes_or_no_and_never_left_open():
    form = SpeakerForm(post(use="web", is_yes="no", on="٢٣.١١.٢٠٢٦"), user=cast.artist())
    assert form.is_valid(), form.errors
    assert form.cleaned_data["is_yes"] is False
    assert "is_yes" in SpeakerForm(post(use="web", on="2026-11-23"), user=cast.artist()).errors
