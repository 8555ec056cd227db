"""The words of the impact assessment: what tables are about, clocks, readers, risks and measures.

The risks are those of the design: of the seals by threat, and of the job. What is said in numbers
is filled in (`letting_words.said`) from the numbers by which the site itself acts.
"""

from typing import TYPE_CHECKING, NamedTuple

from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from .impact import Clock, Reader, Thing
from .letting_words import said

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

THINGS: dict[str, "_StrPromise"] = {
    Thing.PERSON: _("A person, and how to reach them"),
    Thing.LINKS: _("Who told us of whom"),
    Thing.TALKS: _("Rings, meetings and talks"),
    Thing.TRIP: _("Trips"),
    Thing.PICTURES: _("Sittings and pictures"),
    Thing.FORMS: _("Words, forms and scans"),
    Thing.PRINTS: _("Prints and promises"),
    Thing.USES: _("Uses, answers and what hangs"),
    Thing.RIGHTS: _("Rights, alarms and endings"),
    Thing.HOUSE: _("Who signs in, and the house itself"),
}
CLOCKS: dict[str, "_StrPromise"] = {
    Clock.PERSON: _("As long as the person is kept"),
    Clock.DAY: _("As long as the person is kept; it opens on its day only"),
    Clock.WAYS: _("While any yes of theirs stands, then %(ways)s months"),
    Clock.RINGS: _("%(rings)s months, then the day and the outcome alone"),
    Clock.LINKS: _("%(links)s months after the last sitting"),
    Clock.RECORDING: _(
        "Until the day they said, else %(recordings)s months or as long as its form"
    ),
    Clock.FORM: _("While it is in use, then %(forms)s years"),
    Clock.COPIES: _("As long as there are copies"),
    Clock.TASK: _("Until it is dealt with; then only that it was"),
    Clock.LOG: _("%(log)s months"),
    Clock.DEVICE: _("%(device)s days"),
    Clock.DAYS: _("One day after the last try"),
    Clock.ACCOUNT: _("As long as they sign in here"),
    Clock.SESSION: _("Until the sign-in ends"),
    Clock.PROJECT: _("As long as the project runs"),
}
READERS: dict[str, "_StrPromise"] = {
    Reader.ARTIST: pgettext_lazy("who reads", "artist"),
    Reader.ASSISTANT: pgettext_lazy("who reads", "assistant, of those in sight"),
    Reader.WORDING_READER: pgettext_lazy("who reads", "wording reader"),
    Reader.KEEPER: pgettext_lazy("who reads", "keeper"),
    Reader.VENUE: pgettext_lazy("who reads", "venue, by link and phrase"),
    Reader.OWN: pgettext_lazy("who reads", "only whoever it is of"),
    Reader.NOBODY: pgettext_lazy("who reads", "nobody: the site itself"),
}
ERASED: dict[str, "_StrPromise"] = {
    "goes": pgettext_lazy("on erasing", "goes"),
    "blanked": pgettext_lazy("on erasing", "what is theirs is blanked"),
    "stays": pgettext_lazy("on erasing", "stays"),
}


# How long a person is kept.
WHOLE_PERSON: "_StrPromise" = _(
    "How long a person is kept: %(named)s days if nobody vouched for them, %(said_no)s days after "
    "their no, %(reached)s months from the first try if they were never reached, %(reached)s "
    "months at rest; of a sitter, what is in use."
)


class Risk(NamedTuple):
    """What may happen, what the site does about it, and what it cannot do."""

    what: object
    does: object
    cannot: object


