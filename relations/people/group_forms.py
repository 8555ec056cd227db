"""What may be typed about a group."""

from django import forms
from django.utils.translation import gettext_lazy as _

from .forms import PersonForm

# More than anybody sits for; it keeps a slip of the keys off the page.
MOST = 9999


class HopeForm(PersonForm):
    """How many sitters of a group are hoped for; empty is not said."""

    hoped_for = forms.IntegerField(
        label=_("How many sitters we hope for"),
        min_value=0,
        max_value=MOST,
        required=False,
        help_text=_("Leave it empty where you do not count. It is for your eyes only."),
    )
