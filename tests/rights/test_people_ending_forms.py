"""Presses that mean something else have tokens of their own."""

from uuid import uuid4

from relations.rights.people_ending_forms import EndAlikeForm, EndForForm


def test_presses_of_one_page_do_not_take_one_another_for_themselves():
    said = {"token": str(uuid4()), "how": "as_agreed"}
    each = [EndForForm(said, path=path) for path in ("/51/", "/52/")]
    groups = [
        EndAlikeForm({**said, "standing": standing, **sat}, path="/alike/")
        for standing in ("taking_part", "gone_quiet")
        for sat in ({}, {"has_sat": "on"})
    ]
    forms = [*each, *groups]
    assert all(form.is_valid() for form in forms)
    assert len({form.token for form in forms}) == 6
