"""Which papers a build has, whom each is for, and which of them the hand-off waits for. It stands here only."""

from builds.papers.models import PaperKind as Kind

# What a family takes home.
FOR_FAMILIES = (
    Kind.USE_GUIDE,
    Kind.CHARGING_GUIDE,
    Kind.SUPERVISION_CARD,
    Kind.HAND_OFF_SHEET,
    Kind.PICTURE_PAGE,
    Kind.STOP_USE_CARD,
    Kind.STORAGE_CARD,
    Kind.TEACH_BACK_SHEET,
    Kind.USE_DIARY,
    Kind.FOLLOW_UP_FORM,
    Kind.WHAT_WE_KEEP,
)
# Printed at the bench as the record stands, to be written on. What counts is what comes back into the record, so
# they are never issued or kept, and wait for no release: the checklist is needed before there is one.
WORKING = (
    Kind.PLAN_SHEET,
    Kind.PICK_LIST,
    Kind.BENCH_CHECKLIST,
    Kind.WIRE_LABELS,
    Kind.COMMISSIONING_SHEET,
    Kind.RESTORE_SHEET,
)
WORKSHOP = (Kind.AS_BUILT, *WORKING)
# Only the coordinator and the director read these.
NAMES_ADULTS = (Kind.HAND_OFF_SHEET, Kind.TEACH_BACK_SHEET, Kind.WHAT_WE_KEEP, Kind.CLINICIAN_SUMMARY)
# Every other paper carries the cautions of its build.
NOTHING_TO_DO_WITH_IT = (Kind.WHAT_WE_KEEP, Kind.CLINICIAN_SUMMARY)
EVERY_BUILD_HAS = tuple(kind for kind in Kind if kind not in (Kind.CHARGING_GUIDE, Kind.SUPERVISION_CARD))


def asked_by_plan(build):
    """The papers that the plan asks for: the hand-off waits until each is issued."""
    asked = build.plan_revision.content.get("papers", [])
    return [kind for kind in Kind if kind in asked]


def needed(build):
    """What the hand-off waits for: what the plan asks for, and the pictures where an adult reads best in pictures."""
    reads_pictures = any(one.supervises and one.reading == "pictures" for one in build.client.caregivers.all())
    asked = asked_by_plan(build)
    return [kind for kind in Kind if kind in asked or (kind == Kind.PICTURE_PAGE and reads_pictures)]


def kinds(build):
    """Every paper that can be had of this build, in their usual order."""
    asked = asked_by_plan(build)
    return [kind for kind in Kind if kind in asked or kind in EVERY_BUILD_HAS]


def family_pack(build):
    """What one family takes home, in the order of reading."""
    return [kind for kind in kinds(build) if kind in FOR_FAMILIES]
