"""What each kind of form holds where it is given and signed: its lines, boxes and places."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from relations.documents.columns import Line, Pair, labelled

from .completeness import Way
from .values import FormKind


class Place(NamedTuple):
    """One place to sign or mark: its labels, the boxes in it, whether the languages stand there.

    A box is named by its id; its label is the one of `BOXES`, or the id itself. A row of low
    places is for figures and marks alone.
    """

    labels: tuple[str, ...] = ()
    boxes: tuple[str, ...] = ()
    names_languages: bool = False
    is_low: bool = False


class Giving(NamedTuple):
    """Points 14 and 15 of one kind: `ways` may be chosen from, or the only one is printed."""

    ways: tuple[Way, ...]
    rows: tuple[tuple[Place, Place, Place], ...]
    notes: tuple[str, ...] = ()
    boxes: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()

    @property
    def labels(self) -> set[str]:
        """Every label that a wording must have for this kind."""
        places = [place for row in self.rows for place in row]
        boxes = [*self.boxes, *(box for place in places for box in place.boxes)]
        found = {*self.notes, *self.fields, *(BOXES.get(box, box) for box in boxes)}
        found.update(label for place in places for label in place.labels)
        return found | {f"way_{way}" for way in self.ways}


# The label of a box that is not called as its id.
BOXES = {
    "copy_kept.yes": "copy_kept",
    "copy_kept.no": "copy_refused",
    "childs_answer.yes": "yes",
    "childs_answer.no": "no",
    "recognisable.yes": "yes",
    "recognisable.no": "no",
    "recognisable.unsure": "unsure",
    **{
        f"authority.{holder}.{right}": f"by_{right}"
        for holder in ("first", "second")
        for right in ("parent", "court", "alone")
    },
}
SITTER = Place(("sitter",))
DAY = Place(("day",), ("copy_kept.yes", "copy_kept.no"))
READ = Place((), ("read_myself", "read_to_me"), names_languages=True)
HEARD = Place((), ("read_to_me",), names_languages=True)
EXPLAINED = Place(("explained_by",))
INTERPRETER = Place(("interpreter",))
WITNESS = Place(("witness", "signed_on"), ("present_throughout",))
OURS = Place(("ours", "signed_on"))
BY_HAND = ((SITTER, DAY, READ), (EXPLAINED, INTERPRETER, WITNESS))
RECOGNISABLE = ("recognisable.yes", "recognisable.no", "recognisable.unsure")
SUPPORT = ("supporter", "second_talk", "language_pair")


def _holder(which: str) -> Place:
    boxes = tuple(f"authority.{which}.{right}" for right in ("parent", "court", "alone"))
    return Place(("guardian", "signed_on"), boxes)


# Source: job.md, "What makes a form complete for its way of giving".
KINDS: Mapping[FormKind, Giving] = {
    FormKind.ADULT: Giving(
        (Way.SIGNED, Way.WITH_SUPPORT), BY_HAND, boxes=("same_answers",), fields=SUPPORT
    ),
    FormKind.CHILD: Giving(
        (Way.CHILD,),
        (
            (
                Place(("childs_answer",), ("childs_answer.yes", "childs_answer.no")),
                Place(("childs_words",)),
                Place(("childs_reader",)),
            ),
            (_holder("first"), _holder("second"), DAY),
            (EXPLAINED, INTERPRETER, READ),
        ),
        notes=("again_at_18",),
        fields=("language_pair",),
    ),
    FormKind.CANNOT_READ: Giving(
        (Way.MARK_AND_WITNESS,),
        ((Place(("thumb_or_cross",)), DAY, HEARD), (EXPLAINED, INTERPRETER, WITNESS)),
        boxes=("witness_reads", "witness_apart"),
        fields=("language_pair",),
    ),
    FormKind.SPOKEN: Giving(
        (Way.SPOKEN,),
        ((OURS, OURS, DAY), (EXPLAINED, INTERPRETER, HEARD)),
        boxes=("serial_spoken", "one_by_one"),
        fields=("recording", "language_pair"),
    ),
    FormKind.SIGN_LANGUAGE: Giving(
        (Way.SIGN_LANGUAGE,),
        ((OURS, OURS, DAY), (EXPLAINED, Place(("interpreter", "signed_on")), READ)),
        notes=("face_never",),
        boxes=("serial_shown", "asked_singly", "interpreter_apart"),
        fields=("video", "language_pair"),
    ),
    FormKind.GROUP: Giving(
        (Way.SIGNED, Way.WITH_SUPPORT),
        (
            (
                Place(("frame_place",), is_low=True),
                Place(("frame_count",), is_low=True),
                Place(("recognisable",), RECOGNISABLE, is_low=True),
            ),
            *BY_HAND,
        ),
        notes=("own_form",),
        boxes=("same_answers",),
        fields=SUPPORT,
    ),
}


def default_way(kind: FormKind) -> Way | None:
    """The way of giving that follows from the kind; None where the paper leaves a choice."""
    ways = KINDS[kind].ways
    return ways[0] if len(ways) == 1 else None


def kind_of(way: str) -> FormKind:
    """The kind of paper on which such a way of giving is written; an adult's for any other."""
    found = (kind for kind, giving in KINDS.items() if default_way(kind) == way)
    return next(found, FormKind.ADULT)


class Box(NamedTuple):
    """A box to tick: its id on the paper, and its words in both languages."""

    id: str
    line: Line


def _boxes(columns: Pair, ids: tuple[str, ...]) -> list[Box]:
    lines = labelled(columns, "", [BOXES.get(one, one) for one in ids])
    return [Box(one, words) for one, words in zip(ids, lines, strict=True)]


def shown(columns: Pair, kind: FormKind) -> dict[str, Any]:
    """Give a template the giving part of a kind, each line in both languages."""
    held = KINDS[kind]
    rows = [
        {
            "is_low": all(place.is_low for place in row),
            "places": [
                {
                    "lines": labelled(columns, "", place.labels),
                    "boxes": _boxes(columns, place.boxes),
                    "names_languages": place.names_languages,
                }
                for place in row
            ],
        }
        for row in held.rows
    ]
    return {
        "ways": labelled(columns, "way_", held.ways),
        "notes": labelled(columns, "", held.notes),
        "boxes": _boxes(columns, held.boxes),
        "fields": labelled(columns, "", held.fields),
        "rows": rows,
    }
