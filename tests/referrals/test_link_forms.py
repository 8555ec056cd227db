"""What is pressed on the pages that look after links."""

from datetime import date
from types import SimpleNamespace
from uuid import uuid4

from relations.people.values import LinkOver
from relations.privacy.refused import Refused
from relations.referrals.link_forms import OverForm, SealForm, WhomForm
from relations.referrals.links import Over


def over(code: str) -> Over:
    row = SimpleNamespace(pk=uuid4(), person=SimpleNamespace(code=code))
    return Over(row, "01", LinkOver.CLOSED, date(2023, 1, 5))  # type: ignore[arg-type]


def test_nothing_is_sealed_without_the_tick_and_a_refusal_has_its_words() -> None:
    assert not SealForm({"token": str(uuid4())}).is_valid()
    form = SealForm({"token": str(uuid4()), "noted": "on"})
    assert form.is_valid()
    form.refuse(Refused("sealed_before", "ledger"))
    assert len(form.non_field_errors()) == 2


def test_of_the_proposed_only_those_that_were_ticked_are_chosen() -> None:
    first, second = over("12"), over("28")
    fresh = OverForm(over=[first, second])
    assert [label for _, label in fresh.fields["which"].choices] == [
        "01 told us of 12: their file is closed", "01 told us of 28: their file is closed",
    ]  # fmt: skip
    typed = {"token": str(uuid4()), "noted": "on", "which": [str(second.row.pk)]}
    form = OverForm(typed, over=[first, second])
    assert form.is_valid(), form.errors
    assert form.chosen == [second]
    assert not OverForm({**typed, "which": [str(uuid4())]}, over=[first, second]).is_valid()


def test_code_is_typed_as_it_is_said() -> None:
    form = WhomForm({"code": "x 2"})
    assert form.is_valid()
    assert form.cleaned_data["code"] == "X2"
    assert "token" not in form.fields
