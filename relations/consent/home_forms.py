"""What may be typed where papers come home: files, a serial read from a page, whose it is."""

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField, SerialField
from relations.privacy.uploads import is_too_large

from .forms import NO_SCAN, ConsentForm


class FilesInput(forms.FileInput):
    """Any number of files, chosen at once."""

    allow_multiple_selected = True


class FilesField(forms.FileField):
    """Scans or photographs sent at once; gives their bytes, None for one let go as too large."""

    def __init__(self, **kwargs: Any) -> None:
        accept = "image/jpeg,image/png,image/tiff,image/webp,application/pdf"
        super().__init__(widget=FilesInput(attrs={"accept": accept, "data-shrink": True}), **kwargs)

    def clean(self, data: Any, initial: Any = None) -> list[bytes | None]:
        sent = data if isinstance(data, list) else [data]
        if not any(sent):
            raise forms.ValidationError(self.error_messages["required"], code="required")
        return [None if is_too_large(one) else one.read() for one in sent if one is not None]


class BringHomeForm(ConsentForm):
    """A stack of scans or photographs, in any order and turned any way."""

    press = _("Bring them home")
    about: ClassVar = dict.fromkeys(NO_SCAN, "scans")

    scans = FilesField(
        label=_("Scans or photographs"),
        help_text=_(
            "One PDF from the scanner, or several photographs, in any order. At most 25 MB at a "
            "time; send the rest as the next part."
        ),
    )


class PlaceForm(ConsentForm):
    """What somebody reads from a page that a machine could not place."""

    press = _("Put it there")
    about: ClassVar = {
        **dict.fromkeys(("shape", "mistyped", "no_such_paper", "not_expected"), "serial"),
        **dict.fromkeys(("already_filed", "erased_form", "no_form"), "serial"),
        **dict.fromkeys(("whose", "another_person"), "code"),
    }

    serial = SerialField(
        label=_("The serial on the paper"),
        help_text=_("Type it from the paper, never from a list."),
    )
    side = forms.IntegerField(
        label=_("Which side of the paper"), required=False, min_value=1, max_value=99
    )
    code = CodeField(
        label=_("Whose form it is"),
        required=False,
        help_text=_("Needed only where the form was printed for nobody yet."),
    )

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        said["person"] = self.somebody("code")
        return said


class WhoseForm(ConsentForm):
    """The person whose form a blank became."""

    press = _("It is theirs")
    about: ClassVar = {"another_person": "code"}

    code = CodeField(label=_("Whose form it is"), help_text=_("A person’s code."))

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        said["person"] = self.somebody("code")
        return said


class SetAsideForm(ConsentForm):
    """Why a page is set aside, and whose it is where it is a sheet of ours."""

    press = _("Set it aside")

    word = forms.CharField(
        label=_("What it is"),
        max_length=120,
        help_text=_("A few words, such as: a bill that lay in the stack. No names."),
    )
    code = CodeField(
        label=_("Whose sheet it is"),
        required=False,
        help_text=_("A person’s code. It goes with them when they are erased."),
    )

    def __init__(self, *args: Any, is_sheet: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not is_sheet:
            del self.fields["code"]

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        if "code" in self.fields:
            said["person"] = self.somebody("code")
        return said
