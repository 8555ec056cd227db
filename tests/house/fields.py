"""What each role may read of the register, field by field; the design's least privilege, rewritten.

Source: the design of the job, section 4. One line for each thing that is kept:

    R   is read on the pages
    r   is read one at a time, by a press or an address that leaves a line in the access log
    -   stands in no byte of anything the role is answered
    own is read by nobody but the one whose it is

`unseen` is an assistant who has the person not in sight. A stranger reads nothing of all this.
The two people of `planted.py`: 07 is met today, form scanned and not yet read; QQ88W is in sight
of the assistant too, but is met in a month, and the form is read.
"""

from dataclasses import dataclass

READERS = ("artist", "assistant", "unseen", "wording_reader", "keeper")

#   what                                         artist assistant unseen reader keeper
TABLE = """
    people.Participant.code of QQ88W               R      R         -      -      -
    people.Participant.call_name                   R      R         -      -      -
    people.Participant.instruction                 R      R         -      -      -
    people.Participant.may_say                     R      R         -      -      -
    people.Participant.born_said                   R      R         -      -      -
    people.Participant.born_earliest               R      R         -      -      -
    people.Participant.born_latest                 R      R         -      -      -
    people.Participant.born_said of QQ88W          R      -         -      -      -
    people.Participant.born_earliest of QQ88W      R      -         -      -      -
    people.Participant.born_latest of QQ88W        R      -         -      -      -
    people.Participant.agreed_word                 -      -         -      -      -
    people.Name.text                               R      r         -      -      -
    people.PhoneLine.as_typed                      r      r         -      -      -
    people.PhoneLine.number                        r      r         -      -      -
    people.PhoneLine.extension                     r      r         -      -      -
    people.PhoneLine.note                          r      r         -      -      -
    people.Speaker.name                            R      -         -      -      -
    people.Speaker.way                             -      -         -      -      -
    people.OutsideIntroducer.label                 R      -         -      -      -
    people.OutsideIntroducer.label may be said     R      R         -      -      -
    people.RangUs.typed                            R      -         -      -      -
    people.RangUs.perhaps                          R      -         -      -      -
    people.PersonHold.sentence                     R      -         -      -      -
    meetings.Meeting.place                         r      r         -      -      -
    meetings.Meeting.fallback                      r      r         -      -      -
    meetings.Meeting.company                       r      r         -      -      -
    meetings.Meeting.exit_signal                   r      r         -      -      -
    meetings.Meeting.place of QQ88W                r      -         -      -      -
    meetings.Helper.name                           R      -         -      -      -
    pictures.Quote.words                           R      -         -      -      -
    pictures.Picture.light_copy                    R      R         -      -      -
    documents.Scan.file                            r      r         r      -      -
    documents.Scan.file of QQ88W                   r      -         -      -      -
    documents.Page.file                            r      r         r      -      -
    documents.Page.word                            R      R         R      -      -
    documents.Upload.file                          -      -         -      -      -
    consent.Reading.answers                        R      -         -      -      -
    consent.Form.agreed_name                       R      -         -      -      -
    consent.Form.own_condition                     R      -         -      -      -
    consent.KeptCopy.record                        -      -         -      -      -
    consent.KeptCopy.file                          r      -         -      -      -
    consent.GuardianAnswer.name                    -      -         -      -      -
    prints.Print.into_whose_hand                   R      R         -      -      -
    prints.Print.word_at_the_door                  R      R         -      -      -
    prints.Print.quarter                           R      R         -      -      -
    prints.Print.place                             r      r         -      -      -
    prints.Print.when_to_come                      R      R         -      -      -
    prints.Print.decided_by                        R      -         -      -      -
    prints.Promise.ended_why                       R      R         -      -      -
    uses.PlannedUse.place                          R      -         -      -      -
    uses.Shown.reach_holder                        R      -         -      -      -
    rights.Misuse.where                            R      -         -      -      -
    rights.Alarm.not_needed_why                    R      -         -      -      R
    rights.TakingOut.reason                        R      -         -      -      R
    privacy.Mending.old                            R      -         -      -      -
    privacy.Mending.why                            -      -         -      -      -
    privacy.OutboxEntry.said                       R      own       own    own    own
    privacy.OutboxKey.private                      -      -         -      -      -
    meetings.TravellingSet.secret                  -      -         -      -      -
    privacy.User.called                            R      -         -      -      R
    privacy.CodeDevice.secret                      own    own       own    own    own
"""
# Kept, and on no page of anybody: a page that shows one of them needs a letter in the table first.
ON_NO_PAGE = {
    "documents.Upload.file",  # looked at in parts, and each page opened alone
    *("privacy.OutboxKey.private", "meetings.TravellingSet.secret"),
    *("people.Speaker.way", "people.Participant.agreed_word"),
    *("consent.GuardianAnswer.name", "privacy.Mending.why", "consent.KeptCopy.record"),
}
# Where what is read one at a time is opened.
OPENED_AT = {
    "people.Name.text": "people:show_names",
    "people.PhoneLine.as_typed": "people:show_number",
    "people.PhoneLine.number": "people:show_number",
    "people.PhoneLine.extension": "people:show_number",
    "people.PhoneLine.note": "people:show_number",
    "meetings.Meeting.place": "meetings:place",
    "meetings.Meeting.fallback": "meetings:place",
    "meetings.Meeting.company": "meetings:place",
    "meetings.Meeting.exit_signal": "meetings:place",
    "prints.Print.place": "prints:place prints:places",
    "documents.Scan.file": "consent:scan",
    "consent.KeptCopy.file": "consent:kept",
    "documents.Page.file": "consent:loose_page",
}

# What holds no words of its own, so that nothing can be looked for: it is changed from one value to
# another. The answers of whoever may not read it stay the same, byte for byte; those of whoever
# may are others, on the page named.
CHANGED = """
    people.Participant.level                       R      -         -      -      -
    people.Introduction.introducer                 R      -         -      -      -
    meetings.Call.outcome, the last one            R      R         -      -      -
    meetings.Call.outcome, the fourth last         R      -         -      -      -
    consent.Form.uses                              R      -         -      -      -
    prints.Print.state                             R      R         -      -      -
"""


@dataclass(frozen=True)
class Row:
    """One thing that is kept: the field, how it is told from its like, and each role's letter."""

    what: str
    cells: dict[str, str]

    @property
    def field(self) -> str:
        """The field, as `people.Name.text`."""
        return self.what.split()[0].rstrip(",")


def read(said: str) -> list[Row]:
    """The rows of a table written as those above."""
    return [_row(line.split()) for line in said.strip().splitlines()]


def _row(parts: list[str]) -> Row:
    what, cells = parts[: -len(READERS)], parts[-len(READERS) :]
    return Row(" ".join(what), dict(zip(READERS, cells, strict=True)))
