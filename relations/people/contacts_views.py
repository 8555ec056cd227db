"""Pages on the contacts of a telephone: the file, its columns, its lines, and those taken."""

from dataclasses import astuple
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST

from relations.privacy.access import roles
from relations.privacy.answering import again, answer, typed, who
from relations.privacy.home import now
from relations.privacy.models import Role

from . import contacts_known as register
from .contacts import Entry, entries, look
from .contacts_carried import brought, carry
from .contacts_forms import ColumnsForm, ContactsForm, LinesForm, left
from .contacts_tables import Table
from .contacts_taking import take
from .contacts_taking_forms import TakeForm


@roles(Role.ARTIST)
def contacts(request: HttpRequest) -> HttpResponse:
    """A file of contacts is chosen; what it holds is shown and not kept."""
    form = ContactsForm(typed(request), files=request.FILES or None)
    if not form.is_valid():
        return again(request, "people/contacts.html", form)
    table = form.cleaned_data["file"]
    carried = carry(astuple(table), step="columns", user=who(request), at=now())
    return _columns(request, ColumnsForm(carried=carried, table=table), table)


@roles(Role.ARTIST)
@require_POST
def contact_columns(request: HttpRequest) -> HttpResponse:
    """Which column is what; then every line is shown, as it would be taken or why not."""
    carried, user = request.POST.get("carried", ""), who(request)
    said = brought(carried, step="columns", user=user, at=now())
    if said is None:
        return _gone(request)
    table = _table(said)
    form = ColumnsForm(request.POST, carried=carried, table=table)
    if not form.is_valid():
        return _columns(request, form, table)
    country = form.cleaned_data["country"]
    found = [astuple(one) for one in entries(table, form.mapped)]
    carried = carry([country, found, form.dropped], step="lines", user=user, at=now())
    shown = LinesForm(carried=carried, seen=_seen(country, found))
    return again(request, "people/contact_lines.html", shown, dropped=form.dropped)


@roles(Role.ARTIST)
@require_POST
def contact_lines(request: HttpRequest) -> HttpResponse:
    """Those ticked are asked about one by one; of the others nothing goes on."""
    carried, user = request.POST.get("carried", ""), who(request)
    said = brought(carried, step="lines", user=user, at=now())
    if said is None:
        return _gone(request)
    country, found, dropped = said
    form = LinesForm(request.POST, carried=carried, seen=_seen(country, found))
    if not form.is_valid():
        return again(request, "people/contact_lines.html", form, dropped=dropped)
    chosen = TakeForm(user=user, entries=form.cleaned_data["take"], country=country)
    return again(request, "people/take_contacts.html", chosen)


@roles(Role.ARTIST)
@require_POST
def take_contacts(request: HttpRequest) -> HttpResponse:
    """Word of each of them and the numbers they allowed, stored together and once."""
    user = who(request)
    form = TakeForm(request.POST, user=user)
    if not form.lines:
        return _gone(request)

    def act() -> str:
        for one in form.taken:
            take(by=user, at=now(), **one)
        return reverse("people:list") + "?standing=named"

    return answer(request, "people/take_contacts.html", form, act)


def _columns(request: HttpRequest, form: ColumnsForm, table: Table) -> HttpResponse:
    context = {"left": left(table), "count": len(table.rows)}
    return again(request, "people/contact_columns.html", form, **context)


def _table(said: list[Any]) -> Table:
    columns, rows, is_cards, left = said
    return Table(tuple(columns), tuple(map(tuple, rows)), is_cards, tuple(left))


def _seen(country: str, found: list[Any]) -> list[register.Seen]:
    lines = look([Entry(called, tuple(numbers), note) for called, numbers, note in found],
                 country or None)  # fmt: skip
    return register.seen(lines, country or None)


def _gone(request: HttpRequest) -> HttpResponse:
    """What was read of a file is let go after half an hour, and nobody else's opens."""
    context = {"form": ContactsForm(), "is_gone": True}
    return render(request, "people/contacts.html", context, status=422)
