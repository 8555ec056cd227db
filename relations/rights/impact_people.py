"""What is kept of people, of who told us of whom, of talks and trips, and why; with its clock."""

from django.utils.translation import gettext_lazy as _

from .impact import Clock, Kept, Thing

TABLES: dict[str, Kept] = {
    "people.Participant": Kept(
        Thing.PERSON,
        Clock.PERSON,
        "AS",
        _(
            "Somebody of whom word came: a code, what to call them, how to behave towards "
            "them and which day to look again, so that nobody is rung or met in a way that "
            "harms them."
        ),
        "id code log_key call_name community languages calendar reads standing standing_since "
        "heard_on level level_next_look_on condition condition_on born_earliest born_latest "
        "born_said met_as_adult authority_holders last_talk_on instruction may_say safe_hours "
        "safe_days text_only may_vouch show_to_own_group asked_to_tell_on thanked_on "
        "not_shown_since agreed_word",
        {
            "level": _("how careful to be; the reason is not kept"),
            "born_said": _("only where a child, or somebody just of age, must be told apart"),
            "condition": _("whether they can answer for themselves now, not why"),
            "log_key": _("a random key, so that the log never holds a name"),
            "agreed_word": _("so that whoever asks for their file shows no papers; on no page"),
            "authority_holders": _("of a child: how many must say yes"),
            "show_to_own_group": _("because of neighbours and kin"),
        },
    ),
    "people.Name": Kept(
        Thing.PERSON,
        Clock.PERSON,
        "AS",
        _(
            "Their names in each script, and names never to be printed, so that a release is "
            "right and a wrong name is found before it goes out."
        ),
        "id person kind text script",
    ),
    "people.PhoneLine": Kept(
        Thing.PERSON,
        Clock.WAYS,
        "AS",
        _(
            "Numbers and other ways to reach them, in their own order of safety, so that "
            "only a safe line is rung."
        ),
        "id person as_typed number extension note mark is_shared through zone ended_on",
        {
            "mark": _("finds the number again without holding it"),
            "is_shared": _("somebody else may pick up"),
        },
    ),
    "people.Speaker": Kept(
        Thing.PERSON,
        Clock.PERSON,
        "A",
        _(
            "Who answers for them when they cannot, as they chose, so that a use does not go "
            "on without anybody to ask."
        ),
        "id person speaker name way is_next_of_kin named_on",
        {"way": _("goes when their numbers go")},
    ),
    "people.PersonHold": Kept(
        Thing.PERSON,
        Clock.PERSON,
        "AS",
        _(
            "That nothing of theirs moves until somebody has looked, and the sentence with "
            "which it was lifted."
        ),
        "id laid_at laid_by next_look_on lifted_at lifted_by sentence person together",
    ),
    "people.NeverRing": Kept(
        Thing.PERSON,
        Clock.COPIES,
        "ASK",
        _(
            "A mark made from a number with a key, so that a number that asked for silence "
            "is never rung again; the number itself is not in it."
        ),
        "id mark who whole_number at by undone_at was",
    ),
    "people.MovedAbroad": Kept(
        Thing.PERSON,
        Clock.PERSON,
        "A",
        _(
            "That somebody moved abroad and since when, so that they are asked anew where "
            "they may be shown; where to is not kept."
        ),
        "id person since asked_again_on",
    ),
    "people.Unwanted": Kept(
        Thing.PERSON,
        Clock.PERSON,
        "AS",
        _("That they want nobody else but the artist to come, so that a newcomer sees them not."),
        "id person user said_on lifted_on",
    ),
    "people.ProjectClosed": Kept(
        Thing.RIGHTS,
        Clock.PROJECT,
        "AS",
        _("The day since which nobody new is written down, because the project is closed."),
        "id only since",
    ),
    "people.InSight": Kept(
        Thing.PERSON,
        Clock.DAY,
        "AS",
        _(
            "Which assistant may see whom on which day and for what work, so that nobody "
            "sees more than the day needs."
        ),
        "id person user day why",
    ),
    "people.RangUs": Kept(
        Thing.PERSON,
        Clock.TASK,
        "A",
        _(
            "That somebody rang or wrote, as it was typed, until it is known who it was and "
            "what they need."
        ),
        "id at by typed perhaps settled_on",
    ),
    "people.Community": Kept(
        Thing.PERSON,
        Clock.PROJECT,
        "AS",
        _(
            "A group under the name of a tree, so that one group is not shown without the "
            "others; what the name stands for is not kept."
        ),
        "id key name is_raised hoped_for",
    ),
    "people.OutsideIntroducer": Kept(
        Thing.LINKS,
        Clock.PROJECT,
        "AS",
        _("Somebody outside who passes names on: a label and a code, so that they can be thanked."),
        "id code label accepted_on thanked_on",
    ),
    "people.Introduction": Kept(
        Thing.LINKS,
        Clock.LINKS,
        "AS",
        _(
            "Who told us of whom, and whether they asked first, so that nobody is met "
            "against their will and power over somebody is noticed."
        ),
        "id person introducer outside is_withheld wave heard_on precision number asked_first "
        "may_say_who has_power vouched_on",
        {
            "has_power": _("a yes to an employer or a relative may be no yes"),
            "is_withheld": _("they asked that it is not known"),
        },
    ),
    "referrals.Shared": Kept(
        Thing.LINKS,
        Clock.PROJECT,
        "A",
        _(
            "Each drawing of numbers that left the house, as it was, so that a later one "
            "does not give away what the first one hid."
        ),
        "id number kind at by said",
    ),
    "meetings.Call": Kept(
        Thing.TALKS,
        Clock.RINGS,
        "AS",
        _(
            "A ring, message or visit: planned or done, its outcome and next step, so that "
            "nobody is rung too often or at a bad hour."
        ),
        "id person line kind state by_them counts due_on due_at parts at by outcome next_step",
    ),
    "meetings.Helper": Kept(
        Thing.TALKS,
        Clock.PROJECT,
        "AS",
        _(
            "Who interprets or witnesses, by initials on paper, so that it is known who "
            "heard a yes and that they promised silence."
        ),
        "id kind initials name languages promise_signed_on",
    ),
    "meetings.Meeting": Kept(
        Thing.TALKS,
        Clock.PERSON,
        "AS",
        _(
            "A talk at a place and hour of their choice, who was there and what was "
            "explained, so that a yes given under pressure does not count."
        ),
        "id person trip state at place fallback fallback_at place_is_theirs exit_signal "
        "company interpreter witness interpreter_ties witness_ties of_own_group "
        "own_group_agreed with_camera others sheets power_present explained told_back "
        "ended_why late_why times_moved written_up_at written_up_by",
        {
            "place": _("goes when their numbers go"),
            "power_present": _("then the meeting does not count"),
            "exit_signal": _("a sign to leave, agreed beforehand"),
        },
    ),
    "meetings.Interview": Kept(
        Thing.TALKS,
        Clock.PERSON,
        "A",
        _("That a talk may be quoted from, and the day on which to ask how they are afterwards."),
        "id person held_on may_record how_are_you_due_on how_are_you_on",
    ),
    "meetings.Recording": Kept(
        Thing.TALKS,
        Clock.RECORDING,
        "A",
        _(
            "A sealed recording with the day on which they want it destroyed, so that it is "
            "destroyed on that day."
        ),
        "id interview code file made_at off_the_phone_on transcribed_on destroy_on "
        "day_is_theirs destroyed_on",
    ),
    "meetings.DayLine": Kept(
        Thing.TALKS,
        Clock.PERSON,
        "AS",
        _(
            "One numbered line of a day on paper, so that it is typed in once and the paper "
            "can be burnt."
        ),
        "id sheet number work person about typed_at typed_by",
    ),
    "meetings.TravellingSet": Kept(
        Thing.TRIP,
        Clock.PROJECT,
        "AS",
        _(
            "That the people of one trip were taken along on a device, until when, and that it "
            "came home, so that an alarm can end it."
        ),
        "id trip made_for made_at last_day secret came_home_at ended_at ended_how",
        {
            "secret": _("opens that copy when it comes home; then it is emptied"),
        },
    ),
    "meetings.Trip": Kept(
        Thing.TRIP,
        Clock.PROJECT,
        "AS",
        _(
            "One stay of the artist: days, money for prints and a rounded place for the "
            "light, so that meetings and sheets of film fit in it."
        ),
        "id code first_day last_day currency print_budget latitude longitude",
        {
            "latitude": _("of the region, for sunrise and sunset; no address"),
        },
    ),
    "trips.Stay": Kept(
        Thing.TRIP,
        Clock.PROJECT,
        "AS",
        _("The countries of a trip and when it was closed, so that nothing stays out."),
        "id trip countries closed_on closed_by",
    ),
    "trips.Day": Kept(
        Thing.TRIP,
        Clock.PROJECT,
        "AS",
        _("The days of a trip on which there is work."),
        "id trip on has_round",
    ),
    "trips.Count": Kept(
        Thing.TRIP,
        Clock.PROJECT,
        "AS",
        _(
            "How many of a thing went out and came home, so that a missing paper is noticed "
            "the same day."
        ),
        "id trip thing how number counted_on",
    ),
    "trips.MissingBlank": Kept(
        Thing.TRIP,
        Clock.PROJECT,
        "AS",
        _(
            "A blank form that did not come home and the alarm that names it, so that it "
            "opens nothing if somebody fills it in."
        ),
        "id form alarm",
    ),
}
