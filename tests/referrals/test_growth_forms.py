"""What may be chosen where a drawing is put on paper."""

from uuid import uuid4

import pytest

from relations.referrals.growth_forms import PaperForm


def test_codes_on_a4_are_what_it_starts_with() -> None:
    form = PaperForm()
    assert [form[name].initial for name in ("paper", "labels", "sheets")] == ["A4", "codes", "many"]


@pytest.mark.parametrize(
    ("field", "value"), [("paper", "A5"), ("labels", "faces"), ("sheets", ""), ("paper", None)]
)
def test_anything_else_is_refused(field: str, value: str | None) -> None:
    sent = {"paper": "A3", "labels": "names", "sheets": "one", "token": str(uuid4())}
    assert PaperForm(sent).is_valid()
    assert set(PaperForm({**sent, field: value or ""}).errors) == {field}
