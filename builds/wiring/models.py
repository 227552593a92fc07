"""The harness: wire runs, fuses, switching parts, and the two rounds of checks."""

from auditlog.registry import auditlog
from django.db import models

from labsite.marks import Deviating, Signed, Strikeable, YesNoUnknown


class WireFuse(Deviating, Strikeable):
    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="fuses")
    code = models.CharField("Fuse", max_length=20)
    rating_a = models.FloatField("Rating", null=True, blank=True)
    distance_m = models.FloatField("Wire from the battery's positive post to the fuse", null=True, blank=True)
    sheathed = models.CharField(
        "That wire is sheathed all the way", max_length=10, choices=YesNoUnknown.choices,
        default=YesNoUnknown.UNKNOWN,
    )

    class Meta:
        ordering = ["code", "pk"]

    def __str__(self):
        return self.code


class WireRun(Deviating, Strikeable):
    """One wire from a place to a place."""

    class Role(models.TextChoices):
        POWER = "power", "Power"
        CONTROL = "control", "Control"

    class RunSide(models.TextChoices):
        LEFT = "left", "Occupant's left"
        RIGHT = "right", "Occupant's right"
        BOTH = "both", "Both or neither"

    class Termination(models.TextChoices):
        CRIMP = "crimp", "Crimped"
        SOLDER = "solder", "Soldered"
        CRIMP_THEN_SOLDER = "crimp_then_solder", "Crimped, then soldered"
        CRIMP_ON_TINNED = "crimp_on_tinned", "Crimped on tinned strands"
        SCREW = "screw", "Under a screw with a ferrule"
        UNKNOWN = "unknown", "Unknown"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="wire_runs")
    code = models.CharField("Run", max_length=20)
    order = models.PositiveIntegerField(default=0)
    start = models.CharField("From", max_length=120)
    end = models.CharField("To", max_length=120)
    gauge = models.CharField("Gauge", max_length=20, blank=True)
    insulation_c = models.FloatField("Insulation rating", null=True, blank=True)
    bundle = models.PositiveSmallIntegerField("Loaded conductors in the bundle", null=True, blank=True)
    conductor_c = models.FloatField("Conductor temperature", null=True, blank=True)
    colour = models.CharField("Colour", max_length=40, blank=True)
    length_m = models.FloatField("Length, one way", null=True, blank=True)
    running_a = models.FloatField("Running current", null=True, blank=True)
    stall_a = models.FloatField("Stall current", null=True, blank=True)
    role = models.CharField("Role", max_length=10, choices=Role.choices)
    motor_circuit = models.CharField(
        "In a motor circuit", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    side = models.CharField("Side", max_length=10, choices=RunSide.choices, default=RunSide.BOTH)
    in_arm = models.CharField(
        "In the flexing arm", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    spliced = models.CharField(
        "Spliced", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    fuse = models.ForeignKey(
        WireFuse, null=True, blank=True, on_delete=models.PROTECT, related_name="runs", verbose_name="Fused by"
    )
    label_start = models.CharField("Label at the start", max_length=20, blank=True)
    label_end = models.CharField("Label at the end", max_length=20, blank=True)
    termination_start = models.CharField(
        "Termination at the start", max_length=20, choices=Termination.choices, default=Termination.UNKNOWN
    )
    termination_end = models.CharField(
        "Termination at the end", max_length=20, choices=Termination.choices, default=Termination.UNKNOWN
    )

    class Meta:
        ordering = ["order", "pk"]

    def __str__(self):
        return self.code


class SwitchingPart(Deviating, Strikeable):
    """A switch, relay or connector, and what its contacts may carry in direct current."""

    class Kind(models.TextChoices):
        SWITCH = "switch", "Switch"
        RELAY = "relay", "Relay or solid-state switch"
        CONNECTOR = "connector", "Connector"
        PLUG = "plug", "3.5 mm plug and socket"

    build = models.ForeignKey("builds.Build", on_delete=models.CASCADE, related_name="switching_parts")
    code = models.CharField("Part", max_length=20)
    name = models.CharField("What it is", max_length=160)
    kind = models.CharField("Kind", max_length=20, choices=Kind.choices)
    runs = models.ManyToManyField(WireRun, blank=True, related_name="switching_parts", verbose_name="In the runs")
    motor_circuit = models.CharField(
        "Carries motor current", max_length=10, choices=YesNoUnknown.choices, default=YesNoUnknown.UNKNOWN
    )
    rating_dc_a = models.FloatField("Rating in direct current", null=True, blank=True)
    stall_a = models.FloatField("Stall current through it", null=True, blank=True)

    class Meta:
        ordering = ["code", "pk"]

    def __str__(self):
        return self.code


class WireCheck(Signed, Strikeable):
    """One person's ticks for one run. The second person does not see the first one's."""

    class Round(models.TextChoices):
        FIRST = "first", "First check"
        SECOND = "second", "Second-person check"

    class Tick(models.TextChoices):
        RIGHT = "right", "Right"
        WRONG = "wrong", "Wrong"
        NOT_SEEN = "not_seen", "Not checked"

    TICKS = ("terminated", "labelled", "continuity", "polarity", "relief")

    run = models.ForeignKey(WireRun, on_delete=models.CASCADE, related_name="checks")
    round = models.CharField(max_length=10, choices=Round.choices)
    terminated = models.CharField("Terminated at both ends", max_length=10, choices=Tick.choices)
    labelled = models.CharField("Labelled at both ends", max_length=10, choices=Tick.choices)
    continuity = models.CharField("Continuity", max_length=10, choices=Tick.choices)
    polarity = models.CharField("Polarity", max_length=10, choices=Tick.choices)
    relief = models.CharField("Strain relief", max_length=10, choices=Tick.choices)
    resistance_ohm = models.FloatField("Resistance measured", null=True, blank=True)
    note = models.CharField("Note", max_length=300, blank=True)
    run_digest = models.CharField(max_length=64)  # what the run said when it was checked

    class Meta:
        ordering = ["pk"]


for model in (WireFuse, WireRun, WireCheck):
    auditlog.register(model)
auditlog.register(SwitchingPart, m2m_fields={"runs"})
