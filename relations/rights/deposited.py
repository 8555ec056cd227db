"""The deposit list of all pictures as of a day, and how many forms go with it sealed and apart."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from relations.consent import queries as consent
from relations.consent.models import Form
from relations.consent.papers import STANDING
from relations.consent.values import Plan, Use
from relations.consent.weighing import weigh_all
from relations.pictures.models import Appearance, Picture

from .deposit import Entry, entry, shown_count


@dataclass(frozen=True)
class Deposit:
    """What goes to an archive: no name, nobody who asked for none, no introductions.

    `forms` is None where so few go along that their number would point at people.
    """

    on: date
    countries: tuple[str, ...]
    entries: list[Entry]
    forms: int | None


def deposit(on: date, countries: Collection[str] | None) -> Deposit:
    """Weigh every picture for an archive; `countries` of it, None is anywhere."""
    where = None if countries is None else frozenset(countries)
    plan = Plan(use=Use.ARCHIVE, starts_on=on, countries=where, shows_captions=False)
    pictures, everybody = consent.load(Picture.objects.order_by("code"), on)
    answers = weigh_all(pictures, everybody, plan, today=on)
    found = [
        entry(one.id, answer, [everybody[sitter.code] for sitter in one.sitters], on)
        for one, answer in zip(pictures, answers, strict=True)
    ]
    entries = sorted((one for one in found if one), key=lambda one: one.picture)
    people = Appearance.objects.filter(picture__code__in=[one.picture for one in entries])
    forms = Form.objects.filter(person__in=people.values("person"), state__in=STANDING).count()
    return Deposit(on, tuple(sorted(where or ())), entries, shown_count(forms))
