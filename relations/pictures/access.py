"""The door to sittings and pictures: they are seen with the people in them."""

from typing import TYPE_CHECKING

from django.db.models import QuerySet
from django.http import Http404

from relations.people.access import people

from .models import Picture, Sitting

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser

    from relations.privacy.models import User


def sittings(user: "User | AnonymousUser") -> QuerySet[Sitting]:
    """The sittings of those whom `user` may see today; one sitter in sight is enough."""
    return Sitting.objects.filter(sitters__in=people(user)).distinct()


def sitting(user: "User | AnonymousUser", code: str) -> Sitting:
    """One sitting of a person in sight, by its code. Http404 where absent or out of sight."""
    found = sittings(user).filter(code=code).select_related("trip").first()
    if found is None:
        raise Http404
    return found


def pictures(user: "User | AnonymousUser") -> QuerySet[Picture]:
    """The pictures of the sittings that `user` may see."""
    return Picture.objects.filter(sitting__in=sittings(user))


def picture(user: "User | AnonymousUser", code: str) -> Picture:
    """One picture of a sitting in sight, by its code. Http404 where absent or out of sight."""
    rows = pictures(user).select_related("sitting", "sheet", "crop_of")
    found = rows.filter(code=code).first()
    if found is None:
        raise Http404
    return found
