"""The arm that carries the control: its pieces and whether its foot holds, on each side where the arm may be."""

from builds.engineering.arm import arm
from builds.engineering.finding import EngineeringError, unknown
from labsite.marks import Side
from labsite.models import Lab

OTHER = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}
NAME = "margin of the arm's foot"


def arms(build, configuration):
    """(side, findings) of the side in use, and of the other one where the arm swaps; nothing where there is no arm."""
    if not build.has_stick:
        return
    if configuration.side not in OTHER:
        yield configuration.side, [unknown(NAME, "side of the control", formula="needs the side", source="statics")]
        return
    sides = [configuration.side]
    if configuration.arm == configuration.Reversible.SWAPS:
        sides.append(OTHER[configuration.side])
    for side in sides:
        path, level = configuration.arm_on(side)
        if path != 0:
            yield side, arm_findings(configuration, path, level)


def arm_findings(configuration, path_m, horizontal_m):
    try:
        found = arm(
            path_length_m=path_m,
            pitch_m=configuration.arm_pitch_m,
            piece_mass_kg=configuration.arm_piece_kg,
            control_mass_kg=configuration.arm_control_kg,
            hand_force_n=configuration.hand_force_n,
            horizontal_m=horizontal_m,
            holding_moment_nm=configuration.arm_holding_nm,
            least_margin=Lab.current().least_arm_margin,
        )
    except EngineeringError as error:
        return [unknown(NAME, str(error), source="statics")]
    return list(found.findings)
