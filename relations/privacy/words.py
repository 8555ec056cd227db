"""What became of an account, in the words of the page that tells it."""

from collections.abc import Mapping

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

# By the verb of the access log; what is not here is not told.
BECAME: Mapping[str, str | Promise] = {
    "account_added": _("may sign in"),
    "role_changed": _("has another role"),
    "password_given": _("was given a new first password"),
    "password_changed": _("chose a new password"),
    "code_device_set_up": _("set up a device that shows codes"),
    "paper_renewed": _("made new codes on paper"),
    "phone_lost": _("lost the telephone"),
    "codes_lost": _("lost telephone and paper codes, and was given one new code"),
    "let_go": _("signs in no more"),
    "let_in": _("may sign in again"),
}
