"""A kept photo holds the picture and nothing else."""

from io import BytesIO

import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image, ImageFile

from labsite import photos
from labsite.forms import LabForm, PhotoField, clean_photo

ORIENTATION, GPS, MAKER = 0x0112, 0x8825, 0x010F
SECRETS = (b"Exif", b"GPS", b"Benchcam", b"http://ns.adobe.com", b"a private note", b"ICC_PROFILE")


def image(width=80, height=40, mode="RGB"):
    """Left half red, right half blue, so that a turn can be seen."""
    picture = Image.new(mode, (width, height), "blue")
    picture.paste("red", (0, 0, width // 2, height))
    return picture


def upload(picture, kind="JPEG", **options):
    out = BytesIO()
    picture.save(out, kind, **options)
    return SimpleUploadedFile("cart by the river.jpg", out.getvalue())


def exif(orientation=1):
    tags = Image.Exif()
    tags[ORIENTATION] = orientation
    tags[MAKER] = "Benchcam"
    tags.get_ifd(GPS).update({1: "N", 2: (44.0, 30.0, 0.0), 3: "W", 4: (93.0, 10.0, 0.0)})
    return tags.tobytes()


def kept(file):
    return Image.open(clean_photo(file))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_every_kind_is_kept_as_jpeg_without_metadata(kind):
    file = upload(image(), kind, exif=exif())
    assert Image.open(file).getexif().get_ifd(GPS), "the photo sent must carry a place, or this proves nothing"
    result = clean_photo(file)
    again = Image.open(result)
    assert again.format == "JPEG"
    assert not again.getexif()
    assert not any(secret in result.file.getvalue() for secret in SECRETS)


def test_comments_and_xmp_and_profiles_are_gone():
    from PIL import ImageCms

    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    file = upload(image(), comment=b"a private note", xmp=b"<x>Benchcam</x>", icc_profile=profile)
    assert b"a private note" in file.read()
    assert not any(secret in clean_photo(file).file.getvalue() for secret in SECRETS)


def test_a_photo_taken_sideways_is_turned_upright():
    upright = kept(upload(image(), exif=exif(orientation=6)))  # 6: the camera was held turned, row 0 is on the right
    assert upright.size == (40, 80)
    red, blue = upright.getpixel((20, 10)), upright.getpixel((20, 70))
    assert red[0] > 200 and red[2] < 60
    assert blue[2] > 200 and blue[0] < 60


@pytest.mark.parametrize(
    ("size", "expected"), [((4000, 2000), (1600, 800)), ((500, 3200), (250, 1600)), ((64, 32), (64, 32))]
)
def test_it_is_shrunk_but_never_blown_up(size, expected):
    assert kept(upload(image(*size))).size == expected


def test_the_name_tells_nothing():
    first, second = clean_photo(upload(image())), clean_photo(upload(image()))
    assert first.name != second.name
    assert "river" not in first.name


def test_transparency_becomes_white():
    glass = Image.new("RGBA", (20, 20), (0, 0, 0, 0))
    assert kept(upload(glass, "PNG")).getpixel((10, 10)) == (255, 255, 255)


@pytest.mark.parametrize(("mode", "kind"), [("L", "JPEG"), ("CMYK", "JPEG"), ("1", "PNG"), ("P", "PNG")])
def test_grey_and_print_colours_are_kept(mode, kind):
    assert kept(upload(Image.new(mode, (20, 20)), kind)).mode == "RGB"


NOT_PHOTOS = {
    "text": b"this is not a photo",
    "empty of a picture": b"\xff\xd8\xff\xe0" + b"\x00" * 40,
    "page": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
    "gif": b"GIF89a" + b"\x01\x00\x01\x00\x80\x00\x00\x00\x00\x00\xff\xff\xff!\xf9\x04\x00\x00\x00\x00\x00,"
    b"\x00\x00\x00\x00\x01\x00\x01\x00\x00\x02\x02D\x01\x00;",
}


@pytest.mark.parametrize("content", NOT_PHOTOS.values(), ids=NOT_PHOTOS.keys())
def test_what_is_no_photo_is_refused_in_words(content):
    with pytest.raises(ValidationError, match="Photo could not be opened. Choose a JPEG, PNG, WebP or HEIC photo"):
        clean_photo(SimpleUploadedFile("photo.jpg", content))


def test_a_cut_off_photo_is_refused(monkeypatch):
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)  # as the print engine leaves it
    whole = upload(image(800, 600)).read()
    with pytest.raises(ValidationError, match="could not be opened"):
        clean_photo(SimpleUploadedFile("photo.jpg", whole[: len(whole) // 2]))


def test_a_huge_picture_in_a_small_file_is_refused_before_it_is_unpacked():
    bomb = upload(Image.new("1", (9000, 7000)), "PNG")
    assert bomb.size < 100_000
    with pytest.raises(ValidationError, match="Photo must be 60 megapixels or smaller"):
        clean_photo(bomb)


@pytest.mark.filterwarnings("error")
def test_a_far_larger_picture_is_refused_too():
    with pytest.raises(ValidationError):
        clean_photo(upload(Image.new("1", (20000, 20000)), "PNG"))


def test_a_large_file_is_refused(monkeypatch):
    monkeypatch.setattr(photos, "MAX_BYTES", 1024 * 1024)
    with pytest.raises(ValidationError, match="Photo must be 1 MB or smaller"):
        clean_photo(SimpleUploadedFile("photo.jpg", b"x" * (1024 * 1024 + 1)))


class WheelForm(LabForm):
    wheel = PhotoField(label="Photo of the wheel")


def test_the_field_hands_over_the_clean_photo():
    form = WheelForm({}, {"wheel": upload(image(), exif=exif())})
    assert form.is_valid(), form.errors
    assert b"Benchcam" not in form.cleaned_data["wheel"].read()


def test_the_field_speaks_in_its_labels_words():
    assert WheelForm({}, {}).errors["wheel"] == ["Choose the photo of the wheel"]
    refused = WheelForm({}, {"wheel": SimpleUploadedFile("x.jpg", b"no")})
    assert refused.errors["wheel"] == ["Photo of the wheel could not be opened. Choose a JPEG, PNG, WebP or HEIC photo"]
    empty = WheelForm({}, {"wheel": SimpleUploadedFile("x.jpg", b"")})
    assert empty.errors["wheel"] == ["Choose a photo that is not empty"]
