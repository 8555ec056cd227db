"""Every kind of printed paper has its words, and no two the same."""

from relations.documents.values import PaperKind
from relations.documents.words import PAPERS


def test_every_paper_has_words_of_its_own():
    assert set(PAPERS) == set(PaperKind)
    assert len({str(words) for words in PAPERS.values()}) == len(PAPERS)
