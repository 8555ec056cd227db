"""Every reason to wait says what to do, and every refusal that leads to one has its reason."""

from relations.consent.coming_home import WAITS
from relations.consent.refusals import REFUSALS
from relations.consent.waiting import WAITING
from relations.documents.sorting import Why


def test_every_reason_to_wait_has_one_sentence_of_its_own():
    assert set(WAITING) == set(Why)
    said = [str(words) for words in WAITING.values()]
    assert len(set(said)) == len(said)
    assert all(words.endswith(".") for words in said)


def test_refusals_that_let_a_page_wait_are_refusals_of_this_room():
    assert set(WAITS) <= set(REFUSALS)
