"""Every code of a telephone's contacts has its words."""

import ast
import inspect

from relations.people import contacts, contacts_cards, contacts_known, contacts_tables
from relations.people.contacts_tables import OF_CARDS
from relations.people.contacts_words import COLUMNS, NOT_READ, NOT_TAKEN


def texts(*modules: object) -> set[str]:
    """Every text that stands in these modules by itself."""
    trees = (ast.parse(inspect.getsource(module)) for module in modules)
    nodes = (node for tree in trees for node in ast.walk(tree))
    return {str(node.value) for node in nodes if isinstance(node, ast.Constant)}


def test_each_column_and_each_reason_has_words_and_no_words_are_left_over() -> None:
    assert set(COLUMNS) == set(OF_CARDS)
    tree = ast.parse(inspect.getsource(contacts_tables) + inspect.getsource(contacts_cards))
    raised = {
        str(node.args[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and getattr(node.func, "id", "") == "NotRead"
        and isinstance(node.args[0], ast.Constant)
    }
    assert raised == set(NOT_READ)
    assert set(NOT_TAKEN) <= texts(contacts, contacts_known)
