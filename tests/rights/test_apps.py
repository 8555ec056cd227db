from django.core.checks import run_checks

from relations.rights import impact_table


def test_start_up_asks_whether_every_field_has_its_reason(monkeypatch):
    monkeypatch.setattr(impact_table, "stored", lambda: {"people.Name": ["faith"]})
    assert "rights.E001" in {message.id for message in run_checks()}
    assert "rights.E001" in {message.id for message in run_checks(tags=["kept"])}
