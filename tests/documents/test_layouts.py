import pytest

from relations.documents import layouts
from relations.documents.models import Layout

ANCHORS = (
    {
        "t-uses.web.yes": (97.8999, 143.891, 4.2, 4.2),
        "square-top-left": (7.0, 7.0, 5.0, 5.0),
        "code-head-1": (95.1, 7.5, 19.8, 19.8),
        "heading": (1.0, 1.0, 1.0, 1.0),
    },
    {"t-no_face": (102.9, 39.09, 4.2, 4.2)},
)


def test_only_boxes_squares_and_codes_are_named() -> None:
    assert layouts.named(ANCHORS[0]) == {
        "code-head-1": [95.1, 7.5, 19.8, 19.8],
        "square-top-left": [7.0, 7.0, 5.0, 5.0],
        "uses.web.yes": [97.9, 143.89, 4.2, 4.2],
    }


@pytest.mark.django_db
def test_same_places_are_kept_once() -> None:
    first, again = layouts.keep(ANCHORS), layouts.keep(ANCHORS)
    assert first == again
    assert Layout.objects.count() == 1


@pytest.mark.django_db
def test_other_places_or_another_size_are_another_layout() -> None:
    moved = ({**ANCHORS[0], "t-uses.web.yes": (97.9, 144.2, 4.2, 4.2)}, ANCHORS[1])
    kept = [layouts.keep(ANCHORS), layouts.keep(moved), layouts.keep(ANCHORS, size="Letter")]
    assert len({layout.digest for layout in kept}) == 3


@pytest.mark.django_db
def test_places_come_back_by_page() -> None:
    layout = layouts.keep(ANCHORS)
    layout.refresh_from_db()
    assert layouts.places(layout, 2) == {"no_face": (102.9, 39.09, 4.2, 4.2)}
    assert layouts.places(layout, 3) == {}
