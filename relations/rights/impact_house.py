"""What is kept of those who sign in and by the house itself, and why; with its clock."""

from django.utils.translation import gettext_lazy as _

from .impact import Clock, Kept, Thing

TABLES: dict[str, Kept] = {
    "privacy.User": Kept(
        Thing.HOUSE,
        Clock.PROJECT,
        "AK",
        _("The few who sign in here: a name, a role and the languages they read."),
        "password last_login id username called role languages language figures calendar "
        "is_active asks_code must_choose_password must_set_up_codes told_up_to joined_at",
    ),
    "privacy.CodeDevice": Kept(
        Thing.HOUSE,
        Clock.ACCOUNT,
        "O",
        _("What their device makes one-time codes from, so that a password alone opens little."),
        "id user secret made_at is_set_up used_step",
    ),
    "privacy.PaperCode": Kept(
        Thing.HOUSE,
        Clock.ACCOUNT,
        "N",
        _("Ten codes on paper, as hashes, for a lost device."),
        "id user number hashed",
    ),
    "privacy.KnownDevice": Kept(
        Thing.HOUSE,
        Clock.DEVICE,
        "N",
        _("A browser from which a code was given before."),
        "id user digest since",
    ),
    "privacy.WrongTries": Kept(
        Thing.HOUSE,
        Clock.DAYS,
        "N",
        _("How often a name was tried in vain, so that guessing is held off."),
        "id mark user count last_at held_until",
    ),
    "privacy.AccessEntry": Kept(
        Thing.HOUSE,
        Clock.LOG,
        "AK",
        _("Who looked at what kind of thing and when, never the value, so that misuse is noticed."),
        "seq at by verb kind key mac",
    ),
    "privacy.LogHead": Kept(
        Thing.HOUSE,
        Clock.PROJECT,
        "N",
        _("How far that log goes, so that a cut end is found."),
        "only seq mac",
    ),
    "privacy.LedgerHead": Kept(
        Thing.HOUSE,
        Clock.PROJECT,
        "N",
        _(
            "How far the list of erasings was applied, so that nobody comes back out of an "
            "old copy."
        ),
        "only seq mac cleared",
    ),
    "privacy.GoneFile": Kept(
        Thing.HOUSE,
        Clock.TASK,
        "N",
        _("Random names of files until they are gone."),
        "id folder name",
    ),
    "privacy.Posted": Kept(
        Thing.HOUSE,
        Clock.PROJECT,
        "N",
        _("That a form was sent, so that sending it twice stores it once."),
        "id token by at address",
    ),
    "privacy.Mending": Kept(
        Thing.HOUSE,
        Clock.PERSON,
        "A",
        _("What an entry said before it was mended and why, so that a mistake can be undone."),
        "id kind key about at by old why",
    ),
    "privacy.OutboxKey": Kept(
        Thing.HOUSE,
        Clock.PROJECT,
        "N",
        _("The pairs of keys to which telephones seal what is written without a signal."),
        "id public private made_at",
    ),
    "privacy.OutboxEntry": Kept(
        Thing.HOUSE,
        Clock.TASK,
        "AO",
        _("What came out of a telephone, so that it is taken in once."),
        "id state by written_at phone_at received_at about said",
    ),
    "sessions.Session": Kept(
        Thing.HOUSE,
        Clock.SESSION,
        "N",
        _("That somebody is signed in."),
        "session_key session_data expire_date",
    ),
    "contenttypes.ContentType": Kept(
        Thing.HOUSE,
        Clock.PROJECT,
        "N",
        _("The list of these tables, made by the framework; of nobody."),
        "id app_label model",
    ),
    "auth.Group": Kept(
        Thing.HOUSE,
        Clock.PROJECT,
        "N",
        _("Groups of accounts, which come with the framework; the site leaves this empty."),
        "id name permissions",
    ),
    "auth.Permission": Kept(
        Thing.HOUSE,
        Clock.PROJECT,
        "N",
        _("Names of permissions, which come with the framework; the site goes by roles alone."),
        "id name content_type codename",
    ),
}
