"""The command that brings the register of a home to the tables of now."""

from tests.apart import home_apart

PASSPHRASE = "six words that nobody guesses"
# What a backup needs is taken away again, as if the site were a version older.
OLDER = """
from django.core.management import call_command
from relations.privacy import slots
from relations.privacy.crypt import Cost
from relations.privacy.home import home
call_command("migrate", "trips", "0001", verbosity=0)
slots.COSTS = dict.fromkeys(slots.COSTS, Cost(8, 1, 1))
secrets = {"passphrase": sys.argv[1], "recovery": "0" * 28}
slots.write_key_file(home().keys, slots.new_key_file("real", secrets, bytes(range(32))))
"""
COMMAND = """
from django.core.management import call_command
from django.core.management.base import CommandError
keyring.lock()
try:
    call_command(sys.argv[1])
except CommandError as error:
    print(error)
"""


def test_update_brings_up_what_every_other_command_refuses(django_db_setup, tmp_path):
    apart = home_apart(tmp_path)

    def say(command):
        process = apart.start(COMMAND, command)
        said, fault = process.communicate(f"{PASSPHRASE}\n")
        assert process.returncode == 0, fault
        return said

    apart.run(OLDER, PASSPHRASE)
    assert "older than the site. Run: manage.py update" in say("check_log")
    assert "as the site needs it; changes made: 1." in say("update")
    assert "The access log stands" in say("check_log")
    assert "as the site needs it; changes made: 0." in say("update")
