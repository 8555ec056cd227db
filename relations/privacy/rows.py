"""What every row is built on: a random key, and codes that the database itself holds a field to."""

import uuid
from collections.abc import Iterable
from enum import StrEnum

from django.conf import settings
from django.db import models
from django.db.models import Q


def choices_of(codes: Iterable[StrEnum]) -> list[tuple[str, str]]:
    """The codes of a pure enumeration as a field's choices; pages hold the words for them."""
    return [(code.value, code.value) for code in codes]


def held_to(codes: Iterable[StrEnum], field: str, name: str) -> models.CheckConstraint:
    """A constraint by which the database itself keeps a field to the codes of an enumeration."""
    known = Q(**{f"{field}__in": [code.value for code in codes]})
    return models.CheckConstraint(condition=known, name=name)


class Row(models.Model):
    """A row with a random key that says nothing, to which its sealed fields are bound."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)

    class Meta:
        abstract = True

    def __str__(self) -> str:
        return str(self.pk)


class Hold(Row):
    """Nothing moves until somebody has looked; each room says of what, one at a time."""

    laid_at = models.DateTimeField()
    laid_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    next_look_on = models.DateField()
    lifted_at = models.DateTimeField(null=True, blank=True)
    lifted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    sentence = models.CharField(max_length=140, blank=True)

    class Meta:
        abstract = True
        constraints = [
            models.CheckConstraint(
                condition=Q(lifted_at=None, lifted_by=None)
                | Q(lifted_at__isnull=False, lifted_by__isnull=False) & ~Q(sentence=""),
                name="%(class)s_lifted_by_whom_and_why",
            )
        ]
