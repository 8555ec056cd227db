"""What of each table belongs into the file of a person, field by field.

A key of FIELDS is a field of the table, or a path from it; its value is the key of its words on
paper (a label `file_<key>` of the notice's wording), or "" where it stands in the JSON alone.
"""

from dataclasses import dataclass, field

# The parts of the paper in their order, by the words of a wording.
PARTS = (
    *("kind_name", "kind_ways", "kind_talks", "kind_forms", "kind_pictures", "kind_prints"),
    *("kind_links", "file_ours"),
)


@dataclass(frozen=True)
class Held:
    """One table: its part of the paper, the ways from a row to the person, what is said of a row.

    `own`: fields in which nothing is masked, since they hold what the person is called and reached
    by; all other words are looked through for other people.
    """

    part: str
    ways: tuple[str, ...]
    fields: dict[str, str]
    own: tuple[str, ...] = field(default=())


def _json(*names: str) -> dict[str, str]:
    return dict.fromkeys(names, "")


def _marks(part: str, way: str, *names: str) -> Held:
    """A table of which nothing is for paper."""
    return Held(part, (way,), _json(*names))


HOLDS: dict[str, Held] = {
    "people.Participant": Held(
        "kind_name",
        ("pk",),
        {
            "code": "code",
            "call_name": "name",
            "born_said": "born",
            "languages": "speaks",
            "reads": "reads",
            "community__name": "group",
            "heard_on": "heard",
            "level": "level",
            "last_talk_on": "talk",
            "instruction": "to_do",
            "may_say": "may_say",
            "safe_hours": "hours",
            **_json("standing", "standing_since", "level_next_look_on", "condition"),
            **_json("condition_on", "born_earliest", "born_latest", "met_as_adult"),
            **_json("authority_holders", "safe_days", "text_only", "may_vouch"),
            **_json("show_to_own_group", "asked_to_tell_on", "thanked_on"),
            **_json("not_shown_since", "calendar"),
        },
        own=("code", "call_name", "born_said", "languages"),
    ),
    "people.Name": Held(
        "kind_name", ("person",), {"text": "name", **_json("kind", "script")}, own=("text",)
    ),
    "people.PhoneLine": Held(
        "kind_ways",
        ("person",),
        {
            "as_typed": "number",
            "note": "note",
            "ended_on": "ended",
            **_json("number", "extension", "is_shared", "zone"),
        },
        own=("as_typed", "number", "extension"),
    ),
    "people.Speaker": Held(
        "kind_ways", ("person",), {"named_on": "speaker", **_json("is_next_of_kin")}
    ),
    "meetings.Call": Held(
        "kind_talks",
        ("person",),
        {
            "at": "ring",
            **_json("kind", "state", "by_them", "counts", "due_on", "due_at", "parts"),
            **_json("outcome", "next_step"),
        },
    ),
    "meetings.Meeting": Held(
        "kind_talks",
        ("person",),
        {
            "at": "meeting",
            "place": "place",
            "fallback": "place",
            "exit_signal": "signal",
            "company": "company",
            **_json("state", "fallback_at", "place_is_theirs", "of_own_group"),
            **_json("own_group_agreed", "with_camera", "others", "sheets", "power_present"),
            **_json("explained", "told_back", "ended_why", "late_why", "times_moved"),
            **_json("written_up_at"),
        },
    ),
    "meetings.Interview": Held(
        "kind_talks",
        ("person",),
        {"held_on": "talk", **_json("may_record", "how_are_you_due_on", "how_are_you_on")},
    ),
    "meetings.Recording": Held(
        "kind_talks",
        ("interview__person", "forms__person"),
        {
            "code": "recording",
            "destroy_on": "destroy",
            **_json("made_at", "off_the_phone_on", "transcribed_on", "day_is_theirs"),
            **_json("destroyed_on"),
        },
    ),
    "consent.Form": Held(
        "kind_forms",
        ("person",),
        {
            "sheet__serial": "form",
            "given_on": "given",
            "uses": "yes_to",
            "agreed_name": "agreed",
            "own_condition": "condition",
            **_json("kind", "old_language", "is_from_before", "state", "state_on", "way"),
            **_json("given_at", "copy_kept", "may_keep", "only_countries", "not_countries"),
            **_json("seen_everywhere", "first_day", "last_day", "name_form", "no_face"),
            **_json("show_first", "approves_captions", "place_word", "if_cannot_answer"),
            **_json("if_died", "childs_answer", "missing_lines", "wording_was_read"),
            **_json("settled_at"),
        },
        own=("sheet__serial", "agreed_name"),
    ),
    "consent.FormStep": _marks("kind_forms", "form__person", "number", "state", "on"),
    "consent.GuardianAnswer": _marks(
        "kind_forms", "form__person", "authority", "is_yes", "said_on"
    ),
    "consent.PictureAnswer": _marks(
        "kind_forms", "form__person", "picture__code", "is_yes", "said_on"
    ),
    "consent.CaptionAnswer": _marks(
        "kind_forms", "form__person", "caption__version", "is_yes", "said_on", "language"
    ),
    "consent.QuoteAnswer": Held(
        "kind_forms",
        ("form__person", "quote__by"),
        _json("quote__code", "is_yes", "said_on", "language"),
    ),
    "consent.ConditionDecision": _marks("kind_forms", "form__person", "use", "can", "decided_on"),
    "consent.TakenBack": Held(
        "kind_forms",
        ("person",),
        {
            "said_on": "back",
            "scope": "back_what",
            "use": "back_what",
            "picture__code": "picture",
            **_json("heard_at", "answer_due_on", "answered_on"),
        },
    ),
    "consent.SpeakerAnswer": _marks("kind_forms", "person", "use", "is_yes", "said_on"),
    "documents.Scan": _marks("kind_forms", "sheet__form__person", "filed_at", "pages"),
    "pictures.Sitting": Held(
        "kind_pictures", ("sitters",), {"on": "sitting", **_json("minutes", "light")}
    ),
    "pictures.Appearance": Held(
        "kind_pictures",
        ("person",),
        {
            "picture__code": "picture",
            "picture__alt_text": "shows",
            **_json("place", "recognisable", "picture__made_on", "picture__place_word"),
        },
        own=("picture__code",),
    ),
    "pictures.Caption": Held(
        "kind_pictures",
        ("picture__appearances__person",),
        {"words": "words", **_json("picture__code", "version", "written_at")},
    ),
    "pictures.Quote": Held("kind_pictures", ("by",), {"words": "quote", **_json("code")}),
    "uses.NameShown": _marks("kind_pictures", "person", "plan__code", "name_form"),
    "uses.UndoLine": Held(
        "kind_pictures",
        ("person",),
        _json("picture__code", "code", "force", "because", "opened_at", "due_at")
        | _json("done_on", "cannot", "told_them_on", "told_holder_on"),
    ),
    "rights.Misuse": Held(
        "kind_pictures",
        ("picture__appearances__person",),
        {
            "seen_on": "misuse",
            **_json("picture__code", "where", "asked_down_on", "told_sitter_on", "gone_on"),
        },
    ),
    "prints.Print": Held(
        "kind_prints",
        ("person",),
        {
            "owed_since": "print",
            "place": "place",
            "when_to_come": "hours",
            "word_at_the_door": "may_say",
            **_json("code", "state", "state_on", "is_safe", "size", "is_sealed", "quarter"),
            **_json("opens_at", "closes_at", "box", "not_at_the_lab", "tries", "closed_how"),
            **_json("picture__code"),
        },
    ),
    "prints.Step": _marks(
        "kind_prints", "print__person", "number", "was", "became", "on", "noted_at", "reason"
    ),
    "prints.RoundDoor": _marks("kind_prints", "print__person", "came", "typed_at"),
    "prints.Promise": Held(
        "kind_prints",
        ("person",),
        {
            "kind": "promised",
            "promised_on": "promise",
            "due_on": "due",
            "kept_on": "kept",
            **_json("others_may_see", "amount", "currency", "ended_how", "ended_on"),
            **_json("ended_why"),
        },
    ),
    "people.Introduction": Held(
        "kind_links",
        ("person",),
        {
            "heard_on": "told",
            **_json("precision", "asked_first", "may_say_who", "has_power", "vouched_on"),
            **_json("is_withheld", "wave", "number"),
        },
    ),
    "people.PersonHold": Held(
        "file_ours",
        ("person",),
        {"laid_at": "hold", "sentence": "note", **_json("next_look_on", "lifted_at")},
    ),
    "people.MovedAbroad": Held(
        "file_ours", ("person",), {"since": "moved", **_json("asked_again_on")}
    ),
    "people.Unwanted": _marks("file_ours", "person", "said_on", "lifted_on"),
    "people.InSight": _marks("file_ours", "person", "day", "why"),
    "rights.Request": Held(
        "file_ours",
        ("person",),
        {
            "kind": "asked_for",
            "asked_on": "asked",
            "answered_on": "answered",
            **_json("due_on", "way", "sure_how", "sure_on", "extended_on", "outcome"),
        },
    ),
    "rights.OthersAsk": Held(
        "file_ours", ("person",), {"asked_on": "others_asked", **_json("answer")}
    ),
    "rights.Alarm": Held(
        "file_ours",
        ("affected",),
        {
            "known_at": "alarm",
            **_json("what", "authority_told_on", "not_needed_on", "closed_on"),
        },
    ),
    "rights.Telling": _marks("file_ours", "person", "told_at"),
    "rights.ToIntroduce": _marks("file_ours", "person", "spoken_on", "said"),
    "rights.LettingGo": _marks(
        "file_ours", "person", "clock", "due_on", "postponed_until", "sentence", "confirmed_on"
    ),
    "rights.Ending": _marks(
        "file_ours", "person", "how", "decided_on", "look_again_on", "was", "was_since"
    ),
}
