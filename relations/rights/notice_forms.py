"""What is chosen before the notice of what is kept is printed."""

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.consent.sheet_forms import PaperForm


class NoticeForm(PaperForm):
    """The two languages, and whether the paper says whose the project is."""

    names_project = forms.BooleanField(
        label=_("Print the name of the project"),
        required=False,
        help_text=_("Leave it out where the paper could be found on them: then a line stays free."),
    )
