"""From plan files to plan revisions. A revision that is in the database never changes."""

from pathlib import Path

from django.db import transaction

from builds.plans.document import digest, read_plan
from builds.plans.models import Plan, PlanRevision
from builds.plans.schema import PlanError

DATA = Path(__file__).parent / "data"


@transaction.atomic
def load_folder(folder=DATA):
    """Load every plan file of a folder, or none of them. Returns (revision, is new) pairs."""
    files = sorted(Path(folder).glob("*.toml"))
    if not files:
        raise PlanError(f"{folder}: there is no *.toml file here")
    return [load_content(read_plan(path), path.name) for path in files]


@transaction.atomic
def load_content(content, name):
    """Store this content as a plan revision, unless it is there; changed content needs a new number."""
    plan = plan_of(content, name)
    number, mark = content["revision"], digest(content)
    found = plan.revisions.filter(number=number).first()
    if found:
        if found.digest != mark:
            raise PlanError(
                f"{name}: revision: revision {number} is loaded already with other content; "
                f"give the changed plan the number {plan.current().number + 1}"
            )
        return found, False
    newest = plan.current()
    if newest and newest.number > number:
        raise PlanError(f"{name}: revision: is {number}; revision {newest.number} is loaded already")
    revision = PlanRevision.objects.create(
        plan=plan, number=number, content=content, digest=mark, note=content["note"]
    )
    rename(plan, content)
    return revision, True


def plan_of(content, name):
    plan, _ = Plan.objects.get_or_create(
        code=content["code"], defaults={"name": content["name"], "equipment": content["equipment"]}
    )
    if plan.equipment != content["equipment"]:
        raise PlanError(f"{name}: equipment: is {content['equipment']}; the plan {plan.code} is for {plan.equipment}")
    return plan


def rename(plan, content):
    if plan.name != content["name"]:
        plan.name = content["name"]
        plan.save(update_fields=["name"])
