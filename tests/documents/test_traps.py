"""Small files that blow up: refused as broken before anything of them is unpacked or drawn."""

import struct
import tracemalloc
import zlib
from io import BytesIO

import pytest
from PIL import Image

from relations.documents import traps
from relations.documents.filing import FilingError, inspect

MIB = 2**20
CATALOG = b"<</Type/Catalog/Pages 2 0 R>>"
PAGES = b"<</Type/Pages/Kids[3 0 R]/Count 1>>"


def pdf(*objects: bytes) -> bytes:
    """A PDF of these objects, the first its root; by hand, since a writer would refuse."""
    out, places = b"%PDF-1.7\n", []
    for number, said in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%b\nendobj\n" % (number, said)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    size = len(objects) + 1
    return (
        out + b"xref\n0 %d\n0000000000 65535 f \n%b" % (size, table)
        + b"trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF" % (size, len(out))
    )  # fmt: skip


def stream(about: bytes, data: bytes) -> bytes:
    return b"<<%b/Length %d>>\nstream\n%b\nendstream" % (about, len(data), data)


def paper(content: bytes = stream(b"", b""), *more: bytes) -> bytes:
    """One page that draws what is named /x0, the fifth object."""
    page = (
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 99 99]/Contents 4 0 R"
        b"/Resources<</XObject<</x0 5 0 R>>>>>>"
    )
    return pdf(CATALOG, PAGES, page, content, *more)


def picture(width: bytes) -> bytes:
    return paper(stream(b"", b"/x0 Do"), stream(b"/Subtype/Image/Height 3/Width" + width, b"x"))


def zeros(size: int, times: int = 1) -> bytes:
    packed = bytes(size)
    for _ in range(times):
        packed = zlib.compress(packed, 9)
    return packed


def drawing(deep: int, times: int) -> bytes:
    """Parts that draw the next so many times each."""
    forms = []
    for at in range(deep):
        inner = b"/Resources<</XObject<</x%d %d 0 R>>>>" % (at + 1, at + 6)
        is_last = at == deep - 1
        said = b"0 0 5 5 re f" if is_last else b"/x%d Do " % (at + 1) * times
        forms.append(stream(b"/Subtype/Form/BBox[0 0 9 9]" + (b"" if is_last else inner), said))
    return paper(stream(b"", b"/x0 Do"), *forms)


def frames(count: int) -> bytes:
    """A TIFF of so many pages of one dot."""
    tags = [(256, 4, 1, 1), (257, 4, 1, 1), (258, 3, 1, 8), (259, 3, 1, 1), (262, 3, 1, 1)]
    tags += [(273, 4, 1, 0), (277, 3, 1, 1), (278, 4, 1, 1), (279, 4, 1, 1)]
    each = struct.pack("<H", len(tags)) + b"".join(struct.pack("<HHII", *tag) for tag in tags)
    return b"II*\0" + struct.pack("<I", 8) + b"".join(
        each + struct.pack("<I", 8 + (at + 1) * (len(each) + 4) if at < count - 1 else 0)
        for at in range(count)
    )  # fmt: skip


FLATE = b"/Filter/FlateDecode"
BROKEN = {
    "a name as a width": lambda: picture(b"/abc"),
    "a list as a width": lambda: picture(b"[1]"),
    "words as a width": lambda: picture(b"(1)"),
    "content that unpacks to much": lambda: paper(stream(FLATE, zeros(64 * MIB))),
    "packed twice": lambda: paper(
        stream(b"/Filter[/FlateDecode/FlateDecode]", zeros(64 * MIB, times=2))
    ),
    "many parts that are much together": lambda: paper(
        *(stream(FLATE, zeros(30 * MIB)) for _ in range(5))
    ),
    "a packing that nothing limits": lambda: paper(
        stream(b"/Filter/LZWDecode", bytes(traps.LARGEST_LZW + 1))
    ),
    "what draws what draws what": lambda: drawing(6, 20),
    "drawn by a name written otherwise": lambda: drawing(6, 20).replace(b"/x1 Do", b"/#781 Do"),
    "a page of pages": lambda: pdf(CATALOG, b"<</Type/Pages/Kids[2 0 R]/Count 1>>"),
    "a root that is a number": lambda: pdf(b"5", b"6"),
}
TOO_MANY = {
    "one page named 2,000 times": lambda: pdf(
        CATALOG, b"<</Type/Pages/Kids[%b]/Count 2000>>" % (b"3 0 R " * 2000),
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 9 9]>>",
    ),
    "a picture of 1,001 pages": lambda: frames(1001),
}  # fmt: skip


@pytest.mark.parametrize("made", BROKEN.values(), ids=BROKEN)
def test_trap_is_refused_within_little_memory(made):
    content = made()
    assert len(content) < 2 * MIB
    tracemalloc.start()
    try:
        with pytest.raises(FilingError) as caught:
            inspect(content)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert caught.value.code == "broken"
    assert peak < 2 * traps.LARGEST_PART


@pytest.mark.parametrize("made", TOO_MANY.values(), ids=TOO_MANY)
def test_more_pages_than_a_stack_has_are_refused(made):
    with pytest.raises(FilingError) as caught:
        inspect(made())
    assert caught.value.code == "too_many_pages"


def test_what_a_paper_needs_is_taken():
    """Else the limits above could refuse everything."""
    for content in (drawing(2, 20), paper(stream(FLATE, zeros(MIB)))):
        assert inspect(content).pages == 1
    out, dot = BytesIO(), Image.new("L", (9, 9))
    dot.save(out, format="TIFF", save_all=True, append_images=[dot, dot])
    assert inspect(out.getvalue()).pages == 3
    loop = stream(b"/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</x0 5 0 R>>>>", b"/x0 Do")
    assert inspect(paper(stream(b"", b"/x0 Do"), loop)).pages == 1
