"""The calculators by name: every one answers, every input and default can be read, every docstring says enough."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from builds.engineering.calculators import CALCULATORS, INPUT_ERRORS, calculate
from builds.engineering.finding import VERDICTS
from builds.engineering.goals import goal_score
from builds.engineering.inputs import PROSE
from builds.engineering.reading import reading_grade
from builds.engineering.stick_fit import fit_stick
from builds.management.commands.calculate import Command
from tests.engineering.legal import CAPTURE, LEGAL

ROOT = Path(__file__).resolve().parents[2]
NONSENSE = ["", " ", "nan", "inf", "-inf", "1e308", "1e309", "abc", "5 parsec", "\n", "x" * 3000, "\x00"]
RESULTS = {
    "wire-run": "resistance_ohm drop_v drop_percent loss_w ampacity_a",
    "fuse": "rating_a colour",
    "runtime": "hours",
    "charge-time": "hours hours_rounded c_rate",
    "standby-drain": "days_to_half days_to_empty",
    "drive-speed": "speed_m_s speed_km_h stopping_m braking_m energy_j",
    "timed-runs": "speed_m_s speed_km_h spread_m_s",
    "drive-output": "left right left_us right_us",
    "wheel-faults": "kind explanations",
    "stick-fit": "centre_x centre_y noise rotation_deg mirrored deadband throw_forward throw_back throw_left "
    "throw_right tremor_hz cutoff_hz lag_ms",
    "reach": "distance_mm fraction",
    "arm": "pieces moment_nm margin",
    "load": "total_kg margin_kg fraction",
    "balance": "cg_x cg_y cg_z left_deg right_deg front_deg rear_deg",
    "goal-score": "t",
    "growth": "age_months z centile outgrown_on",
    "reading-grade": "grade ease",
}


def shell(capsys, *words):
    """Status, standard output and standard error of the command, run in this process."""
    with pytest.raises(SystemExit) as left:
        Command().run_from_argv(["manage.py", "calculate", *words])
        raise SystemExit(0)
    told = capsys.readouterr()
    return left.value.code or 0, told.out, told.err


def typed(given):
    return [f"{key}={text}" for key, text in given.items()]


def test_every_calculator_has_a_legal_example_here():
    assert set(CALCULATORS) == set(LEGAL) == set(RESULTS)


@pytest.mark.parametrize("name", list(LEGAL))
def test_the_answer_has_every_key_and_no_other(name):
    answer = calculate(name, LEGAL[name])
    assert list(answer) == ["calculator", "inputs", "results", "findings", "sources"]
    assert list(answer["results"]) == RESULTS[name].split()
    assert answer["findings"]
    for finding in answer["findings"]:
        assert finding["verdict"] in VERDICTS
        assert finding["formula"]
        assert finding["source"] in answer["sources"]


@pytest.mark.parametrize("name", list(LEGAL))
def test_each_missing_input_is_asked_for_by_name(name):
    for entry in CALCULATORS[name].inputs:
        rest = {key: text for key, text in LEGAL[name].items() if key != entry.name}
        if entry.required or entry.name in CALCULATORS[name].one_of and entry.name in LEGAL[name]:
            with pytest.raises(INPUT_ERRORS, match=f"needs .*{entry.name}"):
                calculate(name, rest)
        else:
            assert calculate(name, rest)


@pytest.mark.parametrize("name", list(LEGAL))
@pytest.mark.parametrize("text", NONSENSE)
def test_no_input_takes_nonsense(name, text):
    for entry in CALCULATORS[name].inputs:
        if entry.kind == PROSE and text.strip():
            continue  # any words may be graded
        with pytest.raises(INPUT_ERRORS) as refused:
            calculate(name, {**LEGAL[name], entry.name: text})
        assert len(str(refused.value).splitlines()) == 1


def test_a_metre_and_its_feet_give_the_same_answer():
    metric = calculate("wire-run", {**LEGAL["wire-run"], "length": "1.2192 m"})
    feet = calculate("wire-run", {**LEGAL["wire-run"], "length": "4 ft"})
    assert feet["results"] == pytest.approx(metric["results"])


def test_the_defaults_are_told_as_defaults():
    told = calculate("wire-run", LEGAL["wire-run"])["inputs"]
    assert told["supply"] == {"typed": None, "read_as": 12.0, "unit": "V", "is_default": True}
    assert told["gauge"]["is_default"] is False


@pytest.mark.parametrize("name", list(LEGAL))
def test_the_docstring_says_what_it_takes_gives_and_rests_on(name):
    behind = {"goal-score": goal_score, "reading-grade": reading_grade, "stick-fit": fit_stick}
    told = behind.get(name, CALCULATORS[name].function).__doc__
    assert told.splitlines()[0].endswith(".")
    for part in ("Parameters:", "Returns", "Raises EngineeringError", ">>>", "["):
        assert part in " ".join(told.split())
    assert "Source" in told or "ommon practice" in told or "definition" in told.lower()




@pytest.mark.parametrize("name", list(LEGAL))
def test_the_shell_prints_one_json_object(capsys, name):
    status, out, err = shell(capsys, name, *typed(LEGAL[name]))
    assert (status, err) == (0, "")
    assert json.loads(out) == json.loads(json.dumps(calculate(name, LEGAL[name])))


def test_a_stop_is_a_legal_answer(capsys):
    status, out, err = shell(capsys, "fuse", "continuous=18", "ampacity=20")
    assert (status, err) == (0, "")
    answer = json.loads(out)
    assert answer["results"] == {"rating_a": None, "colour": None}
    assert answer["findings"][0]["verdict"] == "stop"


@pytest.mark.parametrize(
    "words",
    [
        [],
        [""],
        ["nothing-like-it"],
        ["fuse"],
        ["fuse", "continuous"],
        ["fuse", "=5"],
        ["fuse", "continuous=5"],
        ["fuse", "continuous=5", "continuous=5", "ampacity=20"],
        ["fuse", "continuous=5", "ampacity=20", "colour=red"],
        ["fuse", "continuous=nan", "ampacity=20"],
        ["fuse", "continuous=inf", "ampacity=20"],
        ["fuse", "continuous=", "ampacity=20"],
        ["fuse", "continuous=5 V", "ampacity=20"],
        ["fuse", "continuous=-5", "ampacity=20"],
        ["fuse", "continuous=5\n\n", "ampacity=x\ny"],
        ["fuse", "--ampacity", "20"],
        ["fuse", "--verbosity=9"],
        ["-5"],
        ["wire-run", "gauge=14", "length=2", "current=5"],
        ["wire-run", "gauge=14 AWG", "length=1001", "current=5"],
        ["wire-run", "gauge=14 AWG", "length=2", "current=5", "bundle=0"],
        ["wire-run", "gauge=14 AWG", "length=2", "current=5", "role=signal"],
        ["load", "masses=rider=16 kg rider=2 kg", "rated=25"],
        ["load", "masses=16 kg", "rated=25"],
        ["balance", "masses=rider=16 kg", "track=0.44", "wheelbase=0.62"],
        ["timed-runs", "distance=3", "times=3.1,,3.2"],
        ["timed-runs", "distance=3", "times=,"],
        ["reach", "side=left", "shoulder=0,0", "control=0,0,0", "reach=0.4"],
        ["wheel-faults", "forward=forward", "right=backward"],
        ["wheel-faults", "forward=spins", "right=backward"],
        ["wheel-faults", "forward=forward", "right=spins-right", "left_channel=left+", "right_channel=left+"],
        ["goal-score", "scores=1 0", "weights=1"],
        ["goal-score", "scores=3"],
        ["growth", "sex=male", "birth_date=2024-01-02", "weight=16", "on=2024-01-01", "limit=25"],
        ["growth", "sex=male", "birth_date=2020-02-30", "weight=16", "on=2024-01-01", "limit=25"],
        ["growth", "sex=male", "birth_date=1/2/2020", "weight=16", "on=2024-01-01", "limit=25"],
        ["drive-output", "x=1"],
        ["drive-output", "x=1.01", "y=0"],
        ["drive-output", "x=0", "y=-1.01"],
        ["drive-output", "x=0", "y=0", "ceiling=1.01"],
        ["drive-output", "x=0", "y=0", "ceiling=-0.01"],
        ["drive-output", "x=0", "y=0", "neutral_us=999"],
        ["drive-output", "x=0", "y=0", "neutral_us=2001", "span_us=500"],
        ["drive-output", "x=0", "y=0", "neutral_us=1500 s"],
        ["stick-fit"],
        ["stick-fit", "file=/nowhere/at/all.txt"],
        ["stick-fit", "file=/dev/zero"],
        ["stick-fit", "file=/"],
        ["stick-fit", f"file={ROOT / 'manage.py'}"],
        ["stick-fit", f"file={CAPTURE}", "adc_bits=7"],
        ["stick-fit", f"file={CAPTURE}", "adc_bits=8"],
        ["stick-fit", f"file={CAPTURE}", "adc_bits=10.5"],
        ["stick-fit", f"file={CAPTURE}", "text=1,2"],
        ["reading-grade"],
        ["reading-grade", "text=...", "language=en"],
        ["reading-grade", "text=One.", "file=/etc/hostname"],
        ["reading-grade", "file=/nowhere/at/all.txt"],
        ["reading-grade", "text=One.", "language=fr"],
    ],
)
def test_a_wrong_input_is_one_line_on_standard_error(capsys, words):
    status, out, err = shell(capsys, *words)
    assert (status, out) == (2, "")
    assert err.count("\n") == 1
    assert err.strip()
    assert "Traceback" not in err


def through_manage(tmp_path, *words):
    environment = {
        "PATH": "/usr/bin:/bin", "REACHWRIGHT_DATA": str(tmp_path), "DATABASE_URL": "postgres://nobody@127.0.0.1:1/none",
    }  # fmt: skip
    command = [sys.executable, str(ROOT / "manage.py"), "calculate", *words]
    return subprocess.run(command, capture_output=True, text=True, env=environment, timeout=60, check=False)


def test_it_answers_without_any_database(tmp_path):
    done = through_manage(tmp_path, "wire-run", "gauge=2.5 mm^2", "length=3", "current=15")
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["results"]["ampacity_a"] == 35


def test_it_refuses_in_one_line_from_outside(tmp_path):
    done = through_manage(tmp_path, "wire-run", "gauge=2.5 mm^2", "length=3 kg", "current=15")
    assert (done.returncode, done.stdout) == (2, "")
    assert len(done.stderr.splitlines()) == 1


def test_the_engineering_loads_in_a_bare_interpreter():
    code = (
        "import sys, pkgutil, importlib\n"
        f"sys.path.insert(0, {str(ROOT)!r})\n"
        "import builds.engineering as package\n"
        "for found in pkgutil.iter_modules(package.__path__):\n"
        "    importlib.import_module('builds.engineering.' + found.name)\n"
        "loaded = {name.partition('.')[0] for name in sys.modules}\n"
        "assert 'builds.engineering.wiring' in sys.modules\n"
        "assert not loaded & {'django', 'labsite', 'clients'}, loaded\n"
        "others = [n for n in sys.modules if n.startswith('builds.') and not n.startswith('builds.engineering')]\n"
        "assert not others, others\n"
    )
    done = subprocess.run([sys.executable, "-S", "-c", code], capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, "")
