"""Pages of the lab: what waits, one order with its slip and files, what came home of it."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import User
from relations.privacy.sureness import SURE, sure_within

from . import lab_papers, ordered, orders
from .lab_forms import (
    CollectForm,
    FilesForm,
    HandOverForm,
    OrderForm,
    PricesForm,
    SlipForm,
    is_asked,
)
from .models import LabOrder


def page_of(order: LabOrder) -> str:
    """The address of one order."""
    return reverse("prints:order", args=[order.code])


def _lab(user: User) -> dict[str, Any]:
    """What the page of the lab shows beside its form."""
    trip = ordered.trip_of(today())
    return {
        "why": ordered.why_now(ordered.waiting(user), today()),
        "elsewhere": list(ordered.elsewhere(user)),
        "orders": [(one, orders.balance(one)) for one in ordered.orders(user)],
        "money": ordered.money(trip) if trip else None,
        "usual": ordered.usual(trip) if trip and user.is_artist else None,
    }


@roles(*HANDS)
def lab(request: HttpRequest) -> HttpResponse:
    """The prints that wait for the lab, why it is time, the press that orders, and all orders."""
    user = who(request)
    waiting = list(ordered.waiting(user))
    form = OrderForm(typed(request), waiting=waiting)

    def act() -> str:
        said = form.typed_in("on", "surface")
        order = orders.order(wanted=form.wanted, by=user, at=now(), **said)
        return page_of(order) if order else request.path

    return answer(request, "prints/lab.html", form, act, waiting=waiting, **_lab(user))


def _order(user: User, order: LabOrder) -> dict[str, Any]:
    """What the page of an order shows beside its presses."""
    lines = ordered.lines(user, order)
    return {
        "order": order,
        "lines": lines,
        "unseen": order.lines.count() - len(lines),
        "balance": orders.balance(order),
        "to_check": [line for line in lines if is_asked(line)],
        "again": ordered.to_order_again(lines),
        "slips": ordered.need_slips(lines),
        "money": ordered.money(order.trip) if order.trip else None,
    }


@roles(*HANDS)
@require_safe
def order(request: HttpRequest, code: str) -> HttpResponse:
    """One order: its lines by code, whether it is all there, and the next press."""
    user = who(request)
    row = ordered.order_or_404(user, code)
    form = SlipForm()
    return render(request, "prints/order.html", {"form": form, **_order(user, row)})


@roles(*HANDS)
@require_POST
def lab_slip(request: HttpRequest, code: str) -> HttpResponse:
    """Print the slip: the press itself answers with the PDF; a second one leads to the order."""
    user, row = who(request), ordered.order_or_404(who(request), code)
    form, made = SlipForm(request.POST), list[bytes]()

    def act() -> str:
        made.append(lab_papers.print_slip(order=row, by=user, at=now())[1])
        return page_of(row)

    response = answer(request, "prints/order.html", form, act, **_order(user, row))
    return _sent(made[0], "application/pdf", "slip.pdf") if made else response


@roles(*HANDS)
def hand_over(request: HttpRequest, code: str) -> HttpResponse:
    """Slip and files are at the lab, since today or since the day that is said."""
    user, row = who(request), ordered.order_or_404(who(request), code)
    form = HandOverForm(typed(request))

    def act() -> str:
        orders.hand_over(order=row, on=form.cleaned_data["on"], by=user, at=now())
        return page_of(row)

    return answer(request, "prints/hand_over.html", form, act, **_order(user, row))


@roles(*HANDS)
def collect(request: HttpRequest, code: str) -> HttpResponse:
    """What came home: each print held to the light, what was spoilt, what is still there."""
    user, row = who(request), ordered.order_or_404(who(request), code)
    form = CollectForm(typed(request), order=row, lines=ordered.lines(user, row))

    def act() -> str:
        orders.collect(order=row, by=user, at=now(), **form.said)
        return page_of(row)

    return answer(request, "prints/collect.html", form, act, **_order(user, row))


@roles(*HANDS)
def prices(request: HttpRequest, code: str) -> HttpResponse:
    """What the lab asks for each line, in the money of the trip."""
    user, row = who(request), ordered.order_or_404(who(request), code)
    form = PricesForm(typed(request), lines=ordered.lines(user, row))

    def act() -> str:
        orders.price(order=row, prices=form.prices, by=user)
        return page_of(row)

    return answer(request, "prints/prices.html", form, act, **_order(user, row))


@roles(*HANDS)
@sure_within(SURE)
def lab_files(request: HttpRequest, code: str) -> HttpResponse:
    """The picture files of an order in one: by code, stripped; what is given here is not kept."""
    user, row = who(request), ordered.order_or_404(who(request), code)
    pictures = lab_papers.pictures(user, row)
    form = FilesForm(typed(request), request.FILES or None, pictures=pictures)
    made = list[bytes]()

    def act() -> str:
        made.append(lab_papers.files(order=row, given=form.given, by=user))
        return page_of(row)

    response = answer(request, "prints/lab_files.html", form, act, **_order(user, row))
    if not made:
        return response
    return _sent(made[0], "application/zip", "files.zip")


def _sent(content: bytes, media_type: str, name: str) -> HttpResponse:
    """A file that was made just now; its name says nothing of anybody."""
    response = HttpResponse(content, content_type=media_type)
    response["Content-Disposition"] = f'inline; filename="{name}"'
    response["Cache-Control"] = "private, no-store"
    return response
