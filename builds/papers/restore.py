"""Back to as bought: what lies in the restore kit, what comes off, and the teardown undone from its last step."""

from dataclasses import dataclass

from builds.bench.models import Section
from builds.bench.progress import Bench


@dataclass(frozen=True)
class Undo:
    """One teardown step to take back, with the photo that shows how it was."""

    code: str
    title: str
    note: str
    photo: object


def page(facts):
    build = facts.build
    bench = Bench(build)
    return {
        "kit": getattr(build, "restore_kit", None),
        "items": [one for one in build.restore_items.all() if not one.is_struck],
        "added": [one for one in build.parts.all() if one.counts_as_added],
        "undone": [undo(state) for state in reversed(bench.of(Section.TEARDOWN))],
        "tests": [state.step for state in bench.of(Section.INCOMING_TEST)],
    }


def undo(state):
    result = state.result
    photo = result.photo if result else None
    shown = photo if photo and not photo.is_struck and not photo.shows_client else None
    done = "" if state.is_done else "This step is not recorded as done: look before you undo it."
    return Undo(state.step.code, state.step.title, done, shown)


def what_is_missing(build):
    """Why the unit may not go back to as bought from this sheet alone."""
    kit = getattr(build, "restore_kit", None)
    if kit is None:
        return "Nothing is written down of the restore kit."
    if kit.complete == "yes":
        return ""
    told = f" Missing: {kit.missing}." if kit.missing else ""
    return {"no": f"The restore kit is not complete.{told}"}.get(
        kit.complete, f"It is unknown whether the restore kit is complete.{told}"
    )
