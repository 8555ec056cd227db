"""The recorder hears a name wherever it may not be said."""

import logging
from types import SimpleNamespace

import pytest
from django.http import HttpResponse
from django.template import engines

from tests.house.recorder import Recorder


@pytest.fixture
def recorder():
    recorder = Recorder()
    with recorder.listening():
        recorder.words = {"amara bell", "0639980001"}
        yield recorder


def test_name_in_an_address_is_a_fault(recorder):
    recorder.hear_answer({"PATH_INFO": "/people/", "QUERY_STRING": "q=Amara+Bell"}, HttpResponse())
    assert len(recorder.faults) == 1


def test_name_in_the_place_sent_to_is_a_fault(recorder):
    answer = HttpResponse(status=302, headers={"Location": "/in/?next=/people/Amara%2520Bell"})
    recorder.hear_answer({"PATH_INFO": "/"}, answer)
    assert len(recorder.faults) == 1


def test_name_in_a_title_is_a_fault_and_in_the_page_is_not(recorder):
    recorder.hear_answer({}, HttpResponse("<title>07</title><p>Amara Bell</p>"))
    assert not recorder.faults
    recorder.hear_answer({}, HttpResponse("<title>Amara&#32;Bell</title>"))
    assert len(recorder.faults) == 1


def test_name_or_number_in_a_log_line_is_a_fault(recorder):
    logging.getLogger("relations.people").warning("ring %s", "0639980001")
    assert len(recorder.faults) == 1


def test_name_in_the_trace_of_an_error_is_a_fault(recorder):
    try:
        raise ValueError("Amara Bell")
    except ValueError:
        logging.getLogger("relations.people").exception("no")
    assert recorder.faults


def test_part_of_a_longer_word_is_no_fault(recorder):
    recorder.look("/people/amarabella/", "the address asked for")
    assert not recorder.faults


def test_field_without_its_caution_is_a_fault(recorder):
    form = SimpleNamespace(fields={"level": None})
    answer = SimpleNamespace(context={"form": form}, templates=[])
    recorder.hear_form("/people/7/", answer)
    assert len(recorder.faults) == 1
    answer.templates = [SimpleNamespace(name="_cautions/risk.html")]
    recorder.hear_form("/people/7/", answer)
    assert len(recorder.faults) == 1


def test_saved_person_is_listened_for(recorder):
    sender = SimpleNamespace(_meta=SimpleNamespace(label="people.Participant"))
    recorder._saved(sender, SimpleNamespace(call_name="Ilse Moor", born_said=""))
    assert "ilse moor" in recorder.words


def test_template_counts_as_rendered_once_it_was(recorder, tmp_path):
    (tmp_path / "seen.html").write_text("")
    (tmp_path / "unseen.html").write_text("")
    template = engines["django"].from_string("x").template
    template.name = "seen.html"
    template.render(_context())
    assert recorder.never_rendered(tmp_path) == ["unseen.html"]


def _context():
    from django.template import Context

    return Context()
