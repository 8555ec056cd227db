"""Pages on one group: how many of it are hoped for."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from relations.privacy.access import roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.models import Role

from . import actions, queries
from .group_forms import HopeForm


@roles(Role.ARTIST)
def hope(request: HttpRequest, key: str) -> HttpResponse:
    """How many sitters of a group are hoped for."""
    user, community = who(request), queries.community_or_404(key)
    form = HopeForm(typed(request), initial={"hoped_for": community.hoped_for})

    def act() -> str:
        actions.hope_for(community=community, by=user, **form.typed_in("hoped_for"))
        return reverse("people:communities")

    return answer(request, "people/hope.html", form, act, community=community)
