"""What is taken as a scan: opened for real, cleaned, or refused with the reason."""

import hashlib
import zlib
from io import BytesIO

import pikepdf
import pytest
from PIL import Image, ImageFile, PngImagePlugin

from relations.documents import filing
from relations.documents.filing import FilingError, inspect
from relations.documents.models import Scan, Sheet
from relations.privacy.files import scans
from relations.privacy.refused import Refused
from tests import cast
from tests.documents.scanner import grey_picture


def picture(name="JPEG", size=(40, 30), **how):
    image = Image.new("RGB", size, "white")
    image.paste((200, 0, 0), (0, 0, 10, 10))
    out = BytesIO()
    image.save(out, format=name, **how)
    return out.getvalue()


def paper(pages=1, size=(595, 842), **how):
    document = pikepdf.new()
    for _ in range(pages):
        document.add_blank_page(page_size=size)
    out = BytesIO()
    document.save(out, **how)
    return out.getvalue()


def refused(content):
    with pytest.raises(FilingError) as caught:
        inspect(content)
    assert str(caught.value) == caught.value.code
    return caught.value.code


@pytest.mark.parametrize(
    ("name", "media_type"),
    [
        ("JPEG", "image/jpeg"),
        ("PNG", "image/png"),
        ("TIFF", "image/tiff"),
        ("WEBP", "image/webp"),
    ],
)
def test_image_is_known_by_its_bytes_and_opens_again(name, media_type):
    content = picture(name)
    found = inspect(content)
    assert (found.media_type, found.pages) == (media_type, 1)
    assert found.digest == hashlib.sha256(content).hexdigest()
    again = Image.open(BytesIO(found.clean))
    assert again.size == (40, 30)
    red = again.convert("RGB").getpixel((3, 3))
    assert red[0] > 180 and red[1] < 20


def test_where_and_when_of_a_phone_photo_do_not_reach_the_sealed_file():
    exif = Image.Exif()
    exif[0x0110] = "Telephone of somebody"
    exif[0x8769] = {0x9003: "2026:11:23 09:00:00"}
    exif[0x8825] = {1: "N", 2: (43.0, 17.0, 47.0), 3: "E", 4: (5.0, 22.0, 12.0)}
    content = picture(exif=exif, comment=b"written at the cafe")
    assert dict(Image.open(BytesIO(content)).getexif().get_ifd(0x8825))
    clean = inspect(content).clean
    assert not dict(Image.open(BytesIO(clean)).getexif())
    assert b"Telephone" not in clean and b"cafe" not in clean and b"Exif" not in clean


def test_words_inside_a_png_are_left_behind():
    words = PngImagePlugin.PngInfo()
    words.add_text("Author", "somebody")
    content = picture("PNG", pnginfo=words)
    assert b"somebody" in content
    assert b"somebody" not in inspect(content).clean


def test_colours_of_a_palette_stay():
    out = BytesIO()
    Image.open(BytesIO(picture("PNG"))).quantize(8).save(out, format="PNG")
    again = Image.open(BytesIO(inspect(out.getvalue()).clean))
    assert again.mode == "P" and again.convert("RGB").getpixel((3, 3))[0] > 180


@pytest.mark.parametrize("turn", sorted(filing.TURNS))
def test_picture_taken_sideways_stands_upright_without_its_note(turn):
    exif = Image.Exif()
    exif[filing.ORIENTATION] = turn
    found = Image.open(BytesIO(inspect(picture(exif=exif)).clean))
    assert found.size == ((30, 40) if turn >= 5 else (40, 30))
    corner = {2: (37, 3), 3: (37, 27), 4: (3, 27), 5: (3, 3), 6: (27, 3), 7: (27, 37), 8: (3, 37)}
    red, green, _ = found.convert("RGB").getpixel(corner[turn])
    assert red > 150 and green < 60


def test_every_page_of_a_tiff_is_kept():
    out = BytesIO()
    first = Image.new("L", (20, 20), 0)
    first.save(out, format="TIFF", save_all=True, append_images=[Image.new("L", (20, 20), 255)])
    found = inspect(out.getvalue())
    again = Image.open(BytesIO(found.clean))
    assert found.pages == again.n_frames == 2
    again.seek(1)
    assert again.getpixel((5, 5)) == 255


def test_pages_of_a_pdf_are_counted_and_a_stray_byte_before_it_is_no_hindrance():
    assert inspect(paper(3)).pages == 3
    found = inspect(b"\r\n" + paper(1))
    assert (found.media_type, found.pages) == (filing.PDF, 1)


def test_pdf_loses_its_particulars_and_all_that_runs():
    document = pikepdf.new()
    document.add_blank_page()
    with document.open_metadata() as meta:
        meta["dc:creator"] = ["Somebody"]
    document.docinfo["/Author"] = "Somebody"
    document.attachments["a.txt"] = b"Somebody"
    document.Root.OpenAction = pikepdf.Dictionary(
        S=pikepdf.Name.JavaScript, JS=pikepdf.String("app.alert(1)")
    )
    document.pages[0].Annots = document.make_indirect(pikepdf.Array([]))
    out = BytesIO()
    document.save(out)
    clean = inspect(out.getvalue()).clean
    with pikepdf.open(BytesIO(clean)) as again:
        assert "/Info" not in again.trailer
        gone = {"/Metadata", "/OpenAction", "/Names"}
        assert not gone & set(again.Root.keys())
        assert "/Annots" not in again.pages[0]
    assert b"JavaScript" not in clean


