"""What may be typed on the pages of sittings and pictures."""

import re
from collections.abc import Sequence
from copy import deepcopy
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.codes import tidy
from relations.languages.forms import CodeField, Group, NoteField
from relations.meetings.forms import MeetingForm
from relations.people.access import people
from relations.people.forms import PastDayField
from relations.people.hold_forms import LiftForm as LiftPersonForm
from relations.people.models import Participant
from relations.privacy.models import User
from relations.privacy.refused import Refused
from relations.privacy.uploads import is_too_large

from . import queries
from .models import Appearance, FilmSheet, Picture, Quote, Sitting
from .values import Others, PlaceWord, Recognisable
from .words import OTHERS, PLACES, RECOGNISABLE, REFUSED

LEAKS_ABOUT = {
    f"{field}_leaks{where}": field
    for field in ("alt_text", "file_name")
    for where in ("", "_elsewhere")
}
COPY_ABOUT = dict.fromkeys(("not_a_picture", "too_many_pixels", "broken"), "light_copy")


class PictureRoomForm(MeetingForm):
    """A form of this room: what its actions refuse is said in this room's words."""

    refusals: ClassVar = REFUSED

    def known(self, user: User, field: str) -> list[Participant]:
        """The people in sight whose codes were typed; one unknown code is an error."""
        typed = [tidy(one) for one in re.split(r"[\s,;،؛]+", self.cleaned_data[field]) if one]
        found = {person.code: person for person in people(user).filter(code__in=typed)}
        if set(typed) - set(found):
            self.add_error(field, _("Look at this code again."))
        return [found[code] for code in typed if code in found]

    def copy(self) -> Any:
        """The uploaded light copy; one that went beyond the limit is an error."""
        upload = self.cleaned_data.get("light_copy")
        if upload and is_too_large(upload):
            self.add_error("light_copy", str(REFUSED["too_large"]))
        return upload


class WordsForm(PictureRoomForm):
    """A form with words that go out; they are looked through for names that are never printed."""

    about: ClassVar = LEAKS_ABOUT

    # Asked only once a name was found that may be another person's.
    means_another = forms.BooleanField(
        label=_("The name in it is another person’s"), required=False, widget=forms.HiddenInput
    )

    def refuse(self, refused: Refused) -> None:
        if any(code.endswith("_elsewhere") for code in refused.codes):
            asked = self.fields["means_another"] = self.fields.pop("means_another")
            asked.widget = forms.CheckboxInput()
        super().refuse(refused)

    @property
    def means(self) -> bool:
        """Whether a name that was found is another person's."""
        return bool(self.cleaned_data["means_another"])


