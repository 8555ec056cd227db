"""What is kept of prints, of uses and of rights, and why; with its clock."""

from django.utils.translation import gettext_lazy as _

from .impact import Clock, Kept, Thing

TABLES: dict[str, Kept] = {
    "prints.Print": Kept(
        Thing.PRINTS,
        Clock.PERSON,
        "AS",
        _(
            "One print that we owe a sitter and how it may come safely, so that it reaches "
            "their own hand."
        ),
        "id code person picture state state_on owed_since is_safe size is_sealed "
        "into_whose_hand word_at_the_door quarter place opens_at closes_at when_to_come box "
        "not_at_the_lab order round tries closed_how decided_by",
        {
            "is_safe": _("whether a print in the house is a danger to them"),
            "place": _("goes when their numbers go"),
            "word_at_the_door": _("so that neighbours learn nothing"),
        },
    ),
    "prints.Step": Kept(
        Thing.PRINTS,
        Clock.PERSON,
        "AS",
        _("Each move of a print by its day, so that one that is late is noticed."),
        "id print number was became on noted_at by reason",
    ),
    "prints.Promise": Kept(
        Thing.PRINTS,
        Clock.PERSON,
        "AS",
        _("What else was promised, by when, and how it ended, so that nothing is forgotten."),
        "id person kind promised_on due_on kept_on others_may_see amount currency ended_how "
        "ended_on ended_why ended_by",
    ),
    "prints.LabOrder": Kept(
        Thing.PRINTS,
        Clock.PROJECT,
        "AS",
        _(
            "A slip for the lab by code and price, so that every print and every spoilt "
            "sheet comes back."
        ),
        "id code ordered_on trip currency price surface handed_over_on collected_on spoilt "
        "waste_slip",
    ),
    "prints.LabLine": Kept(
        Thing.PRINTS,
        Clock.PERSON,
        "AS",
        _("One print on such a slip and what came of it."),
        "id order print number size price came fault",
    ),
    "prints.Round": Kept(
        Thing.PRINTS,
        Clock.PROJECT,
        "AS",
        _("A way from door to door on one day, so that it is short and known to somebody at home."),
        "id code on by starts_at starts_in ends_by set_out_at",
    ),
    "prints.RoundDoor": Kept(
        Thing.PRINTS,
        Clock.PERSON,
        "AS",
        _(
            "One door of a round under a letter, so that no sheet bears a name and a place "
            "together."
        ),
        "id round print letter due_at came typed_at typed_by",
    ),
    "prints.QuarterMinutes": Kept(
        Thing.PRINTS,
        Clock.PROJECT,
        "AS",
        _("Minutes between two quarters, without streets or a map."),
        "id start end minutes",
    ),
    "uses.PlannedUse": Kept(
        Thing.USES,
        Clock.PROJECT,
        "A",
        _(
            "A wall, book or page that somebody wants pictures for: place, days, countries, "
            "so that every sitter can be asked about it."
        ),
        "id code use place countries starts_on ends_on one_day paper_only captions files_with "
        "dropped_on pictures",
    ),
    "uses.PlannedPicture": Kept(
        Thing.USES,
        Clock.PROJECT,
        "A",
        _("Which picture is asked for in it, and with which words."),
        "id plan picture captioned caption dropped_on",
    ),
    "uses.NameShown": Kept(
        Thing.USES,
        Clock.PERSON,
        "A",
        _("How somebody is to be named there, as they agreed."),
        "id plan person picture name_form",
    ),
    "uses.Weighing": Kept(
        Thing.USES,
        Clock.COPIES,
        "A",
        _(
            "The answer whether it may hang, with its reasons and a digest of all that went "
            "into it, so that it can be checked later."
        ),
        "id asked result stops conditions look_again_on digest on weighed_at by",
    ),
    "uses.ClearanceSheet": Kept(
        Thing.USES,
        Clock.COPIES,
        "AV",
        _(
            "A numbered list for one venue with its link and day of end, so that an old list "
            "is known to be old."
        ),
        "id number plan language made_at made_by valid_until replaces link_digest phrase "
        "link_ends_on wrong_phrases confirmed_at ended_at",
    ),
    "uses.ClearedPicture": Kept(
        Thing.USES,
        Clock.COPIES,
        "AV",
        _("One picture on such a list, its words to the letter and what to keep to."),
        "id sheet weighing caption instruction word_on down_at",
    ),
    "uses.Shown": Kept(
        Thing.USES,
        Clock.COPIES,
        "AK",
        _(
            "Where a picture is or was shown, how many copies and whom to ring, so that a no "
            "reaches every wall."
        ),
        "id code use plan place countries starts_on ends_on press_day copies holder "
        "reach_holder pictures",
        {
            "reach_holder": _("a venue or publisher, not a sitter"),
        },
    ),
    "uses.UndoLine": Kept(
        Thing.USES,
        Clock.COPIES,
        "ASK",
        _(
            "What must come down after a no, by when and what became of it, so that they can "
            "be told."
        ),
        "id shown picture person code force because opened_at due_at done_on done_by cannot "
        "told_them_on told_holder_on",
    ),
    "uses.Standstill": Kept(
        Thing.USES,
        Clock.PROJECT,
        "AK",
        _("That every new use is held back while the artist cannot be asked, and who settled it."),
        "id laid_at laid_by is_current lifted_at lifted_by sentence",
    ),
    "rights.Request": Kept(
        Thing.RIGHTS,
        Clock.PERSON,
        "A",
        _("What somebody asked of us about what we keep, and by when we answer."),
        "id person kind asked_on due_on way heard_by sure_how sure_on extended_on answered_on "
        "outcome",
        {
            "sure_how": _("which of three ways; never a paper, and not the word itself"),
        },
    ),
    "rights.OthersAsk": Kept(
        Thing.RIGHTS,
        Clock.PROJECT,
        "AS",
        _(
            "That press, police or others asked about somebody and which sentence they were "
            "told; nothing is confirmed."
        ),
        "id asked_on asked_by person answer heard_by",
    ),
    "rights.Misuse": Kept(
        Thing.RIGHTS,
        Clock.COPIES,
        "AS",
        _(
            "Where a picture was seen that should not be there, so that it comes down and "
            "the sitter is told."
        ),
        "id picture seen_on where asked_down_on told_sitter_on gone_on",
    ),
    "rights.Alarm": Kept(
        Thing.RIGHTS,
        Clock.PROJECT,
        "AK",
        _("What was lost, since when and whom it may touch, so that they are told in time."),
        "id known_at raised_by what sessions_ended_at closed_on affected authority_told_on "
        "not_needed_on not_needed_why",
        {
            "not_needed_why": _("why the authority need not be told"),
        },
    ),
    "rights.Telling": Kept(
        Thing.RIGHTS,
        Clock.PERSON,
        "A",
        _("That somebody whom an alarm may touch was told of it, so that nobody is left out."),
        "id alarm person told_at told_by",
    ),
    "rights.LettingGo": Kept(
        Thing.RIGHTS,
        Clock.PROJECT,
        "K",
        _("Whose clock ran out and what the keeper said, so that nothing is kept by forgetting."),
        "id person thing clock due_on postponed_until sentence confirmed_on confirmed_by",
    ),
    "rights.Ending": Kept(
        Thing.RIGHTS,
        Clock.PERSON,
        "A",
        _("How the project ends for one person."),
        "id person how decided_on decided_by look_again_on was was_since",
        {
            "look_again_on": _("of whoever could not be asked"),
        },
    ),
    "rights.Handover": Kept(
        Thing.RIGHTS,
        Clock.PROJECT,
        "AK",
        _("What was counted and signed from one assistant to the next."),
        "id on gone come begun_by is_open counts by_hand why_differs signed_by_both_at "
        "called_off_on",
    ),
    "rights.ToIntroduce": Kept(
        Thing.RIGHTS,
        Clock.PERSON,
        "A",
        _("Whom the artist tells of a newcomer, and what they said, so that they may refuse."),
        "id handover person spoken_on said",
    ),
    "rights.Backup": Kept(
        Thing.RIGHTS,
        Clock.PROJECT,
        "AK",
        _("That a backup was made and read back, and how much it holds; never of whom."),
        "id made_at log_seq log_head counts files faults size restored_at",
    ),
    "rights.CountsReport": Kept(
        Thing.RIGHTS,
        Clock.PROJECT,
        "A",
        _("What funders were told in numbers, so that two reports together give nobody away."),
        "id as_of said_at said_by said",
    ),
    "rights.TakingOut": Kept(
        Thing.RIGHTS,
        Clock.PROJECT,
        "AK",
        _(
            "That the whole register was asked for, confirmed and taken out, when and by whom, "
            "so that no copy of it is unknown."
        ),
        "id asked_at asked_by reason confirmed_at confirmed_by is_open ended_at ended_how ended_by "
        "digest",
    ),
    "rights.Closing": Kept(
        Thing.RIGHTS,
        Clock.PROJECT,
        "A",
        _("That the project is closing, so that it closes only when each print has its ending."),
        "id begun_on begun_by is_current closed_on closed_by called_off_on called_off_by",
    ),
}
