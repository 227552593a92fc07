"""The catalogue of each language: the sentences of the papers beside their translation, compiled by `make setup`.

English is what the papers are written in. A sentence that the catalogue does not hold is not translated: nothing
falls back to English without saying so.
"""

import hashlib
import struct
from functools import cache
from pathlib import Path

from django.conf import settings

SOURCE = "en"
CONTEXT_END = "\x04"  # between a message's context and its text, in the compiled file
MAGIC = 0x950412DE


def languages():
    """The codes of the languages that papers are printed in, English first."""
    return [code for code, _ in settings.LANGUAGES]


def paper_language(code):
    """The language in which somebody who uses this one reads papers, or nothing: es-mx reads es."""
    return next((known for known in (code, code.partition("-")[0]) if known in languages()), None)


def name_of(language):
    """The English name of a language that papers are printed in."""
    return dict(settings.LANGUAGES).get(language, language)


def file_of(language, kind="mo"):
    return Path(settings.LOCALE_PATHS[0]) / language / "LC_MESSAGES" / f"django.{kind}"


@cache
def sentences(language):
    """Source -> translation of everything in the compiled catalogue; empty where it is not compiled."""
    try:
        content = file_of(language).read_bytes()
    except OSError:
        return {}
    pairs = dict(_pairs(content))
    return {source: text for source, text in pairs.items() if source and text}


def _pairs(content):
    """The pairs of a compiled catalogue, as the manual of GNU gettext describes the file."""
    order = "<" if struct.unpack_from("<I", content)[0] == MAGIC else ">"
    count, sources, targets = struct.unpack_from(f"{order}3I", content, 8)
    for number in range(count):
        yield tuple(_text(content, order, table + 8 * number) for table in (sources, targets))


def _text(content, order, at):
    length, start = struct.unpack_from(f"{order}2I", content, at)
    return content[start : start + length].decode()


def is_ready(language):
    return language == SOURCE or bool(sentences(language))


def translated(text, language):
    """The catalogue's translation of a sentence, or None."""
    return text if language == SOURCE else sentences(language).get(text)


@cache
def version(language):
    """A digest of the whole catalogue: what a speaker has read is this version and no other."""
    pairs = sorted(sentences(language).items())
    return hashlib.sha256(repr(pairs).encode()).hexdigest()[:12] if pairs else ""


def without_context(source):
    """(text, where it is used) of a source that may carry a context."""
    context, mark, text = source.rpartition(CONTEXT_END)
    return text, context if mark else ""
