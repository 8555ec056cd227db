"""Boxes shown as they stand on the paper, beside the fields in which they are read or settled."""

from collections.abc import Iterable, Mapping
from typing import Any

from django import forms
from django.template.loader import render_to_string
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from relations.documents.models import Layout
from relations.languages.forms import YesNo, YesNoField

from . import proposed
from .answer_forms import SettleForm
from .beside import Beside, Tile, size, tiles
from .forms import ConsentForm
from .proposed import Proposed
from .reading_forms import ReadForm
from .words import BOXES, NAME_FORMS, PLACE_WORDS, WAYS, WISHES

MARKED = [("yes", _("marked")), ("no", _("not marked"))]
# What a box is called beside its picture.
PARTS: Mapping[str, Mapping[str, Any]] = {
    "way": WAYS,
    "name_form": NAME_FORMS,
    "place_word": PLACE_WORDS,
    "if_cannot_answer": WISHES,
    "if_died": WISHES,
}
_ANSWERS = {"yes": _("yes"), "no": _("no")}
ALONE = (*proposed.OPENS, *proposed.HOLDS_BACK)


class BesideForm(ConsentForm):
    """A form whose fields stand beside the boxes of the paper; `why` says why some do not.

    `seen` is what was found on the scans when the page was opened; sent back, the page itself says
    which pages those were. `picture` is the address of the picture that holds all boxes.
    """

    found = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, layout: Layout | None, picture: str, seen: Beside | None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.layout, self.picture = layout, picture
        pages = "".join(map(str, sorted(seen.pages))) if seen else self.data.get("found", "")
        self.fields["found"].initial = pages
        there = layout.boxes if layout else {}
        self.pages = {int(page) for page in pages if page in there}

    @property
    def why(self) -> str:
        """Why not every box is shown: "no_layout", "not_found", "in_part", or ""."""
        if self.layout is None:
            return "no_layout"
        if len(self.pages) >= len(self.layout.boxes):
            return ""
        return "in_part" if self.pages else "not_found"

    def put_beside(self, fields: Mapping[str, str]) -> None:
        """Put the boxes of each reading ("uses.web") beside the field of that name."""
        every = tiles(self.layout)
        width, height = size(every)
        shown = [tile for tile in every if tile.page in self.pages]
        for box, name in fields.items():
            beside = [(tile, _words(tile)) for tile in shown if tile.box == box]
            if beside:
                context = {"shown": beside, "picture": self.picture}
                self.fields[name].beside = render_to_string(  # type: ignore[attr-defined] # ours
                    "consent/_on_paper.html", {**context, "width": width, "height": height}
                )


def _words(tile: Tile) -> Any:
    """What the box stands for; nothing where the label beside it says so."""
    if tile.box in proposed.PAIRS:
        return _ANSWERS[tile.part]
    return PARTS[tile.box][tile.part] if tile.part else ""


def field_of(box: str) -> str:
    """The field of a reading for a box ("uses.web" is read in "use_web")."""
    return box.replace("uses.", "use_")


class FirstReadForm(BesideForm, ReadForm):
    """The first reading beside the boxes: what opens nothing is filled in, a yes never is."""

    left_open = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, seen: Beside | None, **kwargs: Any) -> None:
        super().__init__(*args, seen=seen, **kwargs)
        start = seen.proposed() if seen else {}
        for box, one in start.items():
            self._fill(box, one)
        is_open = [box for box, one in start.items() if one.is_open]
        self.fields["left_open"].initial = " ".join(is_open)
        self._ask(is_open if seen else self.data.get("left_open", "").split())
        self.put_beside({box: field_of(box) for box in proposed.ALL})

    def _fill(self, box: str, one: Proposed) -> None:
        """Let stand what opens nothing, and say what else is seen."""
        field = self.fields[field_of(box)]
        if not one.is_open:
            field.initial = _initial(box, one.answer)
        field.help_text = _saw(box, one)

    def _ask(self, boxes: Iterable[str]) -> None:
        """Ask for each of these, also where nothing pressed would be an answer by hand."""
        for box in boxes:
            if box in ALONE:
                self.fields[box] = _Marked(label=BOXES[box], help_text=self.fields[box].help_text)
            elif box in ("may_keep", "copy_kept"):
                said = self.fields[box].help_text
                self.fields[box] = YesNoField(label=BOXES[box], required=True, help_text=said)


class _Marked(forms.TypedChoiceField):
    """Whether one box is marked, to be pressed either way; gives True or False."""

    answers_itself = True

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(choices=MARKED, coerce="yes".__eq__, widget=forms.RadioSelect, **kwargs)


def _initial(box: str, answer: Any) -> Any:
    if box.startswith("uses."):
        return "blank" if answer is None else "no"
    if box in proposed.PAIRS:
        return YesNo.NOT_SAID if answer is None else YesNo.NO
    return answer


def _saw(box: str, one: Proposed) -> str:
    """What is said of a box before a person has looked."""
    if one.saw == proposed.UNSURE:
        if one.is_open:
            return gettext("Not clear on the scan. Press what you see.")
        return gettext("Not clear on the scan: it stands as not marked.")
    if one.saw == "mark":
        return gettext("A mark is seen here. Press what you see.")
    if not one.saw:
        return ""
    what = PARTS[box][one.saw] if box in PARTS else _ANSWERS[one.saw]
    return gettext("A mark is seen at “%(what)s”. Press what you see.") % {"what": what}


class SettleBesideForm(BesideForm, SettleForm):
    """Only what differs, each box beside its picture; none is filled in."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.put_beside({held["box"]: name for name, held in self.held.items()})
