"""What is not in the file of a person, table by table and field by field, and why."""

# Tables in which somebody may stand and that are not in their file.
LEFT_OUT: dict[str, str] = {
    "prints.LabLine": "a slip of the lab by code and price; the print stands in the file",
    "documents.Page": "pages of papers whose form stands in the file; the paper itself is shown",
    "documents.Sheet": "the number of a paper, which stands with its form",
    "documents.Upload": "a stack nobody has looked at yet: whose it is, is not known",
    "consent.PaperOf": "that a paper was printed for them, which they were given",
    "consent.KeptCopy": "the form once more as it stood; they have their copy of it",
    "consent.Reading": "the form once more as two people read it; what stands is in the file",
    "trips.MissingBlank": "a form without a name that did not come back",
    "meetings.DayLine": "a numbered line of a sheet; what it was for stands in the file",
    "people.NeverRing": "a keyed mark of a number, out of which the number cannot be read",
    "people.RangUs": "what was typed before it was known who rang; it may be of others",
    "pictures.Picture": "stands with the line that says that they are in it",
    "pictures.PictureHold": "a hold on a picture, which others may be in, and not on a person",
    "uses.Weighing": "worked out of what stands in the file, and of others' answers too",
    "uses.ClearedPicture": "worked out of what stands in the file; it names nobody",
    "privacy.OutboxEntry": "what a telephone wrote, which stands where it was taken in",
    "privacy.Mending": "what was wrong and is mended; the artist reads it out where it is asked",
    "privacy.Posted": "the address of a page of ours",
}
# Fields that are in nobody's file: in any table, or in one.
NEVER_SAID: dict[str, str] = {
    **dict.fromkeys(("id", "log_key", "together"), "a key of ours that says nothing"),
    **dict.fromkeys(
        (
            *("documents.Scan.file", "documents.Scan.media_type", "documents.Scan.digest"),
            *("documents.Scan.size", "meetings.Recording.file"),
        ),
        "of a sealed file, which is shown or played to them",
    ),
    "people.Participant.agreed_word": "who reads it in the file could be taken for them",
    "people.PhoneLine.mark": "a keyed mark of the number, which stands in the file itself",
    "people.Speaker.name": "of somebody else, who speaks for them",
    "people.Speaker.way": "how to reach somebody else, who speaks for them",
    "consent.GuardianAnswer.name": "of somebody else, who answers for them",
    "pictures.Sitting.code": "made of the codes of all who sat",
    "prints.Print.into_whose_hand": "may be somebody else; it is told by word of mouth",
    "prints.Print.decided_by": "somebody else, who decided how a print ended",
    "prints.RoundDoor.letter": "of a door on a sheet",
    "prints.RoundDoor.due_at": "of a door on a sheet",
    "meetings.Meeting.interpreter_ties": "what somebody else is to them, besides interpreting",
    "meetings.Meeting.witness_ties": "what somebody else is to them, besides being a witness",
    "rights.OthersAsk.asked_by": "somebody else; that they asked, and on which day, is said",
    "rights.Alarm.not_needed_why": "of all whom it may touch, others too",
    "rights.LettingGo.thing": "a key of ours, of something that is no person",
    "rights.Alarm.sessions_ended_at": "of who uses the site",
}
