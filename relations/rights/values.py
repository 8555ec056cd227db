"""What may be lost or taken, who asks and how, and how it ended: plain codes."""

from enum import StrEnum


class Lost(StrEnum):
    """What an alarm is about."""

    PHONE = "phone"
    BAG = "bag"
    PAPERS = "papers"
    LAPTOP = "laptop"
    BLANK = "blank"  # a form that nobody had signed


# What is carried on paper; the others show what was looked at on them.
ON_PAPER = frozenset({Lost.BAG, Lost.PAPERS})
# No name is on these, and they open nothing: nobody is listed, and nobody signed out.
NAMES_NOBODY = frozenset({Lost.BLANK})


class AskedBy(StrEnum):
    """Who asks about somebody, besides the person."""

    PRESS = "press"
    SCHOLAR = "scholar"
    POLICE = "police"
    COURT = "court"
    SOMEBODY = "somebody"


# With these only the artist speaks, and by a lawyer.
AUTHORITIES = frozenset({AskedBy.POLICE, AskedBy.COURT})


class Told(StrEnum):
    """What they were answered; that somebody takes part is never among it."""

    NOTHING = "nothing"
    PASSED_ON = "passed_on"
    TO_LAWYER = "to_lawyer"


class OpenThing(StrEnum):
    """What is counted when one assistant hands on to another."""

    RINGS = "rings"
    MEETINGS = "meetings"
    PROMISES = "promises"
    DOWN = "down"
    BLANKS = "blanks"
    PRINTS = "prints"
    KEYS = "keys"
    PHONES = "phones"


# What both count by hand: each number beside the other's, and beside the site's where it has one.
TOUCHED = (OpenThing.BLANKS, OpenThing.PRINTS, OpenThing.KEYS, OpenThing.PHONES)


class Spoken(StrEnum):
    """What came of the talk in which the artist told a sitter of the newcomer."""

    INTRODUCED = "introduced"
    REFUSED = "refused"


class PersonEnding(StrEnum):
    """How the project ends for one person."""

    AS_AGREED = "as_agreed"
    ARCHIVE = "archive"
    GIVEN_BACK = "given_back"
    DESTROYED = "destroyed"
    COULD_NOT_ASK = "could_not_ask"


class AskedWay(StrEnum):
    """How somebody asked for what is theirs; no way is better than another."""

    VOICE = "voice"
    PAPER = "paper"


class SureHow(StrEnum):
    """How we are sure who asks; papers are never asked for."""

    WORD = "word"  # the word that was agreed with them
    FACE = "face"  # somebody of us knows them by sight
    SPEAKER = "speaker"  # whoever speaks for them was there


class Outcome(StrEnum):
    """What came of a request."""

    DONE = "done"
    NOT_DONE = "not_done"  # they were told why, and where to complain


class TakingEnd(StrEnum):
    """How an asking for the whole register ended."""

    TAKEN = "taken"
    REFUSED = "refused"
    CALLED_OFF = "called_off"
    TOO_LATE = "too_late"  # nobody answered, or nobody took it, in time
    ALARM = "alarm"  # something was lost meanwhile
    HELD_BACK = "held_back"  # the keeper's hold on every new use lay
    ONE_IS_GONE = "one_is_gone"  # one of the two is not artist or keeper any more


# Nobody pressed these: they are worked out on looking.
BY_ITSELF = frozenset(
    {TakingEnd.TOO_LATE, TakingEnd.ALARM, TakingEnd.HELD_BACK, TakingEnd.ONE_IS_GONE}
)
