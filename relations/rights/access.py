"""Who reaches whom in order to erase: the keeper, by a code they were told, and nobody is shown."""

from django.http import Http404

from relations.languages.codes import tidy
from relations.people.models import Participant


def is_known(code: str) -> bool:
    """Whether somebody has this code, typed in any case; for the keeper who erases."""
    return Participant.objects.filter(code=tidy(code)).exists()


def to_erase(code: str) -> Participant:
    """The person with this code, to be counted and erased, never shown. Http404 where absent."""
    found = Participant.objects.filter(code=tidy(code)).first()
    if found is None:
        raise Http404
    return found
