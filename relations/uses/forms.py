"""What may be typed on the pages of uses: plans, what is shown, and a stop."""

import re
from typing import Any, ClassVar, cast
from uuid import UUID, uuid5

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.consent.countries import territories
from relations.consent.values import NameForm, Use
from relations.consent.words import NAME_FORMS, USES
from relations.languages.direction import isolated
from relations.languages.forms import CodeField, DayField, PlainForm, TicksField
from relations.languages.said import listed
from relations.people.forms import NoteLine, PastDayField
from relations.people.models import Participant
from relations.people.search import by_code
from relations.pictures.models import Caption, Picture
from relations.privacy.answering import ActionForm
from relations.privacy.home import today

from .models import PlannedPicture, PlannedUse, UndoLine
from .words import REFUSED

# Short enough to be said by telephone and kept in a list.
CODE_SIGNS, LINE_SIGNS = 8, 80


class UsesForm(ActionForm, PlainForm):
    """A form of this room: what its actions refuse is said in this room's words."""

    refusals: ClassVar = REFUSED
    about: ClassVar = {
        "code_taken": "code",
        "ends_before": "ends_on",
        "no_country": "countries",
        "no_holder": "holder",
        "no_picture": "pictures",
        "before_the_stop": "on",
    }


class LineField(NoteLine):
    """One line that is asked for, short enough for a list."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**{"required": True, "max_length": LINE_SIGNS, **kwargs})


class CountriesField(forms.CharField):
    """Two-letter codes of countries, parted by spaces or commas; empty gives None, the world."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("required", False)
        kwargs.setdefault("help_text", _("Two letters each, such as FR BE. Empty is the world."))
        super().__init__(max_length=200, **kwargs)
        self.widget.attrs.update({"dir": "ltr", "autocomplete": "off", "class": "short"})

    def clean(self, value: Any) -> list[str] | None:
        """The codes in order; an unknown one is named in the error."""
        typed = re.split(r"[\s,;،؛]+", str(super().clean(value) or "").upper().strip())
        found = sorted({code for code in typed if code})
        known = territories("en")
        if unknown := [code for code in found if code not in known]:
            raise ValidationError(
                _("No country has the letters %(codes)s."),
                code="country",
                params={"codes": listed(unknown)},
            )
        return found or None