def test_same_upload_gives_the_same_bytes():
    content = paper()
    assert inspect(content) == inspect(content)


@pytest.mark.parametrize(
    "content",
    [
        b"just words",
        b"GIF89a" + bytes(20),
        b"PK\x03\x04" + bytes(40),
        b"MZ" + bytes(40),
        b"%!PS-Adobe-3.0 EPSF-3.0\n",
        b"RIFF\x24\x00\x00\x00WAVEfmt " + bytes(20),
    ],
)
def test_what_is_no_image_and_no_pdf_is_no_scan(content):
    assert refused(content) == "not_a_scan"


@pytest.mark.parametrize(
    "content",
    [
        picture()[:-200],
        b"\xff\xd8\xff" + bytes(50),
        b"\x89PNG\r\n\x1a\n" + bytes(30),
        picture("PNG")[:60],
        b"%PDF-1.7\nnothing more",
    ],
)
def test_what_does_not_open_to_its_end_is_broken(content):
    assert refused(content) == "broken"


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "empty"),
        (paper(0), "no_pages"),
        (paper(1, encryption=pikepdf.Encryption(owner="a", user="b")), "locked"),
    ],
)
def test_empty_file_locked_one_and_one_without_pages_are_each_called_so(content, code):
    assert refused(content) == code


def test_pdf_that_only_its_owner_may_change_opens_and_is_kept_open():
    content = paper(1, encryption=pikepdf.Encryption(owner="a", user=""))
    found = inspect(content)
    with pikepdf.open(BytesIO(found.clean)) as again:
        assert not again.is_encrypted


def with_picture(width, height, content, how):
    document = pikepdf.new()
    picture = grey_picture(document, width, height, content, how)
    page = document.add_blank_page()
    page.add_resource(picture, pikepdf.Name.XObject)
    out = BytesIO()
    document.save(out)
    return out.getvalue()


def test_picture_in_a_pdf_beyond_200_megapixels_is_refused_before_it_is_unpacked():
    packed = zlib.compress(bytes(1000))
    assert refused(with_picture(20_000, 10_001, packed, "/FlateDecode")) == "too_many_pixels"
    assert inspect(with_picture(40, 25, packed, "/FlateDecode")).pages == 1


def test_jpeg_in_a_pdf_is_counted_by_what_it_says_itself():
    honest = picture()
    at = honest.index(b"\xff\xc0") + 5
    for size in (b"\x4e\x20\x27\x11", b"\xff\xff\xff\xff"):
        swollen = honest[:at] + size + honest[at + 4 :]
        assert refused(with_picture(40, 30, swollen, "/DCTDecode")) == "too_many_pixels"
    assert inspect(with_picture(40, 30, honest, "/DCTDecode")).pages == 1
    assert inspect(with_picture(40, 30, b"no jpeg", "/DCTDecode")).pages == 1


def test_scan_beyond_25_megabytes_is_too_large_and_one_of_25_is_not():
    assert refused(bytes(filing.LARGEST_BYTES + 1)) == "too_large"
    assert refused(bytes(filing.LARGEST_BYTES)) == "not_a_scan"


def claims(width, height):
    """A PNG of a few bytes whose head says how large it would be."""

    def chunk(kind, data):
        body = kind + data
        return len(data).to_bytes(4, "big") + body + zlib.crc32(body).to_bytes(4, "big")

    size = width.to_bytes(4, "big") + height.to_bytes(4, "big")
    head = chunk(b"IHDR", size + bytes([8, 0, 0, 0, 0]))
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


def test_picture_beyond_200_megapixels_is_refused_before_it_is_unpacked():
    assert refused(claims(20_000, 10_001)) == "too_many_pixels"
    assert refused(claims(60_000, 60_000)) == "too_many_pixels"


def test_pdf_page_beyond_200_megapixels_is_refused_and_a_large_sheet_is_not():
    assert refused(paper(1, size=(14_000, 14_000))) == "too_many_pixels"
    assert inspect(paper(1, size=(2384, 3370))).pages == 1  # A0


def test_cut_image_is_broken_even_where_the_layout_engine_would_let_it_pass():
    ImageFile.LOAD_TRUNCATED_IMAGES = True  # as weasyprint sets it when it is first used
    assert refused(picture("PNG")[:60]) == "broken"


def filed(serial="70042-74", content=None):
    sheet, _ = Sheet.objects.get_or_create(serial=serial, kind="form")
    found = inspect(content or picture("PNG"))
    return filing.file(sheet=sheet, found=found, by=cast.artist(), at=cast.moment())


@pytest.mark.django_db
def test_scan_is_sealed_and_comes_back_as_it_was_cleaned():
    scan = filed()
    assert filing.content(scan) == inspect(picture("PNG")).clean
    assert (scan.media_type, scan.size) == ("image/png", len(filing.content(scan)))
    sealed = scans().path_of(scan.file).read_bytes()
    assert b"PNG" not in sealed and b"IDAT" not in sealed


@pytest.mark.django_db
def test_same_file_is_kept_once_and_never_under_two_papers():
    assert filed() == filed()
    with pytest.raises(Refused, match="filed_under_another"):
        filed("70043-71")


@pytest.mark.django_db
def test_two_sendings_in_one_moment_keep_the_first_and_leave_no_second_file(monkeypatch):
    first, before = filed(), set(scans().folder.iterdir())
    looked = iter([Scan.objects.none(), Scan.objects.all()])
    monkeypatch.setattr(Scan.objects, "filter", lambda **how: next(looked))
    assert filed() == first
    assert set(scans().folder.iterdir()) == before
