"""The card has five lines, none of them a reproach."""

from relations.rights import words


def test_the_card_has_five_lines():
    assert len(words.CARD) == 5
    assert all(str(line).endswith(".") for line in words.CARD)
