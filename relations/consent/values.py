"""What the weighing of consent takes: plain values, no table and no sentence."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum

from relations.people.values import Birth, Condition, Risk
from relations.pictures.values import Others, PlaceWord, Recognisable


class Use(StrEnum):
    """Ways of showing a picture, each with a line of its own on the form."""

    EXHIBITION = "exhibition"
    BOOK = "book"
    PRESS = "press"
    WEB = "web"
    SOCIAL_MEDIA = "social_media"
    TEACHING = "teaching"
    ARCHIVE = "archive"
    FUND_RAISING = "fund_raising"
    PRINT_SALE = "print_sale"
    PORTFOLIO = "portfolio"
    JURY = "jury"


# What has left the hand on its day and cannot be called back.
INK = frozenset({Use.BOOK, Use.PRESS, Use.PRINT_SALE, Use.JURY})
# What is seen in every country; the press unless on paper only.
EVERYWHERE = frozenset({Use.WEB, Use.SOCIAL_MEDIA, Use.PRESS})
ALL = "all"  # beside the uses, what may be taken back


class NameForm(StrEnum):
    FULL = "full"
    FIRST = "first"
    PSEUDONYM = "pseudonym"
    NONE = "none"


# From no place at all to the door.
FINENESS = {word: fineness for fineness, word in enumerate(PlaceWord)}


class Wish(StrEnum):
    """What shall happen when the sitter cannot answer, or has died; left empty is `ASK`."""

    GO_ON = "go on"
    ASK = "ask"
    STOP = "stop"


class ClauseState(StrEnum):
    """How far one clause of a wording has come; nothing is printed before all are approved."""

    DRAFTED = "drafted"
    TRANSLATED = "translated"
    READ_BACK = "read_back"
    APPROVED = "approved"


class FormKind(StrEnum):
    """For whom, or for which way of giving, a form is printed; fifteen points alike on each."""

    ADULT = "adult"
    CHILD = "child"
    CANNOT_READ = "cannot_read"
    SPOKEN = "spoken"
    SIGN_LANGUAGE = "sign_language"
    GROUP = "group"


class ChildsAnswer(StrEnum):
    YES = "yes"
    NO = "no"


class Scope(StrEnum):
    """How much is taken back: everything, one use, or one picture."""

    ALL = "all"
    USE = "use"
    PICTURE = "picture"


class Decision(StrEnum):
    """Whether a hand-written condition can be kept in a use."""

    CAN = "can"
    CANNOT = "cannot"


@dataclass(frozen=True, slots=True)
class Form:
    """One permission form as it was read; country codes are ISO 3166-1 alpha-2."""

    given_on: date
    sittings: frozenset[str]
    uses: frozenset[Use]  # answered with a plain yes; blank, no and both ticked are left out
    is_filed: bool = False  # the scan is there and was read twice with one result
    is_read: bool = False  # its language version was read by a second person
    is_complete: bool = False  # for its way of giving, see `rules.complete`
    only_countries: frozenset[str] | None = None  # None is no limit, the empty set is nowhere
    not_countries: frozenset[str] = frozenset()
    knows_seen_everywhere: bool = False
    first_day: date | None = None
    last_day: date | None = None
    name_form: NameForm = NameForm.NONE
    agreed_name: str | None = None
    is_faceless: bool = False
    shows_first: bool = False
    pictures_accepted: frozenset[str] = frozenset()
    pictures_refused: frozenset[str] = frozenset()
    approves_captions: bool = False
    captions_accepted: frozenset[str] = frozenset()
    quotes_accepted: frozenset[str] = frozenset()
    place_word: PlaceWord = PlaceWord.NONE
    has_own_condition: bool = False
    own_condition_decided: Mapping[Use, Decision] = field(default_factory=dict)
    if_cannot_answer: Wish = Wish.ASK
    if_died: Wish = Wish.ASK
    guardians_yes: int = 0
    guardian_no: bool = False
    childs_yes: bool | None = None  # None where the child's own answer is missing

    @property
    def stands(self) -> bool:
        """Whether it can open a use; one that does not can only narrow."""
        return self.is_filed and self.is_complete and self.is_read

    @property
    def is_limited(self) -> bool:
        """Whether it names countries that are left out, by either of the two lines."""
        return self.only_countries is not None or bool(self.not_countries)


@dataclass(frozen=True, slots=True)
class Person:
    """What is known of one sitter; forms of one day stand in the order of hour or serial."""

    code: str
    birth: Birth | None = None
    met_as_adult: bool = False
    authority_holders: int = 2  # how many must say yes for a child; the table holds 1 or 2
    condition: Condition = Condition.WELL
    condition_on: date | None = None
    speaker_yes: Mapping[Use, date] = field(default_factory=dict)
    risk: Risk | None = None  # unset counts as raised
    last_talk_on: date | None = None
    is_on_hold: bool = False
    next_look_on: date | None = None  # into that hold
    taken_back: Mapping[str, date] = field(default_factory=dict)  # by use, or `ALL`
    never_print: tuple[str, ...] = ()
    forms: tuple[Form, ...] = ()


@dataclass(frozen=True, slots=True)
class Sitter:
    """Somebody in the frame; recognisable is judged for each crop."""

    code: str
    recognisable: Recognisable = Recognisable.UNSURE


@dataclass(frozen=True, slots=True)
class Quote:
    id: str
    by: str  # the code of the person who said it


@dataclass(frozen=True, slots=True)
class Picture:
    """One crop, with the words that go with it."""

    id: str
    sitting: str
    made_on: date
    sitters: tuple[Sitter, ...]
    others: Others = Others.UNRESOLVED
    is_on_hold: bool = False
    next_look_on: date | None = None  # into that hold
    caption: str | None = None  # the version
    words: str = ""  # of that version
    place_word: PlaceWord = PlaceWord.NONE
    alt_text: str = ""
    file_name: str = ""
    quotes: tuple[Quote, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """One planned use: where, from when to when, and which words are shown."""

    use: Use
    starts_on: date
    countries: frozenset[str] | None = None  # None is the whole world
    ends_on: date | None = None  # None is open
    is_one_day: bool = False
    is_paper_only: bool = False
    shows_captions: bool = True
    names: Mapping[str, NameForm] = field(default_factory=dict)  # by code; left out is none

    @property
    def is_ink(self) -> bool:
        """Whether it has left the hand on its day and cannot be called back."""
        return self.use in INK

    @property
    def is_span(self) -> bool:
        """Whether it is judged from its first day to its last, and not on its day alone."""
        return not (self.is_ink or self.is_one_day)


@dataclass(frozen=True, slots=True)
class Windows:
    """Days before the start within which a sitter must have been spoken with; settings."""

    ordinary: int = 730
    raised: int = 180
    grave: int = 30
    ordinary_ink: int = 365
    raised_ink: int = 60
    grave_ink: int = 14

    def days(self, risk: Risk, *, is_ink: bool = False) -> int:
        """The window of a level, for ink or plain."""
        if risk is Risk.ORDINARY:
            return self.ordinary_ink if is_ink else self.ordinary
        if risk is Risk.RAISED:
            return self.raised_ink if is_ink else self.raised
        return self.grave_ink if is_ink else self.grave

    def opens_on(self, starts_on: date, risk: Risk, *, is_ink: bool = False) -> date:
        """The first day on which a last word counts for what starts then."""
        return starts_on - timedelta(days=self.days(risk, is_ink=is_ink))
