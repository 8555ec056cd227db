"""Reads for the pages of a trip: what was signed out to it, and where that is."""

from relations.consent.models import Form
from relations.consent.states import State
from relations.meetings.models import Trip

from . import rules


def blanks(trip: Trip) -> rules.Balance:
    """The balance of the blanks that were signed out to a trip, serials and states alone."""
    found = Form.objects.filter(trip=trip).values_list("sheet__serial", "state")
    return rules.balance((serial, State(state)) for serial, state in found)