RISKS: tuple[Risk, ...] = (
    Risk(
        _("A laptop is stolen or seized while the site is locked."),
        _(
            "Scans and fields marked * are sealed, and a register on the laptop itself is "
            "sealed whole."
        ),
        _("A passphrase that is short, shared or written beside it protects nobody."),
    ),
    Risk(
        _("A laptop is taken while the site is open."),
        _("Unused, the site locks itself; an alarm from any browser signs out everybody else."),
        _("Until then, whoever holds it sees what was open to whoever signed in."),
    ),
    Risk(
        _("A device is lost on a trip, with the travelling set on it."),
        _(
            "It holds the people of that trip alone, without introductions, forms or past, and "
            "ends by its last day. An alarm lists them; what comes out of it from then on waits "
            "to be looked at."
        ),
        _(
            "No alarm reaches it. Until that day, or where the clock is put back, it opens for "
            "whoever has its passphrase."
        ),
    ),
    Risk(
        _("Somebody is forced to say the passphrase."),
        _("Little is kept: what to do and not why; no faith, origin, health or papers."),
        _("No software helps here. Carry only what the day needs."),
    ),
    Risk(
        _("A backup is stolen."),
        _(
            "It is sealed under a key of its month, which is destroyed %(backups)s days after "
            "that month."
        ),
        _(
            "Whoever has the backup, the key file and the passphrase reads it: keep the "
            "three apart."
        ),
    ),
    Risk(
        _("The disk of a server, or a copy of its database, is read."),
        _("Fields marked * and files marked † stay sealed; their key is not in the database."),
        _("Dates, places of uses, counts and who told us of whom can be read there."),
    ),
    Risk(
        _("Somebody who signs in here looks at more than their work needs."),
        _(
            "Each role sees its own; numbers and places open one at a time and leave a line "
            "in a log that others read; beyond %(numbers)s numbers a day the artist and the keeper "
            "are told."
        ),
        _("What was seen is remembered. Choose people, not only rights."),
    ),
    Risk(
        _("An old passphrase and an old copy of the key file are found."),
        _("All can be put under new keys at the machine itself."),
        _("Copies from before still open with the old passphrase: destroy them."),
    ),
    Risk(
        _("A form, a day sheet or a trip sheet is lost."),
        _(
            "Papers bear numbers and are counted at the end of a trip; name and way to a "
            "door stand on two sheets; an alarm says whom to ring first."
        ),
        _("What somebody has read cannot be unread."),
    ),
    Risk(
        _("It becomes known who told us of whom."),
        _(
            "Codes stand instead of names, one line or group is drawn at a time, each look "
            "is logged, and links can be sealed for good."
        ),
        _("A drawing on paper is out of our hands."),
    ),
    Risk(
        _("A yes was not free: fear, power, a child, words that were not understood."),
        _(
            "Blank is no; two people read each paper alone; who was there is noted, and "
            "with power in the room it does not count; a child’s no stands."
        ),
        _("Paper shows no fear. Ask again, alone."),
    ),
    Risk(
        _("A no does not reach every copy."),
        _(
            "One press stops every use; the register of uses names each wall and copy, whom "
            "to ring and by when it must come down."
        ),
        _("What has been printed or copied by others cannot always be brought back."),
    ),
    Risk(
        _("A machine knows a face again, or a picture is shown without its words."),
        _(
            "Showing everywhere is a box of its own; who else is in a frame is noted by "
            "place; files go out with the agreed words in them."
        ),
        _("Once seen everywhere, always seen everywhere."),
    ),
    Risk(
        _("A small number gives somebody away."),
        _(
            "Small numbers are hidden, with those from which they could be worked out, and "
            "each report stands as it was said."
        ),
        _("Whoever knows the place well may still guess."),
    ),
    Risk(
        _("Family, neighbours, press or police learn of it."),
        _(
            "Safe hours and a word for the door; the ring card warns that others hear; to "
            "others one sentence that confirms nothing."
        ),
        _("People talk. Ask beforehand who may know."),
    ),
    Risk(
        _("Something is kept longer than it is needed."),
        _(
            "Each kind of thing has a clock; erasing takes what is theirs, and reaches the "
            "backups within %(backups)s days."
        ),
        _("A clock does not know what a person wants: ask."),
    ),
    Risk(
        _("The register is lost, and with it what was agreed."),
        _(
            "Every backup is read back when it is made; a damaged file is named; without an "
            "answer nothing is shown."
        ),
        _("Without a good backup in another house nothing comes back."),
    ),
    Risk(
        _("The artist cannot go on."),
        _(
            "The keeper opens the register with a passphrase of their own, can stop, hold and "
            "erase, and can hold back every new use until somebody may answer again."
        ),
        _(
            "What was cleared and given out before goes on. Somebody must be named, and agree, "
            "before it happens."
        ),
    ),
)


def risks() -> list[Risk]:
    """The risks as `said`."""
    return [Risk(*map(said, risk)) for risk in RISKS]


# To be said by hand: no site knows it.
ANSWERABLE: tuple["_StrPromise", ...] = (
    _("Who is answerable in law: name, address, how to reach them"),
    _("Who helps, and what they signed: assistant, keeper, lab, host of a server"),
    _("On which ground in law this rests, in each country where we work or show"),
    _("Why it is needed, and why less would not do"),
)
BY_HAND: tuple["_StrPromise", ...] = (
    _("What sitters, and those who speak for them, said of it, and on which day"),
    _("What the adviser said, and what we did about it"),
    _("Whether the data-protection authority was asked beforehand, and its answer"),
    _("What we change, who does it, by which day"),
    _("When we look again: in a year at the latest, and before anything new is kept"),
)
