"""The command writes a .mo beside each sound .po and refuses all others."""

from gettext import GNUTranslations
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

PO = """msgid ""
msgstr ""
"Language: fr\\n"
"Content-Type: text/plain; charset=utf-8\\n"
"Plural-Forms: nplurals=2; plural=(n > 1);\\n"

msgid "Hide"
msgstr "{hide}"
"""


@pytest.fixture
def french(tmp_path: Path, settings) -> Path:
    settings.LOCALE_PATHS = [tmp_path]
    path = tmp_path / "fr" / "LC_MESSAGES" / "django.po"
    path.parent.mkdir(parents=True)
    return path


def test_sound_catalogue_is_built_and_counted(french: Path) -> None:
    french.write_text(PO.format(hide="Cacher"))
    said = StringIO()
    call_command("build_translations", stdout=said)
    assert said.getvalue() == "fr: 1 strings\n"
    with french.with_suffix(".mo").open("rb") as built:
        assert GNUTranslations(built).gettext("Hide") == "Cacher"


def test_quiet_build_says_nothing(french: Path) -> None:
    french.write_text(PO.format(hide="Cacher"))
    said = StringIO()
    call_command("build_translations", verbosity=0, stdout=said)
    assert said.getvalue() == ""


def test_catalogue_with_a_defect_is_refused_and_named(french: Path) -> None:
    french.write_text(PO.format(hide=""))
    with pytest.raises(CommandError, match="fr has defects:\n  untranslated: 'Hide'"):
        call_command("build_translations")
    assert not french.with_suffix(".mo").exists()


def test_file_that_cannot_be_read_is_refused(french: Path) -> None:
    french.write_text('msgid "Hide"\nrubbish')
    with pytest.raises(CommandError, match=r"fr has defects:\n.*misformatted"):
        call_command("build_translations")
