"""Uploads stay in memory; one that is too large becomes a sentence beside its field."""

import tempfile

import pytest
from django import forms
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import RequestFactory

from relations.privacy.uploads import is_too_large


@pytest.fixture(autouse=True)
def no_spool(monkeypatch):
    def refuse(*args, **kwargs):
        raise AssertionError("an upload was spooled to disk")

    for way in ("NamedTemporaryFile", "TemporaryFile", "mkstemp"):
        monkeypatch.setattr(tempfile, way, refuse)


def upload(*files):
    names = {f"scan{number}": file for number, file in enumerate(files)}
    return RequestFactory().post("/", names).FILES


def test_an_upload_far_above_djangos_own_limit_stays_in_memory():
    data = bytes(6_000_000)
    scan = upload(SimpleUploadedFile("scan.pdf", data, "application/pdf"))["scan0"]
    assert scan.read() == data
    assert (scan.size, scan.content_type) == (6_000_000, "application/pdf")
    assert not is_too_large(scan)


@pytest.mark.parametrize(("size", "large"), [(1000, False), (1001, True), (200_000, True)])
def test_an_upload_beyond_the_limit_is_known_and_its_bytes_are_let_go(settings, size, large):
    settings.UPLOAD_BYTES = 1000
    scan = upload(SimpleUploadedFile("scan.pdf", bytes(size)))["scan0"]
    assert is_too_large(scan) is large
    assert scan.size == size
    assert len(scan.read()) == (0 if large else size)


def test_the_bytes_taken_in_before_the_limit_are_let_go_too(settings):
    settings.UPLOAD_BYTES = 100_000
    scan = upload(SimpleUploadedFile("scan.pdf", bytes(300_000)))["scan0"]
    assert is_too_large(scan)
    assert scan.file.getbuffer().nbytes == 0


def test_a_large_upload_does_not_change_the_one_after_it(settings):
    settings.UPLOAD_BYTES = 1000
    files = upload(SimpleUploadedFile("a", bytes(5000)), SimpleUploadedFile("b", b"words"))
    assert is_too_large(files["scan0"])
    assert files["scan1"].read() == b"words"
    assert not is_too_large(files["scan1"])


def test_a_form_field_takes_the_large_upload_and_can_say_so(settings):
    settings.UPLOAD_BYTES = 1000
    files = upload(SimpleUploadedFile("scan.pdf", bytes(5000)))
    cleaned = forms.FileField().clean(files["scan0"])
    assert is_too_large(cleaned)
