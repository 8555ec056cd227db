"""The whole list of what is kept, held against the tables of the site."""

from django.apps import apps

from . import impact, impact_house, impact_people, impact_pictures, impact_uses
from .impact import Faults, Kept

LISTED: dict[str, Kept] = {
    **impact_people.TABLES,
    **impact_pictures.TABLES,
    **impact_uses.TABLES,
    **impact_house.TABLES,
}


def stored() -> dict[str, list[str]]:
    """Every table of the site and of the framework, with the names of its fields."""
    return {
        model._meta.label: [
            field.name for field in (*model._meta.local_fields, *model._meta.local_many_to_many)
        ]
        for model in apps.get_models()
    }


def faults() -> Faults:
    """What is stored and not listed, and listed and not stored."""
    return impact.compare(LISTED, stored())
