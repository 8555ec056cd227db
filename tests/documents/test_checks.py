import fontpkg_mukta
import pytest

from relations.documents import checks, fonts
from relations.documents.render import render


def test_machine_of_the_tests_has_all_that_papers_need():
    assert checks.subsetter(app_configs=None) == checks.letters(app_configs=None) == []


def test_subsetter_asked_for_is_the_one_the_engine_would_load():
    render("<html lang=en><p>x</p></html>", lang="en", title="x")  # it chooses the fonts first
    from weasyprint.text import ffi

    assert ffi.harfbuzz_subset is not None
    with open(ffi.__file__, encoding="utf-8") as source:
        said = source.read()
    assert all(f"'{name}'" in said for name in checks.SUBSETTER)


def test_missing_subsetter_is_named_with_its_package(monkeypatch):
    monkeypatch.setattr(checks, "SUBSETTER", ("libharfbuzz-absent.so.0",))
    [said] = checks.subsetter()
    assert (said.id, said.is_serious()) == ("documents.W001", False)
    assert "libharfbuzz-absent.so.0" in said.msg
    assert "libharfbuzz-subset0" in said.hint


def test_missing_package_of_fonts_is_named(monkeypatch):
    monkeypatch.setattr(fonts, "PACKAGES", ("fontpkg_mukta", "fontpkg_absent"))
    [said] = checks.letters()
    assert said.id == "documents.W002"
    assert "fontpkg_absent" in said.msg


@pytest.mark.parametrize("package", fonts.PACKAGES)
def test_package_without_a_font_file_is_named(monkeypatch, tmp_path, package):
    monkeypatch.setattr(fonts, "PACKAGES", (package,))
    assert checks.letters() == []
    monkeypatch.setattr(f"{package}.ROOT", tmp_path)
    [said] = checks.letters()
    assert package in said.msg


def test_fonts_are_looked_for_where_the_packages_say():
    assert fonts.folder_of("fontpkg_mukta") == fontpkg_mukta.ROOT / "files"
