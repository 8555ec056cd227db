"""What is typed to erase somebody: their code, and one press."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField

from . import access
from .forms import RightsForm


class WhomForm(RightsForm):
    """The code of a person, as the artist or the person themselves told it."""

    press = _("Go on")
    code = CodeField(label=_("Code of the person"))

    def clean_code(self) -> str:
        code = str(self.cleaned_data["code"])
        if not access.is_known(code):
            raise ValidationError(_("Nobody has this code. Look at it again."), code="unknown")
        return code


class EraseForm(RightsForm):
    """The last press; a tick says that it was read."""

    press = _("Erase for good")
    look = "stopbtn"
    was_read = forms.BooleanField(
        label=_("I have read what goes and what stays. Nothing brings it back."),
        error_messages={"required": _("Read it, then tick it.")},
    )
