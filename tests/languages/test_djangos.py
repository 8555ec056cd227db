"""Every sentence of Django's own that a form of ours can show stands in our catalogues."""

import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import django
import pytest
from babel.messages.pofile import read_po
from django import forms
from django.conf import settings
from django.utils import translation
from django.utils.functional import Promise

import relations
from relations.languages import djangos

DJANGO = Path(django.__file__).parent
OURS = {
    *(*djangos.FIELDS, *djangos.FILES, *djangos.PASSWORDS),
    *(words._kw["singular"] for words in djangos.COUNTED),
}


def of_django() -> set[str]:
    """Every string of Django's own catalogues, plurals by their singular."""
    found = set()
    for room in ("conf", "contrib/auth"):
        with (DJANGO / room / "locale/en/LC_MESSAGES/django.po").open("rb") as source:
            ids = [message.id for message in read_po(source) if message.id]
        found |= {one if isinstance(one, str) else one[0] for one in ids}
    return found


def every_form(base: type = forms.BaseForm) -> Iterator[type]:
    for form in base.__subclasses__():
        if form.__module__.startswith("relations."):
            yield form
        yield from every_form(form)


def said_by(field: forms.Field) -> Iterator[Any]:
    """What a field and its validators may answer."""
    yield from field.error_messages.values()
    for validator in field.validators:
        yield from getattr(validator, "messages", {}).values()
        yield getattr(validator, "message", "")


def sentence(words: str | Promise | None) -> str:
    """The English of it; of a plural, the singular."""
    counted = getattr(words, "_kw", None)
    return counted["singular"] if counted else str(words or "")


def test_what_django_may_say_on_our_forms_is_what_our_catalogues_hold() -> None:
    for module in pkgutil.walk_packages(relations.__path__, "relations."):
        if module.name.endswith("forms"):
            importlib.import_module(module.name)
    with translation.override("en"):
        said = {
            sentence(words)
            for form in every_form()
            for field in form.base_fields.values()
            for words in said_by(field)
        }
    assert len(said) > 20
    assert said & of_django() == OURS - set(djangos.PASSWORDS)
    assert of_django() >= OURS, "Django says it otherwise now"


@pytest.mark.parametrize("code", [code for code, _name in settings.LANGUAGES if code != "en"])
def test_django_speaks_each_language_by_our_words(code: str) -> None:
    with translation.override(code):
        for words in OURS - {words._kw["singular"] for words in djangos.COUNTED}:
            assert translation.gettext(words) != words, words
        for words in djangos.COUNTED:
            one, many = words._kw["singular"], words._kw["plural"]
            for count in (0, 1, 2, 3, 11, 100):
                assert translation.ngettext(one, many, count) not in {one, many}, one
