"""The command that prints blanks for a trip into one file."""

from io import StringIO

import pypdfium2
import pytest
from django.core.management import CommandError, call_command

from relations.consent.management.commands import blank_forms
from relations.consent.models import Form
from relations.documents.models import Sheet
from relations.privacy.models import Role, User
from tests.consent import desk
from tests.consent.test_blanks import meet, trip

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def opened(monkeypatch):
    """The home is open already, as for every test; the command opens it as others do."""
    calls = []
    monkeypatch.setattr(blank_forms, "open_home", lambda: calls.append(1))
    return calls


@pytest.fixture
def file(tmp_path):
    return tmp_path / "blanks.pdf"


def run(file, *more, code="t7") -> tuple[str, str]:
    out, err = StringIO(), StringIO()
    call_command("blank_forms", "--trip", code, "--out", str(file), *more, stdout=out, stderr=err)
    return out.getvalue(), err.getvalue()


def test_blanks_are_written_and_said_in_one_sentence(file, opened):
    desk.frozen("fr", "ar", "en")
    on = trip()
    for tag in ("fr", "fr", "ar"):
        meet(on, tag)
    said, _ = run(file, "--languages", "fr", "ar", "--count", "3")
    assert opened == [1]
    with pypdfium2.PdfDocument(file) as pdf:
        assert len(pdf) == 6
    assert file.stat().st_mode & 0o777 == 0o600
    carrier = User.objects.in_role(Role.ASSISTANT, Role.ARTIST).order_by("role").last()
    assert said.startswith("3 blanks (fr 2, ar 1) from ")
    assert said.endswith(f"signed out to T7 with {carrier.called}.\n")
    assert said.count("\n") == 1
    assert Form.objects.filter(trip=on, state="carried", carried_by=carrier).count() == 3


def test_without_languages_the_trip_gets_what_it_still_needs_and_is_told_the_rest(file):
    desk.frozen("fr", "en")
    on = trip()
    for tag in ("fr", "pt", ""):
        meet(on, tag)
    said, err = run(file, "--carrier", desk_hand().username, "--heading", "--kind", "child")
    assert said.startswith("2 blanks (fr 2)")
    assert "pt refused: wording not read" in err and "? refused" in err
    assert set(Form.objects.values_list("kind", flat=True)) == {"child"}


def desk_hand() -> User:
    return User.objects.in_role(Role.ARTIST).first()


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--languages", "pt"), "pt refused: wording not read"),
        (("--languages", "ta"), "ta refused: there is no wording in it"),
        (("--languages", "fr", "--count", "0"), "Say how many"),
        (("--languages", "fr", "--count", "900"), "At most 200"),
        (("--carrier", "nobody"), "nobody who could carry"),
    ],
)
def test_what_is_refused_is_said_and_leaves_neither_file_nor_row(file, more, says):
    desk.frozen("fr", "en")
    trip()
    with pytest.raises(CommandError, match=says):
        run(file, *more)
    assert not file.exists()
    assert not Sheet.objects.exists()


def test_file_that_is_there_is_not_written_over(file):
    file.write_bytes(b"mine")
    with pytest.raises(CommandError, match="is there already"):
        run(file)
    assert file.read_bytes() == b"mine"


def test_folder_and_trip_that_are_not_there_are_named(file):
    with pytest.raises(CommandError, match="is no folder"):
        run(file / "x" / "y.pdf")
    with pytest.raises(CommandError, match="No trip has the code T8"):
        run(file, code="T8")


def test_full_disk_signs_nothing_out(file, monkeypatch):
    def full(number):
        raise OSError(28, "No space left on device")

    desk.frozen("fr", "en")
    trip()
    monkeypatch.setattr(blank_forms.os, "fsync", full)
    monkeypatch.setattr(blank_forms.actions, "print_blanks", lambda **how: [])
    monkeypatch.setattr(blank_forms.blanks, "pack", lambda forms: b"x")
    with pytest.raises(CommandError, match="could not be written"):
        run(file, "--languages", "fr", "--count", "1")
    assert not file.exists()
