"""What the whole register is when it is taken out: each table, field by field, and what is not.

Who told us of whom is in none of it, nor what that could be put together from again: no group, no
day on which word came through, no ring (the first follows on the talk in which somebody was named),
no words that may be said of whoever sent us. Who sat together, who speaks for whom and whose number
two people share is in it, since nobody could be asked, shown or rung rightly without it.
Source: job.md 4 (web of introductions: only the share drawing leaves; two people for a full copy).
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Taken:
    """One table: its fields, by their names, and those of many rows (a list of keys).

    `worked_out`: what no field holds, by `taking_out_rows`. `words`: fields of free words, out of
    which whoever told us of the person is taken; `person`: the field by which a row is of them.
    """

    fields: str
    many: str = ""
    worked_out: str = ""
    words: str = ""
    person: str = ""

    @property
    def names(self) -> list[str]:
        """Every field of a row, in order, but for what is worked out."""
        return sorted(f"{self.fields} {self.many}".split())


TAKEN: dict[str, Taken] = {
    "people.Participant": Taken(
        "call_name code languages calendar reads standing level level_next_look_on condition "
        "condition_on born_earliest born_latest born_said met_as_adult authority_holders "
        "last_talk_on instruction safe_hours safe_days text_only not_shown_since",
        words="instruction",
        person="pk",
    ),
    "people.Name": Taken("person kind text script"),
    "people.PhoneLine": Taken(
        "person as_typed number extension note is_shared zone ended_on",
        worked_out="may_be_rung",
        words="note",
        person="person_id",
    ),
    "people.Speaker": Taken("person speaker name way is_next_of_kin named_on"),
    "people.PersonHold": Taken(
        "person laid_at next_look_on lifted_at sentence", words="sentence", person="person_id"
    ),
    "people.MovedAbroad": Taken("person since asked_again_on"),
    "meetings.Trip": Taken("code first_day last_day"),
    "meetings.Helper": Taken("kind initials languages promise_signed_on"),
    "meetings.Meeting": Taken(
        "person trip state at interpreter witness with_camera others sheets power_present "
        "explained told_back ended_why late_why times_moved written_up_at"
    ),
    "meetings.Interview": Taken(
        "person held_on may_record how_are_you_due_on how_are_you_on",
    ),
    "meetings.Recording": Taken(
        "interview code made_at off_the_phone_on transcribed_on destroy_on day_is_theirs "
        "destroyed_on"
    ),
    "pictures.Sitting": Taken("code trip on minutes light", many="sitters"),
    "pictures.FilmSheet": Taken("sitting number holder state"),
    "pictures.Picture": Taken(
        "code sitting sheet crop_of made_on others alt_text file_name place_word"
    ),
    "pictures.Appearance": Taken("picture person place recognisable"),
    "pictures.Caption": Taken("picture version words written_at"),
    "pictures.Quote": Taken("code by interview words", many="captions"),
    "pictures.PictureHold": Taken("picture laid_at next_look_on lifted_at"),
    "pictures.Stranger": Taken("picture place became noted_on"),
    "documents.Sheet": Taken("serial kind version pages digest printed_at"),
    "documents.Scan": Taken("sheet media_type digest size pages filed_at"),
    "consent.Wording": Taken("language version labels lines_edition read_on frozen_at"),
    "consent.Clause": Taken("wording paper key number heading text state approved_on"),
    "consent.Form": Taken(
        "sheet person first_wording second_wording kind trip old_language is_from_before state "
        "state_on way given_on given_at witness interpreter recording copy_kept may_keep uses "
        "only_countries not_countries seen_everywhere first_day last_day name_form agreed_name "
        "no_face show_first approves_captions place_word own_condition if_cannot_answer if_died "
        "childs_answer missing_lines wording_was_read settled_at",
        many="sittings",
    ),
    "consent.FormStep": Taken("form number state on"),
    "consent.GuardianAnswer": Taken("form authority name is_yes said_on"),
    "consent.PictureAnswer": Taken("form picture is_yes said_on"),
    "consent.CaptionAnswer": Taken("form caption is_yes said_on interpreter language"),
    "consent.QuoteAnswer": Taken("form quote is_yes said_on interpreter language"),
    "consent.ConditionDecision": Taken("form use can decided_on"),
    "consent.TakenBack": Taken(
        "person scope use picture said_on heard_at answer_due_on answered_on"
    ),
    "consent.SpeakerAnswer": Taken("person use is_yes said_on"),
    "prints.Print": Taken(
        "code person picture state state_on owed_since is_safe size is_sealed box "
        "not_at_the_lab tries closed_how"
    ),
    "prints.Step": Taken("print number was became on noted_at"),
    "prints.Promise": Taken(
        "person kind promised_on due_on kept_on others_may_see amount currency ended_how ended_on "
        "ended_why",
        words="ended_why",
        person="person_id",
    ),
    "uses.PlannedUse": Taken(
        "code use place countries starts_on ends_on one_day paper_only captions files_with "
        "dropped_on"
    ),
    "uses.PlannedPicture": Taken("plan picture captioned caption dropped_on"),
    "uses.NameShown": Taken("plan person picture name_form"),
    "uses.Shown": Taken(
        "code use plan place countries starts_on ends_on press_day copies holder reach_holder",
        many="pictures",
    ),
    "uses.UndoLine": Taken(
        "shown picture person code force because opened_at due_at done_on cannot told_them_on "
        "told_holder_on"
    ),
    "rights.Request": Taken(
        "person kind asked_on due_on way sure_how sure_on extended_on answered_on outcome"
    ),
    "rights.Misuse": Taken("picture seen_on where asked_down_on told_sitter_on gone_on"),
    "rights.Ending": Taken("person how decided_on look_again_on"),
}

_LINK = "who told us of whom is never in it"
_WORKED_OUT = "worked out anew from what is in it"
_HOUSE = "of the house and its machine, and of nobody"
_ACCOUNT = "of who uses the site: names, passwords and codes stay here"
_DAY = "work of single days, which ends here"

# Tables that are not in it, and why.
LEFT_OUT: dict[str, str] = {
    **dict.fromkeys(
        (
            *("people.Introduction", "people.OutsideIntroducer", "people.Community"),
            *("referrals.Shared", "rights.ToIntroduce"),
        ),
        _LINK,
    ),
    "meetings.Call": "a first ring follows on the talk in which somebody was named",
    "people.RangUs": "what was typed before it was known who rang; it may be of others",
    "people.NeverRing": "keyed marks, which block numbers in this register alone",
    "people.InSight": "which of us may see whom, on which day",
    "people.Unwanted": "which of us somebody does not want",
    "rights.OthersAsk": "that somebody looks for them is nobody else’s to know",
    **dict.fromkeys(("rights.Alarm", "rights.Telling"), "what was lost, and whom it may touch"),
    **dict.fromkeys(
        (
            *("uses.Weighing", "uses.ClearanceSheet", "uses.ClearedPicture"),
            *("rights.LettingGo", "rights.CountsReport"),
        ),
        _WORKED_OUT,
    ),
    **dict.fromkeys(
        (
            *("meetings.DayLine", "meetings.TravellingSet", "prints.Round", "prints.RoundDoor"),
            *("prints.QuarterMinutes", "prints.LabOrder", "prints.LabLine", "trips.Count"),
            *("trips.Day", "trips.Stay", "trips.MissingBlank", "documents.Upload"),
            *("documents.Page", "consent.PaperOf"),
        ),
        _DAY,
    ),
    "consent.Reading": "the form once more as two people read it; what stands is in it",
    "consent.KeptCopy": "the form once more as it stood; it is kept here, sealed",
    **dict.fromkeys(
        (
            *("documents.Layout", "people.ProjectClosed", "uses.Standstill", "rights.Handover"),
            *("rights.Backup", "rights.Closing", "rights.TakingOut"),
            *("privacy.LedgerHead", "privacy.LogHead", "privacy.GoneFile", "privacy.Posted"),
            *("auth.Group", "auth.Permission", "contenttypes.ContentType", "sessions.Session"),
        ),
        _HOUSE,
    ),
    **dict.fromkeys(
        (
            *("privacy.User", "privacy.CodeDevice", "privacy.PaperCode", "privacy.KnownDevice"),
            "privacy.WrongTries",
        ),
        _ACCOUNT,
    ),
    "privacy.AccessEntry": "the log of who looked: it is no part of what is kept of people",
    "privacy.Mending": "what was wrong and is mended, who told us of whom among it",
    **dict.fromkeys(("privacy.OutboxKey", "privacy.OutboxEntry"), "what telephones seal to"),
}
# Fields of the tables above that are not in it, and why.
NOT_SAID: dict[str, str] = {
    **dict.fromkeys(
        (
            *("people.Participant.community", "people.Participant.show_to_own_group"),
            *("meetings.Meeting.of_own_group", "meetings.Meeting.own_group_agreed"),
        ),
        "which group somebody is of: a web is drawn by groups, too",
    ),
    **dict.fromkeys(
        (
            *("people.Participant.heard_on", "people.Participant.standing_since"),
            *("people.Participant.asked_to_tell_on", "people.Participant.thanked_on"),
            *("people.Participant.may_vouch", "people.Participant.may_say"),
            *("prints.Print.into_whose_hand", "prints.Print.word_at_the_door"),
            *("prints.Print.decided_by", "prints.Step.reason", "people.PhoneLine.through"),
        ),
        _LINK,
    ),
    "people.Participant.log_key": "what the access log knows a person by",
    "people.Participant.agreed_word": "who reads it could be taken for them",
    "people.PhoneLine.mark": "a keyed mark of the number",
    "people.PersonHold.together": "a key of ours that says nothing",
    **dict.fromkeys(
        (
            *("meetings.Meeting.place", "meetings.Meeting.fallback", "meetings.Meeting.company"),
            *("meetings.Meeting.fallback_at", "meetings.Meeting.place_is_theirs"),
            *("meetings.Meeting.exit_signal", "prints.Print.quarter", "prints.Print.place"),
            *("prints.Print.opens_at", "prints.Print.closes_at", "prints.Print.when_to_come"),
        ),
        "where somebody is found, and when",
    ),
    **dict.fromkeys(
        (
            *("meetings.Meeting.interpreter_ties", "meetings.Meeting.witness_ties"),
            "meetings.Helper.name",
        ),
        "of somebody who helps; initials stand for them",
    ),
    **dict.fromkeys(
        (
            *("meetings.Trip.currency", "meetings.Trip.print_budget", "meetings.Trip.latitude"),
            *("meetings.Trip.longitude", "prints.Print.order", "prints.Print.round"),
        ),
        _DAY,
    ),
    **dict.fromkeys(
        (
            *("meetings.Recording.file", "documents.Scan.file", "documents.Sheet.kept"),
            *("pictures.Picture.light_copy", "pictures.Picture.light_copy_type"),
            "documents.Sheet.layout",
        ),
        "of a sealed file: files are what a backup is for",
    ),
    **dict.fromkeys(
        (
            *("consent.Clause.source_version", "consent.Clause.source_words"),
            *("consent.Clause.read_back", "consent.Clause.approved_words", "consent.Clause.why"),
        ),
        "how a clause came about; its words and their approval stand in it",
    ),
    "pictures.PictureHold.sentence": "of whoever is in the picture",
    "uses.PlannedUse.pictures": "stands picture by picture in a table of its own",
    "pictures.Stranger.paper": "the paper on which a stranger was asked",
    "rights.Ending.was": "where they stood before",
    "rights.Ending.was_since": "where they stood before",
}
# To whom of us a field leads is never said.
OF_US = "privacy.User"
