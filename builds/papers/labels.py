"""Wire labels to cut out: both ends of every run, twice, since the first one may tear."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Cut:
    """One label: what is written on it, and small below it which way the wire runs."""

    text: str
    at: str
    goes_to: str


@dataclass(frozen=True)
class Row:
    run: object
    fuse: str
    cuts: tuple


def standing_runs(build):
    return [run for run in build.wire_runs.select_related("fuse") if not run.is_struck]


def rows(build):
    return [
        Row(
            run,
            fuse_words(run),
            (Cut(run.label_start, run.start, run.end), Cut(run.label_end, run.end, run.start)),
        )
        for run in standing_runs(build)
    ]


def fuse_words(run):
    if run.fuse is None:
        return "no fuse"
    return f"fuse {run.fuse.code}, {run.fuse.rating_a:g} A" if run.fuse.rating_a else f"fuse {run.fuse.code}, unknown"


def what_is_missing(build):
    """Runs whose label is not written down, and labels that two ends share; empty when every end has its own."""
    runs = standing_runs(build)
    bare = [run.code for run in runs if not (run.label_start and run.label_end)]
    texts = [text for run in runs for text in (run.label_start, run.label_end) if text]
    twice = sorted({text for text in texts if texts.count(text) > 1})
    lines = []
    if not runs:
        lines.append("No wire run is written down.")
    if bare:
        lines.append(f"Without a label at each end: {', '.join(bare)}.")
    if twice:
        lines.append(f"The same label at two ends: {', '.join(twice)}.")
    return " ".join(lines)
