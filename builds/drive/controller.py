"""What the controller of a build is to run, made from its configuration and the accepted fit of its stick."""

from dataclasses import dataclass, field

from builds.engineering.drive_header import drive_archive, drive_header
from builds.engineering.drive_numbers import drive_numbers, settings_digest
from builds.engineering.drive_settings import DriveSettings
from builds.engineering.finding import EngineeringError
from labsite.marks import YesNoUnknown

# The controller's name for what the configuration calls otherwise.
TAKEN = {
    "turn_gain": "turn_gain", "reverse_gain": "reverse_gain", "expo": "expo", "slew_up": "slew_up_per_s",
    "slew_down": "slew_down_per_s", "neutral_left_us": "neutral_left_us", "neutral_right_us": "neutral_right_us",
    "span_us": "span_us", "left_inverted": "inverted_left", "right_inverted": "inverted_right",
    "band_low": "band_low", "band_high": "band_high",
}  # fmt: skip


@dataclass(frozen=True)
class Controller:
    """The settings a controller is to run, or why there are none yet."""

    settings: DriveSettings | None = None
    missing: list = field(default_factory=list)  # names of settings that nobody has said
    problem: str = ""  # what does not go together, in one line

    @property
    def digest(self):
        return settings_digest(self.settings) if self.settings else ""

    @property
    def numbers(self):
        """(name, whole number) of everything the header holds."""
        return list(vars(drive_numbers(self.settings)).items()) if self.settings else []


def controller_of(configuration, fit):
    """What this configuration makes the controller run; `fit` is the accepted fit of the side in use, or None."""
    missing = [] if fit else ["a fit of the stick on the side in use"]
    missing += [
        str(configuration._meta.get_field(name).verbose_name)
        for name in (*TAKEN, "ceilings")
        if getattr(configuration, name) in (None, [])
    ]
    if configuration.selector == YesNoUnknown.UNKNOWN:
        missing.append("whether a speed selector is fitted")
    if missing:
        return Controller(missing=missing)
    numbers = {theirs: getattr(configuration, ours) for ours, theirs in TAKEN.items()}
    try:
        settings = DriveSettings.from_fit(
            fit.fit,
            **numbers,
            ceilings=tuple(row["share"] for row in configuration.ceilings),
            has_selector=configuration.selector == YesNoUnknown.YES,
        )
    except EngineeringError as error:
        return Controller(problem=str(error))
    return Controller(settings)


def title_of(build, configuration):
    return f"Equipment {build.unit.number}, build {build.number}, configuration {configuration.number}"


def archive_of(build, configuration, controller):
    """The bytes of the archive for this configuration."""
    return drive_archive(controller.settings, title_of(build, configuration))


def header_of(build, configuration, controller):
    return drive_header(controller.settings, title_of(build, configuration))


def archive_name(build, configuration):
    return f"{build.number}-c{configuration.number}-drive.zip"
