"""What is kept of pictures and of papers, and why; with its clock."""

from django.utils.translation import gettext_lazy as _

from .impact import Clock, Kept, Thing

TABLES: dict[str, Kept] = {
    "pictures.Sitting": Kept(
        Thing.PICTURES,
        Clock.COPIES,
        "AS",
        _(
            "One sitting: day, minutes, light, who sat, so that everybody in a picture is "
            "known and asked."
        ),
        "id code trip on minutes light sitters",
    ),
    "pictures.FilmSheet": Kept(
        Thing.PICTURES,
        Clock.COPIES,
        "AS",
        _("One sheet of film by its holder and number, so that each is found and none is lost."),
        "id sitting number holder state",
    ),
    "pictures.Picture": Kept(
        Thing.PICTURES,
        Clock.COPIES,
        "AS",
        _("One frame by code with a small light copy, so that it can be spoken of without a name."),
        "id code sitting sheet crop_of made_on others alt_text file_name place_word "
        "light_copy light_copy_type",
    ),
    "pictures.Appearance": Kept(
        Thing.PICTURES,
        Clock.COPIES,
        "AS",
        _(
            "Who is in a picture, where, and whether they can be recognised, so that each of "
            "them is asked."
        ),
        "id picture person place recognisable",
    ),
    "pictures.Stranger": Kept(
        Thing.PICTURES,
        Clock.COPIES,
        "AS",
        _(
            "A place in a frame of somebody who did not sit and what became of it; no name "
            "and no code, so that they are asked or left out."
        ),
        "id picture place became paper noted_on noted_by",
    ),
    "pictures.PictureHold": Kept(
        Thing.PICTURES,
        Clock.COPIES,
        "AS",
        _("That nothing happens with a picture until somebody has looked."),
        "id laid_at laid_by next_look_on lifted_at lifted_by sentence picture",
    ),
    "pictures.Caption": Kept(
        Thing.PICTURES,
        Clock.COPIES,
        "ASW",
        _("Each version of the words under a picture, so that a yes holds for these words alone."),
        "id picture version words written_at",
    ),
    "pictures.Quote": Kept(
        Thing.PICTURES,
        Clock.COPIES,
        "AW",
        _("Their words as they may be quoted, so that each use of them has a yes of its own."),
        "id code by interview words captions",
    ),
    "consent.Wording": Kept(
        Thing.FORMS,
        Clock.PROJECT,
        "ASWK",
        _(
            "The words of the papers in one language and version, frozen once read, so that "
            "it is known what was signed."
        ),
        "id language version labels lines_edition written_by read_by read_on frozen_at",
    ),
    "consent.Clause": Kept(
        Thing.FORMS,
        Clock.PROJECT,
        "ASWK",
        _(
            "One clause of a paper, who translated and who read it back, so that no "
            "machine’s words are signed unread."
        ),
        "id wording paper key number heading text state source_version source_words "
        "translated_by read_back read_back_by approved_by approved_on approved_words why "
        "sent_back_by",
    ),
    "consent.Form": Kept(
        Thing.FORMS,
        Clock.FORM,
        "AS",
        _(
            "One signed paper as two readings agree on it, so that it can be shown who said "
            "yes to what; blank is no."
        ),
        "id sheet person first_wording second_wording kind trip old_language is_from_before "
        "state state_on carried_by way given_on given_at witness interpreter recording "
        "copy_kept may_keep uses only_countries not_countries seen_everywhere first_day "
        "last_day name_form agreed_name no_face show_first approves_captions place_word "
        "own_condition if_cannot_answer if_died childs_answer missing_lines wording_was_read "
        "settled_at settled_by sittings",
        {
            "own_condition": _("in their own hand"),
            "childs_answer": _("a child’s no is a no"),
        },
    ),
    "consent.FormStep": Kept(
        Thing.FORMS,
        Clock.FORM,
        "AS",
        _(
            "Each state that a form came to and the day, so that what was done before a no "
            "stays explained."
        ),
        "id form number state on",
        {"on": _("stays: the proof that there was a form")},
    ),
    "consent.Reading": Kept(
        Thing.FORMS,
        Clock.FORM,
        "AS",
        _("What each of two people read on a scan alone, so that a wrong reading opens nothing."),
        "id form number by at answers",
    ),
    "consent.GuardianAnswer": Kept(
        Thing.FORMS,
        Clock.FORM,
        "A",
        _(
            "What each holder of authority over a child said, so that a child is not shown "
            "on one yes of two."
        ),
        "id form authority name is_yes said_on",
    ),
    "consent.PictureAnswer": Kept(
        Thing.FORMS,
        Clock.FORM,
        "AS",
        _("What a sitter said of one picture when they saw it."),
        "id form picture is_yes said_on",
    ),
    "consent.CaptionAnswer": Kept(
        Thing.FORMS,
        Clock.FORM,
        "A",
        _("What was said of one version of the words under a picture, and who read them aloud."),
        "id is_yes said_on read_by interpreter language form caption",
    ),
    "consent.QuoteAnswer": Kept(
        Thing.FORMS,
        Clock.FORM,
        "A",
        _("What was said of one quote, and who read it aloud."),
        "id is_yes said_on read_by interpreter language form quote",
    ),
    "consent.ConditionDecision": Kept(
        Thing.FORMS,
        Clock.FORM,
        "A",
        _("Whether a condition in their own hand can be kept in a use, and who decided it."),
        "id form use can decided_on decided_by",
    ),
    "consent.TakenBack": Kept(
        Thing.FORMS,
        Clock.PERSON,
        "AS",
        _(
            "A no that was heard, from which moment, so that everything stops at once and an "
            "answer is given in a month."
        ),
        "id person scope use picture said_on heard_at heard_by answer_due_on answered_on",
    ),
    "consent.SpeakerAnswer": Kept(
        Thing.FORMS,
        Clock.PERSON,
        "A",
        _("What a speaker said of a use while the person could not answer."),
        "id person use is_yes said_on",
    ),
    "consent.KeptCopy": Kept(
        Thing.FORMS,
        Clock.FORM,
        "A",
        _(
            "A form as it stood on a day, with its scan, so that a yes can be proved after "
            "the register is gone."
        ),
        "id form number stood_on record record_digest file digest made_at made_by",
    ),
    "consent.PaperOf": Kept(
        Thing.FORMS,
        Clock.PERSON,
        "N",
        _("That another paper of ours is about somebody, so that erasing reaches it."),
        "id sheet person",
    ),
    "documents.Layout": Kept(
        Thing.FORMS,
        Clock.PROJECT,
        "N",
        _("Where the boxes of a printed paper stand, of nobody, so that a scan can be read."),
        "id digest size boxes",
    ),
    "documents.Sheet": Kept(
        Thing.FORMS,
        Clock.FORM,
        "AS",
        _(
            "One paper with its serial, and sealed what was printed, so that a false paper "
            "is told from a true one."
        ),
        "id serial kind version pages digest kept layout printed_at printed_by",
    ),
    "documents.Scan": Kept(
        Thing.FORMS,
        Clock.FORM,
        "ASW",
        _("The sealed scan of a paper that came home, so that it can be read a second time."),
        "id sheet file media_type digest size pages filed_at filed_by",
    ),
    "documents.Upload": Kept(
        Thing.FORMS,
        Clock.TASK,
        "AS",
        _("A stack of scans, sealed until each page has found its place."),
        "id file count looked sent_at sent_by left_out ended_at",
    ),
    "documents.Page": Kept(
        Thing.FORMS,
        Clock.TASK,
        "ASW",
        _("One page of a stack and why it has no place yet."),
        "id upload number place why sheet side turn digest file scan word placed_at placed_by",
    ),
}
