"""Logs of a stick: what is read, and what is refused in one line that says how to take the capture again."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.demo.sticks import MadeStick, log_of
from builds.engineering import capture as captures
from builds.engineering.capture import LARGEST_BYTES, MOST_READINGS, capture_from, read_capture
from builds.engineering.finding import EngineeringError
from tests.engineering.legal import CAPTURE

SMALL = "# rest\n0,512,510\n5,513,511\n# forward\n10,512,900\n"


def marks(capture):
    return [(section.mark, section.start, section.end) for section in capture.sections]


def refused(log, **options):
    with pytest.raises(EngineeringError) as told:
        read_capture(log, **options)
    assert len(str(told.value).splitlines()) == 1
    return str(told.value)


def test_times_and_both_axes_are_read():
    capture = read_capture(SMALL)
    assert capture.times_ms.tolist() == [0, 5, 10]
    assert capture.xy.tolist() == [[512, 510], [513, 511], [512, 900]]
    assert marks(capture) == [("rest", 0, 2), ("forward", 2, 3)]
    assert (capture.full_scale, capture.half_range) == (1023, 511.5)


def test_without_times_only_the_axes_are_there():
    capture = read_capture("# rest\n512,510\n")
    assert capture.times_ms is None
    assert capture.xy.tolist() == [[512, 510]]


@pytest.mark.parametrize(
    "log",
    [
        SMALL.replace("\n", "\r\n"),
        SMALL.replace("\n", "\r"),
        SMALL.replace(",", " "),
        SMALL.replace(",", "\t"),
        SMALL.replace(",", " , "),
        SMALL.replace("# ", "#"),
        SMALL.replace("rest", "Rest:").replace("forward", "FORWARD "),
        "\ufeff" + SMALL,
        SMALL.encode(),
        b"\xef\xbb\xbf" + SMALL.encode(),
        SMALL.encode("utf-16"),
        b"\xfe\xff" + SMALL.encode("utf-16-be"),
        "\n\n" + SMALL + "\n \n",
        "# logged on the bench\n#\n" + SMALL,
        SMALL.replace("512,", "512.0,"),
    ],
)
def test_what_a_controller_and_a_computer_make_of_it_is_simply_read(log):
    assert read_capture(log).xy.tolist() == read_capture(SMALL).xy.tolist()
    assert marks(read_capture(log)) == marks(read_capture(SMALL))


def test_readings_before_the_first_mark_are_kept_and_belong_to_none():
    capture = read_capture("0,1,1\n" + SMALL)
    assert len(capture.xy) == 4
    assert marks(capture)[0] == ("rest", 1, 3)


def test_a_mark_without_readings_is_not_counted():
    capture = read_capture("# hold\n" + SMALL + "# circle\n")
    assert [capture.of(mark) for mark in ("hold", "circle")] == [[], []]
    assert len(capture.of("rest")) == 1


@pytest.mark.parametrize(
    ("log", "says"),
    [
        ("", "The capture holds no readings. Take the capture again"),
        ("# rest\n# forward\n", "The capture holds no readings. Take the capture again"),
        ("512,510\n", "The capture has no marks. Take the capture again with the lines # rest"),
        ("# rest\n512\n", "Line 2 of the capture reads \u201c512\u201d; it must be x,y or ms,x,y"),
        ("# rest\n1,2,3,4\n", "too many commas, or commas as decimals"),
        ("# rest\n512,5;510,2\n", "too many commas, or commas as decimals"),
        ("# rest\n512;510\n", "too many commas, or commas as decimals"),
        ("# rest\n512,5 510,2\n", "too many commas, or commas as decimals"),
        ("# rest\n512,5 510\n", "too many commas, or commas as decimals"),
        ("# rest\n512 510,2\n", "too many commas, or commas as decimals"),
        ("# rest\n0,5\t512\t510\n", "too many commas, or commas as decimals"),
        ("# rest\n512,,510\n", "it must be x,y or ms,x,y"),
        ("# rest\n512,510,\n", "it must be x,y or ms,x,y"),
        ("# rest\n512,nan\n", "that is no reading. Check the wires of the stick and take the capture again"),
        ("# rest\ninf,510\n", "that is no reading"),
        ("# rest\n5e2,510\n", "it must be x,y or ms,x,y"),
        ("# rest\n0x10,510\n", "it must be x,y or ms,x,y"),
        ("# rest\nx,y\n", "it must be x,y or ms,x,y"),
        ("# rest\n\u0665\u0661\u0662,510\n", "it must be x,y or ms,x,y"),
        ("# rest\n1,2,3\n4,5\n", "Line 3 of the capture has 2 numbers and the lines before it have 3"),
        ("# rest\n5,1,2\n4,1,2\n", "Line 3 of the capture has the time 4 ms after 5 ms: times run backwards"),
        ("# rest\n0,1,2\n300001,1,2\n", "The capture lasts 300 s and must last 300 s or less"),
        ("# rest\n512,1024\n", "Line 2 of the capture reads 1024, and a converter of 10 bits gives 0 to 1023"),
        ("# rest\n512,-1\n", "Line 2 of the capture reads -1"),
        ("# rest\n512,510\n# foward\n512,900\n", "Line 3 of the capture has the mark \u201c# foward\u201d"),
        ("# rest\n" + "9" * 400 + ",1\n", "it must be x,y or ms,x,y"),
        (b"\x7fELF\x02\x01\x01\x00\x00", "The capture is no plain text"),
        (b"# rest\n\xff\xfe\xfa\n", "The capture is no plain text"),
        (b"\xff\xfe\x00", "The capture is no plain text"),
        ("# rest\n512,510\0\n", "The capture is no plain text"),
    ],
)
def test_what_cannot_be_read_says_what_and_what_to_do(log, says):
    assert says in refused(log)


def test_a_strange_line_is_shown_without_signs_that_do_not_print():
    told = refused("# rest\n\x1b[31m" + "x" * 3000)
    assert "\x1b" not in told
    assert len(told) < 250


@pytest.mark.parametrize("bits", [7, 17, 10.5, float("nan"), "10"])
def test_a_converter_has_8_to_16_bits(bits):
    assert refused(SMALL, adc_bits=bits).startswith("Bits of the converter must be")


def test_unknown_bits_are_asked_for():
    assert refused(SMALL, adc_bits=None) == "Enter the bits of the converter."


@pytest.mark.parametrize("bits", range(8, 17))
def test_every_converter_reads_up_to_its_full_scale(bits):
    full = 2**bits - 1
    assert read_capture(f"# rest\n0,{full}\n", bits).full_scale == full
    assert f"gives 0 to {full}" in refused(f"# rest\n0,{full + 1}\n", adc_bits=bits)


def test_five_minutes_at_1_khz_are_read_and_one_reading_more_is_not():
    lines = "".join(f"{at},512,510\n" for at in range(MOST_READINGS))
    assert len(read_capture("# rest\n" + lines).xy) == MOST_READINGS
    assert "300,000 readings or fewer" in refused("# rest\n" + lines + f"{MOST_READINGS},512,510\n")


def test_too_large_a_file_is_refused_before_it_is_opened(tmp_path, monkeypatch):
    path = tmp_path / "huge.txt"
    with path.open("wb") as file:
        file.truncate(200_000_000)
    monkeypatch.setattr(captures.Path, "open", lambda *given: pytest.fail("was opened"))
    with pytest.raises(EngineeringError, match="must be 8,000,000 bytes or fewer, not 200,000,000"):
        capture_from(path)


def test_a_sent_file_says_its_size_before_it_is_read():
    class Sent(io.BytesIO):
        size = LARGEST_BYTES + 1

        def read(self, *given):
            pytest.fail("was read")

    with pytest.raises(EngineeringError, match="8,000,000 bytes or fewer"):
        capture_from(Sent())


def test_a_file_that_hides_its_size_is_read_no_further_than_the_limit():
    class Endless(io.BytesIO):
        asked = None

        def read(self, size=-1):
            self.asked = size
            return b"#" * size

    source = Endless()
    with pytest.raises(EngineeringError, match="8,000,000 bytes or fewer"):
        capture_from(source)
    assert source.asked == LARGEST_BYTES + 1


@pytest.mark.parametrize("path", ["/nowhere.txt", "/dev/zero", "/", "", "x" * 3000])
def test_what_is_no_file_is_refused(path):
    with pytest.raises(EngineeringError, match="Capture must be a file of 8,000,000 bytes or fewer that can be read"):
        capture_from(path)


def test_the_sample_in_the_repository_is_read():
    assert [section.mark for section in capture_from(CAPTURE).sections][:3] == ["rest", "forward", "rest"]


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused_in_one_line(log):
    try:
        read_capture(log)
    except EngineeringError as told:
        assert len(str(told).splitlines()) == 1


@given(st.text(alphabet="0123456789,. \t\n#-;restforwardnaN\ufeff\r", max_size=200))
def test_any_scribble_is_read_or_refused_in_one_line(log):
    try:
        capture = read_capture(log)
    except EngineeringError as told:
        assert len(str(told).splitlines()) == 1
    else:
        assert 0 <= capture.xy.min() <= capture.xy.max() <= 1023


@given(st.integers(8, 16), st.booleans(), st.integers(1, 5))
def test_what_was_logged_comes_back(bits, times, seed):
    stick = MadeStick(bits=bits, times=times, seed=seed, seconds=0.3, noise=1.0, centre=(2**bits / 2, 2**bits / 2))
    capture = read_capture(log_of(stick), bits)
    assert [section.mark for section in capture.sections] == list(stick.order)
    assert {section.end - section.start for section in capture.sections} == {60}
    assert (capture.times_ms is not None) is times
