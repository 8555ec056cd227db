from xml.etree import ElementTree

import pytest

from relations.documents.outside import asked, is_picture


def found(source: str) -> list[str]:
    return asked(ElementTree.fromstring(f"<body>{source}</body>").iter())


@pytest.mark.parametrize(
    "source, address",
    [
        ('<img src="near.png"/>', "near.png"),
        ('<img SRC=" file:///x"/>', " file:///x"),
        ('<a href="https://x"/>', "https://x"),
        ('<object data="x"/>', "x"),
        (
            '<use xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="file:///x#y"/>',
            "file:///x#y",
        ),
        ('<p style="background: url( x )"/>', "background: url( x )"),
        ('<p style="color: red; background: URL(&quot;x&quot;)"/>', None),
        ("<style>@IMPORT 'x';</style>", "@IMPORT 'x';"),
        ("<style>@font-face { src: local('X') }</style>", None),
        ("<s:style xmlns:s='http://www.w3.org/2000/svg'>b { fill: url(file:x) }</s:style>", None),
        ("<style>b{background:url(data:x)} i{background:url(x)}</style>", None),
    ],
)
def test_what_lies_outside_the_page_is_found(source, address):
    [one] = found(source)
    assert address is None or one == address


@pytest.mark.parametrize(
    "source",
    [
        "<p>url(x) @import file:///x</p>",
        '<p title="file:///x" aria-label="src" data-src="x" lang="fr"/>',
        '<img src="data:image/png;base64,x"/><a href="#t-yes"/>',
        '<p style="background: url( &quot;data:image/png;base64,x&quot; ); color: red"/>',
        "<style>b { fill: url(#x); mask: url('#y') }</style><style/>",
        "<!-- url(x) -->",
    ],
)
def test_what_lies_inside_the_page_is_left_alone(source):
    assert found(source) == []


def test_comment_is_no_element_with_a_name():
    page = ElementTree.fromstring("<body/>")
    page.append(ElementTree.Comment("@import 'x'"))
    assert asked(page.iter()) == []


@pytest.mark.parametrize(
    "content, is_one",
    [
        (b"\x89PNG\r\n\x1a\nrest", True),
        (b"GIF89a", True),
        (b"GIF87a", True),
        (b"\xff\xd8\xff\xe0", True),
        (b"", False),
        (b"<svg/>", False),
        (b" GIF89a", False),
        (b"\xff\xfe<\x00s\x00", False),
    ],
)
def test_picture_made_of_dots_is_known_by_its_first_bytes(content, is_one):
    assert is_picture(content) is is_one
