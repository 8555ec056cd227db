"""What wordings and clauses are called; what the register refuses of them is in test_models."""

import pytest

from relations.consent.texts import Clause, Wording
from tests.rows import make

pytestmark = pytest.mark.django_db


def test_wording_and_clause_are_called_by_what_they_are():
    wording = make(Wording, language="fr", version=900)
    assert str(wording) == "fr 900"
    clause = make(Clause, wording=wording, key="stop", heading="Arrêter", text="Appelez.")
    assert (str(clause), clause.name) == ("stop", "stop")
    assert clause.words == "Arrêter\nAppelez."


def test_clause_of_another_paper_bears_its_name_too():
    wording = make(Wording)
    one, other = (make(Clause, wording=wording, key="who", paper=kind) for kind in ("form", "spot"))
    assert (one.name, other.name) == ("who", "spot.who")
