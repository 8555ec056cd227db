"""What may be chosen where a drawing is put on paper."""

from django import forms
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.languages.forms import PlainForm

from .papers import Paper, Sheets


class PaperForm(PlainForm):
    """On which paper, by code or by name, on one sheet or on as many as it takes."""

    press = _("Make the PDF")

    paper = forms.ChoiceField(
        label=_("Paper"),
        choices=[(Paper.A4, "A4"), (Paper.A3, "A3")],
        initial=Paper.A4,
        widget=forms.RadioSelect,
    )
    labels = forms.ChoiceField(
        label=_("Beside each mark"),
        choices=[("codes", _("The code")), ("names", _("The name"))],
        initial="codes",
        widget=forms.RadioSelect,
        help_text=_("A sheet with names tells whoever finds it everything."),
    )
    sheets = forms.ChoiceField(
        label=pgettext_lazy("of paper", "Sheets"),
        choices=[
            (Sheets.MANY, _("As many as it takes, everybody labelled")),
            (Sheets.ONE, _("One, and only those labelled through whom most were reached")),
        ],
        initial=Sheets.MANY,
        widget=forms.RadioSelect,
    )
