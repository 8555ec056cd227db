"""That the project is closed, or over for one person, as every room must know it.

`rights` says when it closes, and how it ends for each.
"""

from datetime import date
from typing import TYPE_CHECKING

from django.db import models
from django.db.models import Q

from relations.privacy.models import Row
from relations.privacy.refused import Refused

if TYPE_CHECKING:
    from .models import Participant


class ProjectClosed(Row):
    """The one row that is there while the project is closed: nobody and nothing new is added."""

    only = models.BooleanField(default=True, unique=True)
    since = models.DateField()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(only=True), name="project_closed_only_one")
        ]


def is_closed() -> bool:
    """Whether the project is closed; what was agreed, stops and requests go on."""
    return ProjectClosed.objects.exists()


def refuse_if_closed() -> None:
    """Stop whoever is about to add somebody or to plan anything. Refused: project_closed."""
    if is_closed():
        raise Refused("project_closed")


def close(*, on: date) -> None:
    """From now on nothing new is added; a second time is once."""
    ProjectClosed.objects.get_or_create(only=True, defaults={"since": on})


def reopen() -> None:
    """It goes on after all."""
    ProjectClosed.objects.all().delete()


def show_no_more(person: "Participant", since: date | None) -> None:
    """What is theirs is given back or destroyed from a day on: no new use; None undoes it."""
    person.not_shown_since = since
    person.save(update_fields=["not_shown_since"])
