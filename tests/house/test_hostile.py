"""Every form that anybody is shown, filled by a hostile hand: refused in words, or taken whole.

The forms are found on the pages, so that a new one is filled by itself. Held: no error of the
site's own, nothing written by a refusal, what was typed given back, no answer that leads away.
"""

import logging
from collections.abc import Iterator

import pytest
from hypothesis import given, settings

from relations.privacy.models import User
from tests.house import hostile
from tests.house.asking import files
from tests.house.pages import PUBLIC, WHO, pages, table, wanted

PAGES = pages()
FEW, MANY = 4, 60
pytestmark = pytest.mark.django_db

LOGGED = {"privacy_accessentry", "privacy_loghead"}
# What a refusal may leave behind, and why.
SPARED = {
    # A wrong password, code or phrase counts as a try, and stands in the log.
    **dict.fromkeys(
        ("privacy:sign_in", "privacy:sure", "privacy:password", "rights:lost"),
        LOGGED | {"privacy_wrongtries"},
    ),
    "uses:open_sheet": LOGGED | {"privacy_wrongtries", "uses_clearancesheet"},
    # The page that asks again shows the names once more, and that is logged.
    **dict.fromkeys(("referrals:seal", "referrals:seal_all", "referrals:share"), LOGGED),
}


@pytest.fixture(scope="module")
def quiet() -> Iterator[None]:
    """Without a line in the log for each refusal."""
    logging.disable()
    yield
    logging.disable(logging.NOTSET)


def by_page(found: list[hostile.Form]) -> dict[str, list[hostile.Form]]:
    there: dict[str, list[hostile.Form]] = {}
    for form in found:
        there.setdefault(form.page, []).append(form)
    return there


@pytest.fixture(scope="module")
def forms(askers, made_once, django_db_blocker, quiet) -> dict[str, list[hostile.Form]]:
    with django_db_blocker.unblock():
        return by_page(hostile.found(askers, PAGES, made_once, all_roles=False))


@pytest.fixture(scope="module")
def everybodys(askers, made_once, django_db_blocker, quiet) -> dict[str, list[hostile.Form]]:
    """The forms again, with everybody who is shown each."""
    with django_db_blocker.unblock():
        return by_page(hostile.found(askers, PAGES, made_once, all_roles=True))


def fill(form: hostile.Form, asker, known: list[str], times: int) -> None:
    """Fill one form badly in so many ways, the same ones every time."""

    @settings(max_examples=times, derandomize=True, database=None)
    @given(hostile.fillings(form, known))
    def filled(pairs: hostile.Pairs) -> None:
        before = files()
        asked = hostile.press(asker, form, pairs)
        found = list(hostile.faults(form, pairs, asked, SPARED))
        if asked.status in hostile.REFUSED and files() != before:
            found.append("a refusal wrote a file")
        assert not found, f"{hostile.shown(form)}: {found}"

    filled()


@pytest.mark.once
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_form_filled_badly_is_refused_in_words_or_taken_whole(page, forms, askers, made_once):
    known = sorted(set(made_once.values()))
    for form in forms.get(page.name, ()):
        fill(form, askers[form.roles[0]], known, FEW)


@pytest.mark.long
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_form_filled_badly_by_everybody_many_times(page, everybodys, askers, made_once):
    known = sorted({*made_once.values(), *map(str, User.objects.values_list("pk", flat=True))})
    for form in everybodys.get(page.name, ()):
        for who in form.roles:
            fill(form, askers[who], known, MANY)


@pytest.mark.once
def test_every_page_that_takes_a_form_was_filled(forms):
    """Whatever the table of pages says is answered with 422 has a form here."""
    rows = table()
    taking = {
        page.name
        for page in PAGES
        if any(wanted(rows[page.name][who], "POST") == "422" for who in WHO)
    }
    assert sorted(taking - forms.keys()) == []
    assert len(taking) > 100
    assert any(form.files for there in forms.values() for form in there)


def test_fault_is_found():
    """Else the tests above could not fail."""
    form = hostile.Form("a:b", "/", "POST", {}, {"word": "text"}, {})
    assert PUBLIC and form.key
