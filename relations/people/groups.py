"""Groups under neutral names, and those outside the project who pass names on."""

from django.db import models

from relations.privacy.fields import SealedText
from relations.privacy.models import Row


class Community(Row):
    """A group under a neutral name (a tree); what it stands for is not stored."""

    key = models.SlugField(max_length=20, unique=True)
    name = models.CharField(max_length=40, unique=True)
    # Where many are at risk, nobody is vouched for unless they were asked first.
    is_raised = models.BooleanField(default=False)
    # How many sitters the artist hopes for; unset where nobody has said: no number is guessed.
    hoped_for = models.PositiveSmallIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "communities"

    def __str__(self) -> str:
        return self.name


class OutsideIntroducer(Row):
    """Somebody outside the project who passes names on: a label, no file."""

    code = models.CharField(max_length=8, unique=True)
    label = SealedText()
    accepted_on = models.DateField(null=True, blank=True)
    # When we last thanked them for those who came.
    thanked_on = models.DateField(null=True, blank=True)

    def __str__(self) -> str:
        return self.code
