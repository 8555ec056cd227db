"""A line in the server's own log where somebody signed in asked for what is not there for them."""

import logging
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from .models import User

logger = logging.getLogger(__name__)


class TurnedAwayMiddleware:
    """Notes who was answered 404, and at which page; never the address, which somebody typed.

    The same line for what is absent and for what is not theirs, since the answer is the same. It
    is no line of the access log: a look at a page that is not there writes nothing into the
    register.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if response.status_code == 404 and isinstance(request.user, User):
            found = request.resolver_match
            page = found.view_name if found else "no page"
            logger.warning("404 at %s for user %s", page, request.user.pk)
        return response
