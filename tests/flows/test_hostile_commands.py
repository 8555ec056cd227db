"""Every command, told nonsense in each of its words: a sentence, an end, nothing half written."""

import argparse
import importlib
import io

import pytest
from django.core.management import get_commands, load_command_class
from django.core.management.base import BaseCommand, CommandError

from relations.privacy import opening
from relations.privacy.models import Role, User
from tests.house.asking import files, watching

pytestmark = pytest.mark.django_db

COMMANDS = sorted(name for name, room in get_commands().items() if room.startswith("relations."))
# They start a server or the tests, or make a home and its words anew; what they are told is a
# number or a word that the parser of the command line looks at.
NOT_CALLED = {"serve", "demo", "bench", "begin", "build_translations"}
# No command line holds a NUL. What is no UTF-8 comes as half of a pair.
BAD = ("", "x" * 5000, "/dev/null", "/", "../../x", "a\udcff", "-", "=1+1", "\u202ex")
# It would write there.
NO_PLACE_AT_ALL = {"backup": ("", "x" * 5000, "/dev/null")}
NUMBERS = ("", "-1", "1e400", "9" * 5000, "²", "nan")


def words(parser: argparse.ArgumentParser) -> list[argparse.Action]:
    """What a command takes words for; which of a few it is, the parser knows."""
    return [
        action
        for action in parser._actions
        if action.nargs != 0 and not action.choices and action.dest in _own(parser)
    ]


def _own(parser: argparse.ArgumentParser) -> set[str]:
    plain = BaseCommand().create_parser("", "")
    return {action.dest for action in parser._actions} - {a.dest for a in plain._actions}


def lines(name: str) -> list[list[str]]:
    """Command lines in which one word is nonsense, and what must stand beside it is a word."""
    parser = load_command_class(get_commands()[name], name).create_parser("manage.py", name)
    found = []
    taking = words(parser)
    for action in taking:
        for bad in NUMBERS if action.type is int else NO_PLACE_AT_ALL.get(name, BAD):
            line: list[str] = []
            for other in taking:
                said = bad if other is action else "1" if other.type is int else "nowhere"
                if not other.option_strings:
                    line += [said]
                elif other is action or other.required:
                    line += [f"{other.option_strings[0]}={said}"]
            found.append(line)
    return found


@pytest.fixture
def opened(monkeypatch, tmp_path):
    """The home of this test is open, nobody answers a question, and we stand in an empty folder."""
    User.objects.create_user("ines", None, role=Role.ARTIST, called="Ines")
    for name in COMMANDS:
        module = importlib.import_module(f"{get_commands()[name]}.management.commands.{name}")
        for step in ("open_home", "take_home", "take_new_home"):
            if hasattr(module, step):
                monkeypatch.setattr(module, step, lambda *_, **__: None)
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.once
@pytest.mark.parametrize("name", sorted(set(COMMANDS) - NOT_CALLED))
def test_command_told_nonsense_ends_with_a_sentence(name, opened):
    for line in lines(name):
        command = load_command_class(get_commands()[name], name)
        command.stdout._out = command.stderr._out = io.StringIO()
        before = files()
        with watching() as watch:
            try:
                said = command.create_parser("manage.py", name).parse_args(line)
                options = vars(said)
                command.execute(**{**options, "skip_checks": True, "no_color": True})
            except CommandError as error:
                assert str(error).strip(), line
            except SystemExit as ended:
                assert ended.code, line
            else:
                raise AssertionError(f"{name} {line!r} was taken")
        assert not watch.stayed, line
        assert (files(), list(opened.iterdir())) == (before, []), line


KEY_FILES = (
    *(
        b"",
        b"{}",
        b"[]",
        b"null",
        b"\xff\xfe",
        b"[" * 100_000,
        b'{"version": 1}',
        b'{"kind": "real"}',
    ),
    *(b'{"kind": [], "version": 1}', b"9" * 5000, b'{"kind": "rehearsal", "version": 1}'),
)


@pytest.mark.once
@pytest.mark.parametrize("content", KEY_FILES, ids=lambda content: str(content[:24]))
def test_restore_names_a_key_file_that_is_none(content, tmp_path):
    """Before anything is asked or made."""
    keys = tmp_path / "keys.json"
    keys.write_bytes(content)
    with pytest.raises(CommandError, match=r"keys\.json is (no key file|damaged)"):
        opening.open_with(keys)


def test_every_command_is_told_nonsense_where_it_takes_words():
    assert set(COMMANDS) >= NOT_CALLED
    told = {name for name in COMMANDS if lines(name)}
    assert told >= {
        "restore",
        "file_scans",
        "travel",
        "come_home",
        "blank_forms",
        "weigh",
        "backup",
    }
