"""A register that is older than the site opens for nobody."""

import pytest

from relations.privacy import tables


@pytest.mark.django_db
def test_tables_of_now_stand():
    assert tables.pending() == 0
    tables.stand()


@pytest.mark.django_db
def test_older_tables_are_named_with_what_helps(monkeypatch):
    monkeypatch.setattr(tables, "pending", lambda: 1)
    with pytest.raises(tables.OlderTables, match=r"older than the site. Run: manage\.py update"):
        tables.stand()
