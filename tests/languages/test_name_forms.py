"""Rows are offered by what they are called, in the order of a reader's alphabet."""

import pytest
from django import forms

from relations.languages.name_forms import ByNameField
from relations.people.models import Community
from tests.rows import make

pytestmark = pytest.mark.django_db


class Choosing(forms.Form):
    group = ByNameField(Community.objects, required=False, empty_label="any")
    must = ByNameField(Community.objects, empty_label=None)


def test_choices_stand_by_name_after_what_is_none_of_them():
    for name in ("Zebra", "érable", "Ébène", "شجر", "बर", "Eiche"):
        make(Community, name=name)
    form = Choosing()
    sorted_names = ["Ébène", "Eiche", "érable", "Zebra", "شجر", "बर"]
    assert [str(label) for _key, label in form.fields["group"].choices] == ["any", *sorted_names]
    assert [str(label) for _key, label in form.fields["must"].choices] == sorted_names


def test_choice_is_still_a_row_of_the_table():
    row = make(Community, name="Oak")
    form = Choosing({"must": str(row.pk)})
    assert form.is_valid() and form.cleaned_data["must"] == row
    assert "must" in Choosing({"must": "999999"}).errors
