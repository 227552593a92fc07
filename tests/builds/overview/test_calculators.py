"""The calculators page: one form each, results with their working, errors beside the field, nothing stored."""

from html import unescape
from pathlib import Path
from urllib.parse import urlencode

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext

from builds.engineering.calculators import CALCULATORS, calculate
from builds.engineering.inputs import FILE
from builds.overview.calculator_words import CHOICES, RESULTS
from builds.overview.calculators import CalculatorForm, asked_for, upload_of
from tests.engineering.legal import LEGAL
from tests.engineering.test_calculators import NONSENSE

SENT = [name for name, chosen in CALCULATORS.items() if upload_of(chosen)]


@pytest.fixture
def ask(builder, as_person, lab):
    person = as_person(builder)

    def get(name, **typed):
        if name in SENT and "file" in typed:
            answer = person.post(f"/calculators/{name}/", {**typed, "file": sent(typed["file"])})
        else:
            answer = person.get(f"/calculators/{name}/?{urlencode(typed)}")
        answer.text_shown = unescape(answer.content.decode())
        return answer

    return get


def sent(path):
    return SimpleUploadedFile("stick.txt", Path(path).read_bytes())


def errors(answer):
    return {name: list(messages) for name, messages in answer.context["form"].errors.items()}


def test_the_list_names_every_calculator(builder, as_person, lab):
    page = as_person(builder).get("/calculators/").content.decode()
    for name in CALCULATORS:
        assert f'href="/calculators/{name}/"' in page


@pytest.mark.parametrize("name", list(CALCULATORS))
def test_an_empty_form_asks_and_shows_no_result(ask, name):
    answer = ask(name)
    assert answer.status_code == 200
    assert errors(answer) == {}
    assert "results" not in answer.context
    for entry in asked_for(CALCULATORS[name]):
        assert f'name="{entry.name}"' in answer.text_shown


@pytest.mark.parametrize("name", list(CALCULATORS))
def test_legal_numbers_show_the_same_as_the_shell(ask, name):
    answer = ask(name, **LEGAL[name])
    told = calculate(name, LEGAL[name])
    assert answer.status_code == 200
    assert [finding.as_dict() for finding in answer.context["findings"]] == told["findings"]
    shown = answer.context["results"]
    assert len(shown) == len(told["results"])
    for (_, text, _), value in zip(shown, told["results"].values(), strict=True):
        if isinstance(value, float):
            assert float(text) == pytest.approx(value, rel=0.006)
        elif isinstance(value, bool):
            assert text == ("yes" if value else "no")
        elif isinstance(value, list):
            assert text == "; or ".join(" and ".join(part) for part in value)
        else:
            assert text == ("none" if value is None else str(value))


def test_the_working_and_the_source_are_on_the_page(ask):
    page = ask("fuse", continuous="12 A", ampacity="20 A").text_shown
    assert "Show the working" in page
    assert calculate("fuse", LEGAL["fuse"])["findings"][0]["formula"] in page
    assert calculate("fuse", LEGAL["fuse"])["findings"][0]["source"] in page


def test_it_says_what_a_bare_number_was_read_as_and_which_values_are_defaults(ask):
    read = ask("wire-run", gauge="14 AWG", length="4 ft 2 in", current="18").context["read"]
    assert ("Current", "18 A", False) in read
    assert ("Length", "1.27 m", False) in read
    assert ("Supply", "12 V", True) in read


def test_masses_and_places_are_read_back(ask):
    read = ask("balance", **LEGAL["balance"]).context["read"]
    assert ("Masses", "unit 16 kg at 0.3, 0, 0.22 m, rider 18 kg at 0.35, 0, 0.55 m", False) in read


def test_a_list_is_read_back_with_its_unit(ask):
    assert ("Times", "3.1, 3, 3.2 s", False) in ask("timed-runs", **LEGAL["timed-runs"]).context["read"]


@pytest.mark.parametrize("name", list(CALCULATORS))
@pytest.mark.parametrize("text", [text for text in NONSENSE if text.strip()])
def test_nonsense_stands_beside_its_field_and_is_refused(ask, name, text):
    for entry in asked_for(CALCULATORS[name]):
        if entry.kind == "prose":
            continue
        files = {"file": sent(LEGAL[name]["file"])} if name in SENT else None
        form = CalculatorForm(CALCULATORS[name], {**LEGAL[name], entry.name: text}, files)
        assert not form.is_valid()
        assert list(form.errors) == [entry.name]
        assert len(form.errors[entry.name]) == 1
        assert len(form.errors[entry.name][0].splitlines()) == 1


