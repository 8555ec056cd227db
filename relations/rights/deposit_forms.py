"""In which country the archive is."""

from django.utils.translation import gettext_lazy as _

from relations.languages.forms import PlainForm
from relations.uses.forms import CountriesField


class DepositForm(PlainForm):
    """Where the archive is: a yes may be for some countries only."""

    method = "get"
    press = _("Look")
    countries = CountriesField(
        label=_("Country of the archive"),
        help_text=_("Two letters, such as FR. Empty asks for a yes to an archive anywhere."),
    )
    look = ""
