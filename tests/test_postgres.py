"""A real server for as long as a block lasts, and nothing of it afterwards."""

import os
import sys

import psycopg
import pytest

from tests import postgres


@pytest.mark.needs("postgres")
def test_server_answers_inside_the_block_and_is_gone_after_it():
    with postgres.running() as made:
        assert made.folder.is_dir()
        reachable = made.address.removesuffix("relations") + "postgres"
        with psycopg.connect(reachable, connect_timeout=5) as connection:
            row = connection.execute("select current_user, current_setting('server_encoding')")
            assert row.fetchone() == ("relations", "UTF8")
        wrong = reachable.replace("relations:", "relations:x")
        with pytest.raises(psycopg.OperationalError, match="password"):
            psycopg.connect(wrong, connect_timeout=5)
    assert not made.folder.exists()
    with pytest.raises(psycopg.OperationalError):
        psycopg.connect(reachable, connect_timeout=5)


@pytest.mark.needs("postgres")
def test_command_gets_the_address_and_its_exit_code_comes_back():
    asking = "import os, sys; sys.exit(7 * ('@127.0.0.1:' in os.environ['RELATIONS_DATABASE_URL']))"
    before = os.environ.get("RELATIONS_DATABASE_URL")
    assert postgres.main(["--", sys.executable, "-c", asking]) == 7
    assert os.environ.get("RELATIONS_DATABASE_URL") == before


def test_no_command_is_no_reason_to_start_a_server():
    with pytest.raises(SystemExit, match="usage"):
        postgres.main(["--"])


def test_missing_server_is_named_with_its_package(monkeypatch):
    monkeypatch.setattr(postgres.bootstrap, "find", lambda tool: None)
    with pytest.raises(SystemExit, match="apt-get install postgresql"), postgres.server():
        pytest.fail("there is no server to start")
