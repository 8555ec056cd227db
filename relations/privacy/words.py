"""What became of an account, in sentences of %(who)s; and what the calendars are called."""

from collections.abc import Mapping

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from relations.languages.local_calendars import Calendar

# By the verb of the access log; what is not here is not told.
BECAME: Mapping[str, str | Promise] = {
    "account_added": _("%(who)s may sign in."),
    "role_changed": _("%(who)s has another role."),
    "password_given": _("%(who)s was given a new first password."),
    "password_changed": _("%(who)s chose a new password."),
    "code_device_set_up": _("%(who)s set up a device that shows codes."),
    "paper_renewed": _("%(who)s made new codes on paper."),
    "phone_lost": _("%(who)s lost the telephone."),
    "codes_lost": _("%(who)s lost telephone and paper codes, and was given one new code."),
    "let_go": _("%(who)s signs in no more."),
    "let_in": _("%(who)s may sign in again."),
}

# Of a user's second calendar and of a person's own.
CALENDARS: Mapping[str, str | Promise] = {
    Calendar.GREGORIAN: _("none beside the Gregorian one"),
    Calendar.BIKRAM_SAMBAT: _("Bikram Sambat"),
    Calendar.HIJRI: _("Hijri (Umm al-Qura)"),
    Calendar.SOLAR_HIJRI: _("Solar Hijri"),
    Calendar.ETHIOPIAN: _("Ethiopian"),
    Calendar.BUDDHIST: _("Buddhist (Thailand)"),
}