class PicturesField(TicksField):
    """Pictures by code; gives the rows."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(choices=self._codes, **kwargs)

    @staticmethod
    def _codes() -> list[tuple[str, str]]:
        return [(code, code) for code in Picture.objects.values_list("code", flat=True)]

    def clean(self, value: Any) -> list[Picture]:
        """The pictures whose boxes were ticked."""
        return list(Picture.objects.filter(code__in=super().clean(value)))


def use_field() -> forms.ChoiceField:
    """One of the eleven uses."""
    return forms.ChoiceField(label=_("Use"), choices=[(use.value, USES[use]) for use in Use])


class PlanForm(UsesForm):
    """A use that somebody wants pictures for."""

    press = _("Note the plan")
    code = CodeField(
        label=_("Code"), max_length=CODE_SIGNS, help_text=_("Such as E2 for the second wall.")
    )
    use = use_field()
    place = LineField(label=_("Where"), required=False)
    countries = CountriesField(label=_("Countries"))
    starts_on = DayField(label=_("First day, or press day"))
    ends_on = DayField(
        label=_("Last day"), required=False, help_text=_("Empty where no end is agreed.")
    )
    one_day = forms.BooleanField(label=_("It lasts one day only"), required=False)
    paper_only = forms.BooleanField(label=_("Press: on paper only"), required=False)
    captions = forms.BooleanField(label=_("Captions are shown"), required=False, initial=True)
    files_with = LineField(label=_("Files would go to"), required=False)
    KEPT = (
        *("code", "use", "place", "countries", "starts_on", "ends_on", "one_day", "paper_only"),
        *("captions", "files_with"),
    )


class PicturesForm(UsesForm):
    """Which pictures are asked for in a plan; an unticked one is left out."""

    press = _("Ask for these")
    pictures = PicturesField(label=_("Pictures"))


class NamesForm(UsesForm):
    """How each sitter is named in a plan, one field a person."""

    press = _("Name them so")
    # What may be chosen besides the forms of a name.
    UNSAID: tuple[tuple[str, Any], ...] = ()

    def __init__(self, *args: Any, sitters: list[tuple[Participant, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.sitters = {person.code: person for person, _named in sitters}
        for person, named in sitters:
            self.fields[f"name-{person.code}"] = forms.ChoiceField(
                label=f"{person.code} · {isolated(person.call_name)}",
                choices=[*self.UNSAID, *((form.value, NAME_FORMS[form]) for form in NameForm)],
                initial=named or ("" if self.UNSAID else NameForm.NONE),
                required=not self.UNSAID,
            )

    def named(self) -> list[tuple[Participant, str]]:
        """Each sitter with how they are to be named."""
        return [(one, self.cleaned_data[f"name-{code}"]) for code, one in self.sitters.items()]


class WordsForm(NamesForm):
    """With which words one picture of a plan is shown, and how it names those in it."""

    press = _("Show it so")
    captioned = forms.ChoiceField(
        label=_("Caption"),
        required=False,
        choices=[
            ("", _("as the plan says")),
            (PlannedPicture.Captioned.SHOWN, pgettext_lazy("a caption", "shown")),
            (PlannedPicture.Captioned.NONE, pgettext_lazy("a caption", "none")),
        ],
    )
    caption = forms.ModelChoiceField(
        Caption.objects.none(), label=_("Which words"), required=False, empty_label=_("the newest")
    )
    UNSAID = (("", _("as the plan says")),)

    def __init__(self, *args: Any, asked: PlannedPicture, **kwargs: Any) -> None:
        said = {"captioned": asked.captioned, "caption": asked.caption_id}
        super().__init__(*args, initial=said, **kwargs)
        words = cast("forms.ModelChoiceField[Caption]", self.fields["caption"])
        words.queryset = asked.picture.captions.order_by("-written_at", "-version")

    def worded(self) -> dict[str, Any]:
        """All of it, as `actions.word` takes it."""
        return {**self.typed_in("captioned", "caption"), "names": dict(self.named())}


class ShownForm(UsesForm):
    """A line of the use register; nothing goes out without somebody who can be rung about it."""

    press = _("Keep in the register")
    code = CodeField(label=_("Code"), max_length=CODE_SIGNS, help_text=_("Such as U6."))
    use = use_field()
    plan = forms.ModelChoiceField(
        PlannedUse.objects.filter(dropped_on=None),
        label=_("Plan it comes from"),
        required=False,
        empty_label=_("None"),
    )
    pictures = PicturesField(label=_("Pictures"))
    place = LineField(label=_("Where"))
    countries = CountriesField(label=_("Countries"))
    starts_on = DayField(label=_("First day"))
    ends_on = DayField(label=_("Last day"), required=False)
    press_day = DayField(label=_("Press day of a book"), required=False)
    copies = forms.IntegerField(label=_("Copies"), required=False, min_value=1)
    holder = LineField(
        label=_("Who holds the files"),
        help_text=_("The one to ring when somebody takes a picture back."),
    )
    reach_holder = LineField(label=_("How to reach them"), required=False)
    KEPT = (
        *("code", "use", "plan", "pictures", "place", "countries", "starts_on", "ends_on"),
        *("press_day", "copies", "holder", "reach_holder"),
    )


class MendShownForm(UsesForm):
    """What became of a use: where it is now, until when, how many copies, who holds the files."""

    press = _("Keep")
    place = LineField(label=_("Where"))
    ends_on = DayField(
        label=_("Last day"), required=False, help_text=_("Empty as long as it goes on.")
    )
    press_day = DayField(label=_("Press day of a book"), required=False)
    copies = forms.IntegerField(label=_("Copies"), required=False, min_value=1)
    holder = LineField(
        label=_("Who holds the files"),
        help_text=_("The one to ring when somebody takes a picture back."),
    )
    reach_holder = LineField(label=_("How to reach them"), required=False)


class WhomForm(UsesForm):
    """Whose stop it is, by the code that was said."""

    press = _("Go on")
    code = CodeField(label=_("Code of the person"))

    def clean_code(self) -> Participant:
        """The person; that nobody has this code is said in the same words to everybody."""
        found = by_code(self.cleaned_data["code"])
        if not found:
            raise ValidationError(_("Nobody was found by this code."), code="nobody")
        return found[0]


class StopForm(UsesForm):
    """One press: everything, one use, or one picture."""

    look = "stopbtn"
    what = forms.RegexField(
        r"^(all|use:[a-z_]{1,12}|picture:[0-9A-Za-z-]{1,12})$", label=_("What is taken back")
    )
    said_on = PastDayField(label=_("Said on"), required=False)

    @property
    def token(self) -> UUID:
        """One token for each press of the page: a second no is never taken for the first."""
        return uuid5(super().token, self.data["what"])

    def clean_said_on(self) -> Any:
        """The day it was said, today where none was typed."""
        return self.cleaned_data["said_on"] or today()

    def clean_what(self) -> dict[str, Any]:
        """The scope with its use or picture, as `consent.actions.take_back` takes them."""
        scope, _colon, named = self.cleaned_data["what"].partition(":")
        if scope == "use" and named not in set(Use):
            raise ValidationError(REFUSED["scope"], code="scope")
        picture = Picture.objects.filter(code=named).first() if scope == "picture" else None
        if scope == "picture" and picture is None:
            raise ValidationError(REFUSED["not_in_it"], code="not_in_it")
        return {"scope": scope, "use": named if scope == "use" else "", "picture": picture}


class StopUnseenForm(StopForm):
    """The same press for somebody out of sight: the code that was said travels with it."""

    code = CodeField(widget=forms.HiddenInput)
    clean_code = WhomForm.clean_code


class UndoForm(UsesForm):
    """One press on a line to undo."""

    what = forms.ChoiceField(
        label="", choices=[("done", ""), ("cannot", ""), ("told", ""), ("holder", "")]
    )

    def __init__(self, *args: Any, line: UndoLine, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.line = line

    @property
    def token(self) -> UUID:
        """All lines of a page share its token, so each press makes its own out of it."""
        return uuid5(super().token, f"{self.line.pk} {self.data['what']}")


class ToldForm(UsesForm):
    """They were told of all that stands here."""

    press = _("Told them all of it")
