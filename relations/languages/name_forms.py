"""Choices of people, groups and places, in the order in which a reader looks for a name."""

from collections.abc import Iterator
from typing import Any

from django import forms
from django.forms.models import ModelChoiceIterator

from .sorting import by_name


class _ByName(ModelChoiceIterator):  # type: ignore[type-arg] # none as it runs
    """The choices of a queryset by what each is called, whatever the database sorts by."""

    def __iter__(self) -> Iterator[Any]:
        if self.field.empty_label is not None:
            yield ("", self.field.empty_label)
        yield from by_name(map(self.choice, self.queryset.all()), lambda choice: choice[1])


class ByNameField(forms.ModelChoiceField):  # type: ignore[type-arg] # none as it runs
    """One of the rows of a table, offered by name: a sealed name has no order in the database."""

    iterator = _ByName