@pytest.mark.parametrize(
    ("name", "changed", "field", "words"),
    [
        ("wire-run", {"gauge": "14"}, "gauge", "Gauge"),
        ("wire-run", {"length": ""}, "length", "Enter the length"),
        ("wire-run", {"supply": ""}, "supply", "Enter the supply"),
        ("wire-run", {"length": "1001 m"}, "length", "Length must be 1000 m or less"),
        ("charge-time", {"discharged": "1.2"}, "discharged", "Discharged share must be 1 or less"),
        ("growth", {"on": "2019-03-30"}, "on", "Day of weighing must be the birth date 2019-03-31 or later"),
        ("growth", {"sex": ""}, "sex", "Choose the sex: male or female."),
        ("load", {"masses": "rider=2 t"}, "masses", "rider"),
        ("reading-grade", {"text": " "}, "text", "Enter the text"),
        ("reading-grade", {"text": "a " * 1001}, "text", "Text must be 2000 characters or fewer, not 2002"),
        ("balance", {"masses": "rider=16 kg@0,0,0"}, "__all__", "Height of the centre"),
    ],
)
def test_a_wrong_input_is_answered_with_422_and_its_one_line(ask, name, changed, field, words):
    answer = ask(name, **{**LEGAL[name], **changed})
    assert answer.status_code == 422
    assert list(errors(answer)) == [field]
    (message,) = errors(answer)[field]
    assert words in message
    assert message in answer.text_shown
    assert "results" not in answer.context


def test_what_was_typed_is_shown_again_and_escaped(ask):
    answer = ask("fuse", continuous="<b>5", ampacity="20 A")
    page = answer.content.decode()
    assert "<b>5" not in page
    assert "&lt;b&gt;5" in page


def test_an_optional_input_may_be_left_empty(ask):
    answer = ask("fuse", continuous="12 A", ampacity="20 A", peak="")
    assert (answer.status_code, answer.context["results"][0][1]) == (200, "15")


def test_a_page_never_reads_a_file(ask, tmp_path):
    secret = tmp_path / "note.txt"
    secret.write_text("Hello there.")
    assert all(entry.kind != FILE for chosen in CALCULATORS.values() for entry in asked_for(chosen))
    assert "results" not in ask("reading-grade", file=str(secret)).context
    answer = ask("reading-grade", file=str(secret), text="One. Two.")
    assert answer.context["form"].values["file"] is None
    assert answer.status_code == 200


def test_a_capture_is_sent_as_a_file_and_never_read_by_its_path(ask, builder, as_person):
    answer = as_person(builder).post("/calculators/stick-fit/", {"file": LEGAL["stick-fit"]["file"], "adc_bits": "10"})
    assert answer.status_code == 422
    assert errors(answer) == {"file": ["Choose the capture"]}
    assert "results" not in as_person(builder).get("/calculators/stick-fit/", LEGAL["stick-fit"]).context


@pytest.mark.parametrize(
    ("log", "words"),
    [
        (b"", "The capture is empty. Choose another file"),
        (b"\x7fELF\x00", "The capture is no plain text"),
        (b"# rest\n512,510\n", "The capture has nothing after # forward"),
        (b"x" * 8_000_001, "The capture must be 8,000,000 bytes or fewer, not 8,000,001."),
    ],
)
def test_a_bad_capture_is_refused_in_words(builder, as_person, lab, log, words):
    file = SimpleUploadedFile("stick.txt", log)
    answer = as_person(builder).post("/calculators/stick-fit/", {"file": file, "adc_bits": "10"})
    assert answer.status_code == 422
    assert words in unescape(answer.content.decode())


def test_what_takes_no_file_is_not_sent_one(builder, as_person, lab):
    assert as_person(builder).post("/calculators/fuse/", {"continuous": "5 A"}).status_code == 405


def test_an_unknown_calculator_is_not_found(ask):
    assert ask("nothing-like-it").status_code == 404


def test_nothing_is_stored(ask):
    with CaptureQueriesContext(connection, ) as seen:
        assert ask("fuse", continuous="12 A", ampacity="20 A").status_code == 200
    changes = [query["sql"] for query in seen if query["sql"].split()[0] in ("INSERT", "UPDATE", "DELETE")]
    assert changes == []


def test_every_result_and_every_choice_has_words():
    keys = {key for chosen in CALCULATORS.values() for key in chosen.results}
    assert keys == set(RESULTS)
    codes = {code for chosen in CALCULATORS.values() for entry in chosen.inputs for code in entry.choices}
    assert set(CHOICES) <= codes


@pytest.fixture
def us_lab(lab):
    lab.units = "us"
    lab.save(update_fields=["units"])


def test_a_lab_with_us_units_reads_results_and_findings_in_them_the_metric_beside(us_lab, ask):
    """1 lb = 0.45359237 kg: 25 kg are 55.1 lb and 18.1 kg are 39.9 lb. The shell stays SI."""
    text = ask("load", masses="rider=16 kg seat=2.1 kg", rated="25 kg").text_shown
    assert "39.9 lb (18.1 kg)" in text
    assert "55.1 lb (25 kg)" in text
    shell = calculate("load", {"masses": "rider=16 kg seat=2.1 kg", "rated": "25 kg"})
    assert shell["results"]["total_kg"] == pytest.approx(18.1)
    assert {finding["unit"] for finding in shell["findings"]} == {"kg"}


def test_a_metric_lab_reads_no_second_figure(ask):
    assert " lb" not in ask("load", masses="rider=16 kg", rated="25 kg").text_shown


def test_units_without_a_us_counterpart_stay(us_lab, ask):
    text = ask("fuse", continuous="12 A", ampacity="20 A").text_shown
    assert "15 A" in text and "15 A (" not in text
