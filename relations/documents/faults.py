"""A paper that could not be made right: the page says why, whatever page asked for it."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from .columns import MarkupError
from .render import MissingLetters, OutsideAddress, RenderFault

Next = Callable[[HttpRequest], HttpResponse]


class FaultsMiddleware:
    """Answers for every page that prints; what it wrote before is undone by the exception."""

    def __init__(self, get_response: Next) -> None:
        """Keep what answers all else."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Name the letters that no font has, or say what kept the paper; None for other errors."""
        if not isinstance(error, RenderFault | MarkupError):
            return None
        context = {
            # One letter each, so that no word of a page stands in the answer.
            "letters": error.letters if isinstance(error, MissingLetters) else [],
            "asks_outside": isinstance(error, OutsideAddress | MarkupError),
        }
        return render(request, "documents/not_printed.html", context, status=422)
