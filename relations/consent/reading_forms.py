"""What may be typed while a form is read, or a paper from before the site is brought in."""

import re
from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import (
    CodeField,
    DayField,
    Group,
    NameField,
    NoteField,
    SerialField,
    TicksField,
    YesNoField,
)
from relations.languages.said import listed
from relations.languages.templatetags.words import ltr
from relations.pictures.models import Sitting

from .boxes import BLANK
from .countries import territories
from .forms import NO_SCAN, ConsentForm, ScanField
from .kinds import default_way
from .values import FormKind, Use
from .words import BOXES, LINES, NAME_FORMS, PLACE_WORDS, USES, WAYS, WISHES

MARKS = [("yes", _("yes")), ("no", _("no")), ("blank", _("blank or both"))]


class CountriesField(forms.CharField):
    """Countries by their two letters or their names, parted by commas; gives sorted codes."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("required", False)
        super().__init__(max_length=400, **kwargs)

    def clean(self, value: Any) -> list[str]:
        typed = super().clean(value)
        names = territories()
        known = {name.casefold(): code for code, name in names.items()}
        found, unknown = set(), []
        for word in filter(None, map(str.strip, re.split(r"[,;،؛\n]", typed))):
            code = word.upper() if word.upper() in names else known.get(word.casefold())
            found.add(code) if code else unknown.append(word)
        if unknown:
            raise forms.ValidationError(
                _("No country is called this: %(words)s. Write FR or France."),
                code="unknown",
                params={"words": listed(unknown)},
            )
        return sorted(code for code in found if code)


def _choice(box: str, words: dict[str, Any], **how: Any) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=BOXES[box], choices=list(words.items()), widget=forms.RadioSelect, **how
    )


def _tick(box: str) -> forms.BooleanField:
    return forms.BooleanField(label=BOXES[box], required=False)


class ReadForm(ConsentForm):
    """Every box of the paper, none filled in beforehand: it is read, not confirmed."""

    press = _("This is what I read")
    about: ClassVar = {"day_in_future": "given_on", "days_cross": "last_day"}

    way = _choice("way", WAYS)
    given_on = DayField(label=BOXES["given_on"], required=False)
    copy_kept = YesNoField(label=BOXES["copy_kept"])
    lines_missing = TicksField(label=BOXES["lines_missing"], choices=list(LINES.items()))
    may_keep = YesNoField(label=BOXES["may_keep"])
    only_countries = CountriesField(label=BOXES["only_countries"])
    only_nowhere = forms.BooleanField(
        label=_("“Only in these countries” is marked, and no country is written"), required=False
    )
    not_countries = CountriesField(label=BOXES["not_countries"])
    seen_everywhere = _tick("seen_everywhere")
    first_day = DayField(label=BOXES["first_day"], required=False)
    last_day = DayField(label=BOXES["last_day"], required=False)
    name_form = _choice("name_form", NAME_FORMS)
    agreed_name = NameField(label=BOXES["agreed_name"], required=False)
    place_word = _choice("place_word", PLACE_WORDS)
    no_face = _tick("no_face")
    show_first = _tick("show_first")
    approves_captions = _tick("approves_captions")
    if_cannot_answer = _choice("if_cannot_answer", WISHES)
    if_died = _choice("if_died", WISHES)
    own_condition = NoteField(label=BOXES["own_condition"], required=False, max_length=400)
    childs_answer = YesNoField(label=BOXES["childs_answer"])

    def __init__(
        self,
        *args: Any,
        sittings: Iterable[Sitting] | None = None,
        kind: str = FormKind.ADULT,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        # The paper of such a kind has no box for it: the way follows from what was printed.
        self.fields["way"].initial = default_way(FormKind(kind))
        for use, words in USES.items():
            self.fields[f"use_{use}"] = forms.ChoiceField(
                label=words, choices=MARKS, widget=forms.RadioSelect
            )
        self.sittings = None if sittings is None else {str(one.pk): one for one in sittings}
        if self.sittings is not None:
            self.fields["sittings"] = sittings_field(self.sittings)

    def groups(self) -> list[Group | str]:
        before = ["sittings"] if self.sittings is not None else []
        giving = ["way", "given_on", "copy_kept", "lines_missing"]
        care = ["no_face", "show_first", "approves_captions"]
        return [
            Group(_("How and when"), *before, *giving),
            Group(_("The pictures made"), "may_keep"),
            Group(_("Uses, line by line"), *(f"use_{use}" for use in Use), ticks=True),
            Group(_("Where"), "only_countries", "only_nowhere", "not_countries", "seen_everywhere"),
            Group(_("When"), "first_day", "last_day"),
            Group(_("Name and place"), "name_form", "agreed_name", "place_word"),
            Group(_("What they ask"), *care, "own_condition"),
            Group(_("If they cannot answer"), "if_cannot_answer", "if_died"),
            Group(_("Where a child is asked"), "childs_answer"),
        ]

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        if said.get("name_form") == "pseudonym" and not said.get("agreed_name"):
            self.add_error("agreed_name", _("Write the agreed name as it stands on the form."))
        if said.get("only_nowhere") and said.get("only_countries"):
            self.add_error("only_nowhere", _("A country is written, so this is not marked."))
        return said

    @property
    def answers(self) -> dict[str, Any]:
        """The boxes as a reading keeps them."""
        said = self.cleaned_data
        answers = {key: said[key] for key in BLANK if key in said}
        only = said["only_countries"]
        child = {True: "yes", False: "no", None: ""}[said["childs_answer"]]
        return {
            **answers,
            "uses": [use.value for use in Use if said[f"use_{use}"] == "yes"],
            "only_countries": only if only or said["only_nowhere"] else None,
            "childs_answer": child,
        }

    @property
    def chosen_sittings(self) -> list[Sitting] | None:
        """The sittings it speaks of, where that was asked."""
        if self.sittings is None:
            return None
        return [self.sittings[key] for key in self.cleaned_data["sittings"]]


def sittings_field(sittings: dict[str, Sitting]) -> TicksField:
    """Which sittings a form speaks of; none is ticked beforehand."""
    return TicksField(
        label=_("Which sittings does it speak of?"),
        choices=[(key, ltr(one.code)) for key, one in sittings.items()],
        help_text=_("The pictures of a sitting that is not ticked are not covered by this form."),
    )


class FromBeforeForm(ReadForm):
    """A paper from before the site: its serial, whose it is, and every box on it."""

    press = _("Bring it in")
    about: ClassVar = {
        **ReadForm.about,
        **dict.fromkeys(("shape", "mistyped", "serial_taken"), "serial"),
        **dict.fromkeys(NO_SCAN, "scan"),
        "filed_under_another": "scan",
    }

    serial = SerialField(label=_("The serial on the paper"))
    code = CodeField(label=_("Whose form it is"))
    language = forms.CharField(
        label=_("The language they read or heard it in"),
        max_length=12,
        help_text=_("Its short code, such as fr or pt."),
        widget=forms.TextInput(attrs={"class": "short", "dir": "ltr", "autocomplete": "off"}),
    )
    sitting_codes = forms.CharField(
        label=_("Which sittings does it speak of?"),
        required=False,
        max_length=200,
        help_text=_("Their codes, parted by commas, such as 12/T2, G1."),
    )
    wording_was_read = forms.BooleanField(
        label=_("A second person read this language version before it was used"), required=False
    )
    scan = ScanField(
        label=_("The scan, if it is here"),
        required=False,
        help_text=_("Without a scan the form is not filed, and opens nothing."),
    )

    def groups(self) -> list[Group | str]:
        paper = ["serial", "code", "language", "sitting_codes", "wording_was_read", "scan"]
        return [Group(_("The paper"), *paper), *super().groups()]

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        said["person"] = self.somebody("code")
        if not said.get("given_on"):
            self.add_error("given_on", _("A paper from before needs its day."))
        codes = {code for code in re.split(r"[\s,;،؛]+", said.get("sitting_codes", "")) if code}
        if said["person"] is not None:
            theirs = {one.code: one for one in said["person"].sittings.all()}
            if unknown := sorted(codes - set(theirs)):
                self.add_error(
                    "sitting_codes",
                    _("They did not sit there: %(codes)s.") % {"codes": listed(unknown)},
                )
            said["of_sittings"] = [theirs[code] for code in codes if code in theirs]
        return said
