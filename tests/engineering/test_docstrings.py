"""Every calculation says what it takes, in which unit and range, what it gives, and on whose word."""

import ast
import inspect
import pkgutil
import re
from importlib import import_module

import pytest

import builds.engineering as engineering
from builds.engineering.finding import plain

# Modules that read, guard and name things; they compute nothing that a source could vouch for.
PLUMBING = {
    "calculators", "capture", "finding", "gauges", "guards", "inputs", "instruments", "quantities", "stick_findings",
    "stick_refusals", "typed", "units",
}  # fmt: skip
MODULES = [import_module(f"builds.engineering.{found.name}") for found in pkgutil.iter_modules(engineering.__path__)]
# They say a word for something or check a list; no number comes out.
WORDS_ONLY = {
    "copper.source_of", "copper.awg_label", "limits.source_of", "load.listed", "reading.text_of",
    "seating.known_supports", "stick_words.at_the_bench",
}  # fmt: skip
# What a parameter's last letters promise, and how the docstring writes that unit.
UNITS = {
    "_m_s2": "m/s^2", "_m_s": "m/s", "_ohm_per_m": "ohm/m", "_deg": "deg", "_percent": "%", "_mm2": "mm2",
    "_ah": "Ah", "_kg": "kg", "_nm": "N·m", "_mm": "mm", "_months": "months", "_rpm": "rpm", "_ohm": "ohm",
    "_a": "A", "_v": "V", "_c": "°C", "_m": "m", "_s": "s", "_h": "h", "_n": "N",
}  # fmt: skip
GUARDS = {"guards.number", "guards.whole", "number", "whole", "checked"}
RESTS_ON = re.compile(r"\bSources? \d|Source: |Sources: |[Cc]ommon practice|definition")


def public_functions(module):
    return [
        function
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__ and not name.startswith("_")
    ]


def name_of(function):
    return f"{function.__module__.rpartition('.')[2]}.{function.__name__}"


CALCULATIONS = [
    pytest.param(function, id=name_of(function))
    for module in MODULES
    if module.__name__.rpartition(".")[2] not in PLUMBING
    for function in public_functions(module)
    if name_of(function) not in WORDS_ONLY
]


def told(function):
    """The docstring on one line, without its examples."""
    text = (inspect.getdoc(function) or "").split(">>>")[0]
    return " ".join(text.split())


def unit_of(parameter):
    return next((unit for ending, unit in UNITS.items() if parameter.endswith(ending)), None)


def words_of(parameter):
    ending = next((ending for ending in UNITS if parameter.endswith(ending)), "")
    return parameter.removesuffix(ending).split("_")


def units_told(text):
    """The units in square brackets; [kg, m] names two."""
    inside = ",".join(re.findall(r"\[([^\]]*)\]", text)).replace("\u00b2", "2").replace("% a month", "%")
    return {unit.strip() for unit in inside.split(",") if unit.strip()}


def limits_of(function):
    """Each fixed limit that the function itself guards, with its label, read from its code."""
    for call in ast.walk(ast.parse(inspect.getsource(function))):
        if not (isinstance(call, ast.Call) and ast.unparse(call.func) in GUARDS):
            continue
        for word in call.keywords:
            try:
                value = eval(ast.unparse(word.value), function.__globals__)  # noqa: S307 - our own code
            except NameError:
                continue  # relative to another input
            yield ast.unparse(call.args[0]), word.arg, plain(float(value), 9)


def numbers_told(text):
    return {number.replace(",", "") for number in re.findall(r"(?<![\w.])-?\d+(?:,\d{3})*(?:\.\d+)?", text)}


def test_there_are_calculations_to_read():
    assert len(CALCULATIONS) > 40


def test_a_limit_that_is_not_told_is_seen():
    from builds.engineering.goals import goal_score

    assert ("'Rho'", "maximum", "1") in list(limits_of(goal_score))
    assert numbers_told("above 0 to 10,000 [A], 0.05 or -2") == {"0", "10000", "0.05", "-2"}


@pytest.mark.parametrize("function", CALCULATIONS)
def test_every_parameter_is_named(function):
    text = told(function).lower()
    missing = [
        name for name in inspect.signature(function).parameters
        if name not in text and not all(word in text for word in words_of(name))
    ]  # fmt: skip
    assert missing == []


@pytest.mark.parametrize("function", CALCULATIONS)
def test_every_unit_stands_in_brackets(function):
    parameters = inspect.signature(function).parameters
    wanted = {unit for name in parameters if (unit := unit_of(name))}
    assert wanted - units_told(told(function)) == set()
    assert units_told(told(function)), "no unit at all; [-] is one"


@pytest.mark.parametrize("function", CALCULATIONS)
def test_every_limit_is_told(function):
    numbers = numbers_told(told(function))
    assert [limit for limit in limits_of(function) if limit[2] not in numbers] == []


@pytest.mark.parametrize("function", CALCULATIONS)
def test_it_says_what_it_gives_and_on_whose_word(function):
    text = told(function)
    assert "Returns " in text or "[" in text.split(".")[0] or "Finding" in text
    assert RESTS_ON.search(text)


@pytest.mark.parametrize("function", CALCULATIONS)
def test_it_says_when_it_refuses(function):
    if "guards." in inspect.getsource(function) or "raise " in inspect.getsource(function):
        assert "Raises EngineeringError" in told(function)


@pytest.mark.parametrize("function", CALCULATIONS)
def test_it_has_an_example_that_runs(function):
    assert ">>>" in inspect.getdoc(function)


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_every_module_says_what_it_is_for(module):
    assert module.__doc__.strip().splitlines()[0].strip().endswith((".", ",", ";", ":")) or len(module.__doc__) > 40
