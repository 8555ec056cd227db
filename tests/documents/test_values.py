from relations.documents.values import LETTERS, PaperKind


def test_every_kind_of_paper_has_a_letter_of_its_own():
    assert set(LETTERS) == set(PaperKind)
    assert len(set(LETTERS.values())) == len(PaperKind)
    assert all(len(letter) == 1 and "A" <= letter <= "Z" for letter in LETTERS.values())
