"""The tables of how things end: a handover and its tasks, a person's ending, the project's closing.

Django finds them by way of `models`.
"""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.people.models import Participant
from relations.privacy.models import Row, choices_of, held_to

from .values import PersonEnding, Spoken


class Ending(Row):
    """How the project ends for one person; who could not be asked is looked for again."""

    person = models.OneToOneField(Participant, models.CASCADE, related_name="ending")
    how = models.CharField(max_length=20, choices=choices_of(PersonEnding))
    decided_on = models.DateField()
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    look_again_on = models.DateField(null=True, blank=True)
    # Where they stood and since when, so that an ending taken back leaves nothing behind; empty
    # where it moved nobody.
    was = models.CharField(max_length=20, blank=True)
    was_since = models.DateField(null=True, blank=True)

    class Meta:
        constraints = [
            held_to(PersonEnding, "how", "ending_how_known"),
            models.CheckConstraint(
                condition=Q(was="", was_since=None) | ~Q(was="") & Q(was_since__isnull=False),
                name="ending_was_somewhere_since_a_day",
            ),
            models.CheckConstraint(
                condition=Q(how=PersonEnding.COULD_NOT_ASK, look_again_on__isnull=False)
                | ~Q(how=PersonEnding.COULD_NOT_ASK) & Q(look_again_on=None),
                name="ending_looked_at_again_where_nobody_could_ask",
            ),
        ]


class Handover(Row):
    """Open things counted and signed by two people, from one assistant to the next.

    `counts`: by `values.OpenThing`, what the site counted as they signed; `by_hand`: what each of
    the two counted, {"gone": {…}, "come": {…}}. `is_open` is True until it is signed or called off
    and then empty, so that there is one at a time.
    """

    on = models.DateField()
    gone = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    come = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    begun_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    is_open = models.BooleanField(default=None, null=True, blank=True, unique=True)
    counts = models.JSONField(default=dict)
    by_hand = models.JSONField(default=dict)
    # Why the numbers differ: what to look for, no name of a sitter.
    why_differs = models.CharField(max_length=140, blank=True)
    signed_by_both_at = models.DateTimeField(null=True, blank=True)
    called_off_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["-on"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(gone=F("come")), name="handover_between_two_people"
            ),
            models.CheckConstraint(
                condition=Q(is_open=None)
                | Q(is_open=True, signed_by_both_at=None, called_off_on=None),
                name="handover_open_until_signed",
            ),
            models.CheckConstraint(
                condition=Q(signed_by_both_at=None) | Q(called_off_on=None),
                name="handover_signed_or_called_off",
            ),
        ]


class ToIntroduce(Row):
    """The artist is to tell a sitter of the newcomer: done in a talk, on a day."""

    handover = models.ForeignKey(Handover, models.CASCADE, related_name="to_introduce")
    person = models.ForeignKey(Participant, models.CASCADE, related_name="+")
    spoken_on = models.DateField(null=True, blank=True)
    said = models.CharField(max_length=10, choices=choices_of(Spoken), blank=True)

    class Meta:
        ordering = ["person__code"]
        constraints = [
            models.UniqueConstraint(
                fields=["handover", "person"], name="introduced_once_a_handover"
            ),
            models.CheckConstraint(
                condition=Q(spoken_on=None, said="")
                | Q(spoken_on__isnull=False, said__in=[one.value for one in Spoken]),
                name="introduced_on_a_day",
            ),
        ]


class Closing(Row):
    """The project is being closed, or is; nothing closes by itself, and it may go on after all.

    `is_current` is True until it is called off and then empty, so that there is one at a time.
    """

    begun_on = models.DateField()
    begun_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    is_current = models.BooleanField(default=True, null=True, blank=True, unique=True)
    closed_on = models.DateField(null=True, blank=True)
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    called_off_on = models.DateField(null=True, blank=True)
    called_off_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-begun_on"]
        constraints = [
            models.CheckConstraint(
                condition=Q(closed_on=None, closed_by=None)
                | Q(closed_on__isnull=False, closed_by__isnull=False),
                name="closing_closed_by_whom",
            ),
            models.CheckConstraint(
                condition=Q(
                    is_current=True,
                    is_current__isnull=False,
                    called_off_on=None,
                    called_off_by=None,
                )
                | Q(is_current=None, called_off_on__isnull=False, called_off_by__isnull=False),
                name="closing_is_current_until_called_off",
            ),
        ]
