"""What is written about those who interpret and witness, and which of them helps at a meeting."""

from collections.abc import Collection
from datetime import date

from django.db import transaction

from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import queries
from .helping import ASKED
from .models import Helper, HelperKind, Meeting


@transaction.atomic
def add_helper(
    *,
    kind: str,
    initials: str,
    by: User,
    name: str = "",
    languages: str = "",
    promise_signed_on: date | None = None,
) -> Helper:
    """Note somebody who interprets or witnesses; on paper they are initials only."""
    known = {"name": name, "languages": languages, "promise_signed_on": promise_signed_on}
    return Helper.objects.create(kind=HelperKind(kind), initials=initials, **known)


@transaction.atomic
def choose_helpers(
    *,
    meeting: Meeting,
    by: User,
    interpreter: Helper | None = None,
    witness: Helper | None = None,
    interpreter_ties: Collection[str] = (),
    witness_ties: Collection[str] = (),
    of_own_group: bool = False,
    own_group_agreed: bool = False,
) -> Meeting:
    """Note who interprets and who witnesses at a meeting, and what each is to the person.

    What speaks against them (`known_helpers.helper_warnings`) is a warning, not a bar: a cousin who
    helps is noted as one, and the form given so is doubtful. Refused: not_an_interpreter,
    not_a_witness, meeting_is_over, no_such_tick.
    """
    if meeting.state not in queries.OPEN_MEETINGS:
        raise Refused("meeting_is_over")
    are_of_their_kind(interpreter, witness)
    if not {*interpreter_ties, *witness_ties} <= set(ASKED):
        raise Refused("no_such_tick")
    meeting.interpreter, meeting.witness = interpreter, witness
    meeting.interpreter_ties = [tie for tie in ASKED if interpreter and tie in interpreter_ties]
    meeting.witness_ties = [tie for tie in ASKED if witness and tie in witness_ties]
    meeting.of_own_group = interpreter is not None and of_own_group
    meeting.own_group_agreed = meeting.of_own_group and own_group_agreed
    meeting.save()
    return meeting


def are_of_their_kind(interpreter: Helper | None, witness: Helper | None) -> None:
    """Refuse an interpreter noted as a witness, and the other way round."""
    if interpreter is not None and interpreter.kind != HelperKind.INTERPRETER:
        raise Refused("not_an_interpreter")
    if witness is not None and witness.kind != HelperKind.WITNESS:
        raise Refused("not_a_witness")
