"""A paper kept for the next test is the one the engine made, faults and all."""

import sys

import pytest

from relations.documents import render
from tests.laying import each_page_once

PAGE = "<html lang='en'><head><title>T</title></head><body><p>{}</p></body></html>"


@pytest.fixture
def written(monkeypatch):
    """How often the engine was asked, and by which tracer it was looked at."""
    written, write = [], render._write

    def counted(*said):
        written.append(sys.gettrace())
        return write(*said)

    monkeypatch.setattr(render, "_write", counted)
    with each_page_once():
        yield written


def test_same_page_is_laid_out_once_and_another_title_is_another_paper(written):
    first, second = (
        render.lay_out(PAGE.format("A wall of nine"), lang="en", title="1") for _ in range(2)
    )
    assert first == second
    assert len(written) == 1
    assert render.lay_out(PAGE.format("A wall of nine"), lang="en", title="2") != first
    assert len(written) == 2


def test_fault_is_a_fault_each_time(written):
    for _ in range(2):
        with pytest.raises(render.MissingLetters):
            render.lay_out(PAGE.format("\U0001f3f3"), lang="en", title="1")
    assert len(written) == 2


def test_engine_is_not_measured_and_what_follows_is(written):
    seen = []
    before = sys.gettrace()
    sys.settrace(lambda *_: None)
    try:
        looking = sys.gettrace()
        render.lay_out(PAGE.format("Nothing of it"), lang="en", title="3")
        seen.append(sys.gettrace() is looking)
    finally:
        sys.settrace(before)
    assert (written, seen) == ([None], [True])
