"""A room knows only what lies below it: tables too, which no reader of imports can see."""

import configparser

import pytest
from django.apps import apps
from django.core.management import call_command

from tests.house.rooms import ROOMS, ROOT, pure_modules

LINKS = [
    (model, field)
    for model in apps.get_models(include_auto_created=True)
    if model._meta.app_label in ROOMS
    for field in model._meta.get_fields()
    if field.is_relation and field.concrete and field.related_model
]


@pytest.mark.parametrize("link", LINKS, ids=lambda link: f"{link[0].__name__}.{link[1].name}")
def test_foreign_key_points_down(link):
    model, field = link
    here, there = model._meta.app_label, field.related_model._meta.app_label
    if here != there and there in ROOMS:
        assert ROOMS[there] < ROOMS[here], f"{here} stands no higher than {there}"


def test_there_are_foreign_keys_to_look_at():
    assert len(LINKS) > 20


def contract(name, key):
    """The lines under one key of an import contract."""
    contracts = configparser.ConfigParser()
    contracts.read(ROOT / ".importlinter")
    return contracts[f"importlinter:contract:{name}"][key].split()


def test_import_contract_names_every_pure_module_that_is_there():
    there = {str(module).removesuffix(".py").replace("/", ".") for module in pure_modules()}
    assert set(contract("pure", "source_modules")) == there


def test_import_contract_names_every_room_once():
    layers = contract("storeys", "layers")
    named = [room.strip() for layer in layers for room in layer.split("|") if room.strip()]
    heights = [ROOMS[room] for room in named]
    assert sorted(named) == sorted(ROOMS)
    assert heights == sorted(heights, reverse=True)


@pytest.mark.django_db
def test_migrations_are_complete(capsys):
    call_command("makemigrations", check=True, dry_run=True, verbosity=3)
    assert "No changes detected" in capsys.readouterr().out
