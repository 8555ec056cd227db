"""What became of an account, in the words of the page that tells it: sentences of %(who)s."""

from collections.abc import Mapping

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

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
