"""That somebody does not want one who signs in: noted at once, by whoever hears it, and lifted."""

from datetime import date
from typing import TYPE_CHECKING
from uuid import UUID

from django.conf import settings
from django.db import models, transaction
from django.db.models import F, Q, QuerySet
from django.http import Http404

from relations.privacy import log
from relations.privacy.models import Role, Row, User
from relations.privacy.refused import Refused

if TYPE_CHECKING:
    from .models import Participant


class Unwanted(Row):
    """A person does not want one of those who sign in; why is not asked and not kept.

    While it is not lifted, that user sees nothing of the person (`access.people`).
    """

    person = models.ForeignKey("people.Participant", models.CASCADE, related_name="unwanted")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="+")
    said_on = models.DateField()
    lifted_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["-said_on"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "user"], condition=Q(lifted_on=None), name="unwanted_once"
            ),
            models.CheckConstraint(
                condition=Q(lifted_on=None) | Q(lifted_on__gte=F("said_on")),
                name="unwanted_lifted_after_it_was_said",
            ),
        ]


def who_want_another(user: User) -> QuerySet[Unwanted]:
    """The refusals that stand against a user."""
    return Unwanted.objects.filter(user=user.pk, lifted_on=None)


def wants_another(person: "Participant", user: User) -> bool:
    """Whether a person does not want this user now."""
    return who_want_another(user).filter(person=person.pk).exists()


def standing() -> QuerySet[Unwanted]:
    """Every refusal of somebody who may sign in now: the artist does that work, by code."""
    found = Unwanted.objects.filter(lifted_on=None, user__is_active=True)
    return found.select_related("person", "user").order_by("person__code", "user__username")


def unwanted_or_404(key: UUID) -> Unwanted:
    """One refusal; Http404 where there is none."""
    found = Unwanted.objects.filter(pk=key).first()
    if found is None:
        raise Http404
    return found


@transaction.atomic
def refuse(*, person: "Participant", user: User, on: date, by: User) -> Unwanted:
    """Note that a person does not want this assistant; it acts at once. Twice is once.

    The artist may note it of any assistant, an assistant of themselves. Refused: not_an_assistant,
    not_yours_to_say.
    """
    if user.role != Role.ASSISTANT:
        raise Refused("not_an_assistant")
    if not by.is_artist and by != user:
        raise Refused("not_yours_to_say")
    row, is_new = Unwanted.objects.get_or_create(
        person=person, user=user, lifted_on=None, defaults={"said_on": on}
    )
    if is_new:
        log.note(by, "refused", "people.unwanted", row.pk)
    return row


@transaction.atomic
def lift(*, row: Unwanted, on: date, by: User) -> Unwanted:
    """Note that they may come after all; a second press finds it lifted. Refused: artist_only."""
    if not by.is_artist:
        raise Refused("artist_only")
    if row.lifted_on is None:
        row.lifted_on = max(on, row.said_on)
        row.save(update_fields=["lifted_on"])
        log.note(by, "lifted", "people.unwanted", row.pk)
    return row
