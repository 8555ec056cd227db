"""What is stored is asked of the models of the site and of the framework."""

from relations.rights import impact_table


def test_tables_between_two_others_are_named_by_their_field():
    assert "sitters" in impact_table.stored()["pictures.Sitting"]
    assert "sessions.Session" in impact_table.stored()


def test_list_has_nothing_missing_and_nothing_too_much():
    assert impact_table.faults() == ([], [])


def test_field_left_out_of_the_list_is_found(monkeypatch):
    listed = dict(impact_table.LISTED)
    del listed["people.Name"]
    monkeypatch.setattr(impact_table, "LISTED", listed)
    missing, absent = impact_table.faults()
    assert "people.Name.text" in missing and len(missing) == 5 and absent == []