class PictureForm(WordsForm):
    """A picture with everyone in the frame, from left to right, and its light copy."""

    about: ClassVar = {
        "code_taken": "code",
        **dict.fromkeys(("other_sitting", "not_in_whole"), "crop_of"),
        **COPY_ABOUT,
        **LEAKS_ABOUT,
    }

    code = CodeField(label=_("Code of the picture"), max_length=12)
    made_on = PastDayField(label=_("Made on"))
    others = forms.ChoiceField(
        label=_("Is anybody else recognisable, also in a picture inside the picture?"),
        choices=[one for one in OTHERS.items() if one[0] != Others.ERASED],
        widget=forms.RadioSelect,
        initial=Others.UNRESOLVED,
    )
    sheet = forms.ModelChoiceField(FilmSheet.objects.none(), label=_("Sheet"), required=False)
    crop_of = forms.ModelChoiceField(Picture.objects.none(), label=_("Crop of"), required=False)
    place_word = forms.ChoiceField(
        label=_("What it tells of the place"),
        choices=list(PLACES.items()),
        initial=PlaceWord.NONE,
    )
    alt_text = forms.CharField(
        label=_("In words, for those who do not see it"), required=False, max_length=240
    )
    file_name = forms.CharField(
        label=_("Name of the file"),
        required=False,
        max_length=80,
        help_text=_("No name of a person stands in it."),
    )
    light_copy = forms.FileField(
        label=_("Light copy"),
        required=False,
        help_text=_("JPEG, PNG or WebP, at most 25 MB. It is kept small and sealed."),
        widget=forms.FileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
    )

    def __init__(self, *args: Any, sitting: Sitting, sitters: list[Participant], **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.sitters = sitters
        self.fields["made_on"].initial = sitting.on
        self.fields["sheet"].queryset = queries.sheets(sitting)  # type: ignore[attr-defined]
        self.fields["sheet"].label_from_instance = lambda row: row.number  # type: ignore[attr-defined]
        self.fields["crop_of"].queryset = queries.pictures_of(sitting)  # type: ignore[attr-defined]
        for place, person in enumerate(sitters, start=1):
            self.fields[f"place_{person.code}"] = forms.IntegerField(
                label=_("Place from the left"),
                required=False,
                min_value=1,
                max_value=60,
                initial=place,
                help_text=_("Empty: not in this frame."),
            )
            self.fields[f"recognisable_{person.code}"] = forms.ChoiceField(
                label=_("Can they be recognised?"),
                required=False,
                choices=list(RECOGNISABLE.items()),
                widget=forms.RadioSelect,
                initial=Recognisable.UNSURE,
            )

    def groups(self) -> Sequence[Group | str]:
        """The frame first; everybody under their code."""
        frame = [
            Group(
                _("Person %(code)s") % {"code": person.code},
                f"place_{person.code}",
                f"recognisable_{person.code}",
            )
            for person in self.sitters
        ]
        return ("code", "made_on", *frame, "others", "sheet", "crop_of")

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        self.copy()
        return data

    @property
    def in_frame(self) -> list[tuple[Participant, int, str]]:
        """Everybody in the frame, as `actions.add_picture` takes them; unsure where not said."""
        data = self.cleaned_data
        return [
            (person, place, data[f"recognisable_{person.code}"] or Recognisable.UNSURE)
            for person in self.sitters
            if (place := data[f"place_{person.code}"])
        ]

    @property
    def noted(self) -> dict[str, Any]:
        """What `actions.add_picture` takes of the rest."""
        names = ("code", "made_on", "others", "sheet", "crop_of", "place_word", "alt_text")
        said = self.typed_in(*names, "file_name", "means_another")
        return {**said, "light_copy": self.copy()}


class LightCopyForm(PictureRoomForm):
    """Another light copy."""

    about: ClassVar = COPY_ABOUT
    light_copy = PictureForm.base_fields["light_copy"]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["light_copy"].required = True

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        self.copy()
        return data


class MendPictureForm(WordsForm):
    """What is noted of a picture, put right; what stood there stays readable."""

    press = _("Mend")
    names: tuple[str, ...] = ("others", "place_word", "alt_text", "file_name")

    def __init__(
        self, *args: Any, picture: Picture, appearances: list[Appearance], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.picture, self.appearances = picture, appearances
        if picture.others == Others.ERASED:
            self.names = tuple(name for name in self.names if name != "others")
        for name in self.names:
            self.fields[name] = deepcopy(PictureForm.base_fields[name])
            self.fields[name].initial = getattr(picture, name)
        for one in appearances:
            self.fields[f"recognisable_{one.person.code}"] = forms.ChoiceField(
                label=_("Can %(code)s be recognised?") % {"code": one.person.code},
                choices=list(RECOGNISABLE.items()),
                widget=forms.RadioSelect,
                initial=one.recognisable,
            )

    @property
    def changes(self) -> dict[str, Any]:
        """The fields of the picture whose value is another one now."""
        said = self.typed_in(*self.names).items()
        return {name: new for name, new in said if new != getattr(self.picture, name)}

    @property
    def judged(self) -> dict[Appearance, str]:
        """Those who were judged otherwise."""
        data = self.cleaned_data
        said = {one: data[f"recognisable_{one.person.code}"] for one in self.appearances}
        return {one: new for one, new in said.items() if new != one.recognisable}


class CaptionForm(WordsForm):
    """The words under a picture: any change is a new version."""

    about: ClassVar = {
        **dict.fromkeys(("nothing_changed", "caption_leaks"), "words_under"),
        "caption_leaks_elsewhere": "words_under",
    }
    press = _("Write this version")
    words_under = NoteField(label=_("Words"), max_length=400, required=False)
    quotes = forms.ModelMultipleChoiceField(
        Quote.objects.none(),
        label=_("Quotes in it"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, *args: Any, picture: Picture, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        quotes, now = queries.quotes_in(picture), queries.newest_caption(picture)
        if quotes:
            self.fields["quotes"].queryset = quotes  # type: ignore[attr-defined]
        else:
            del self.fields["quotes"]
        if now:
            self.fields["words_under"].initial = now.words

    @property
    def written(self) -> dict[str, Any]:
        """What `actions.write_caption` takes."""
        data = self.cleaned_data
        return {
            "words": data["words_under"],
            "quotes": data.get("quotes") or (),
            "means_another": self.means,
        }


class HoldForm(PictureRoomForm):
    """One press: nothing happens with this picture until somebody has looked."""

    press = _("Hold")
    look = "stopbtn"


class LiftForm(PictureRoomForm, LiftPersonForm):
    """The sentence without which no hold is lifted."""
