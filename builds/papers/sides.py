"""On which side the control is, and why: what the papers say of it, always seen from the child."""

from django.utils.translation import gettext as _


class SideFacts:
    """Part of the facts of one build."""

    @property
    def side(self):
        """left, right, or unknown."""
        return self.configuration.side if self.configuration else "unknown"

    @property
    def side_sentence(self):
        return {
            ("stick", "left"): _("The stick is on the child's left."),
            ("stick", "right"): _("The stick is on the child's right."),
            ("stick", "unknown"): _("The side of the stick is not known yet. Ask the lab."),
            ("switch", "left"): _("The switch is on the child's left."),
            ("switch", "right"): _("The switch is on the child's right."),
            ("switch", "unknown"): _("The side of the switch is not known yet. Ask the lab."),
        }[self.control, self.side]

    @property
    def side_in_the_lab(self):
        """The same in the lab's own words; its papers are in English."""
        if self.side == "unknown":
            return f"The side of the {self.control} is unknown."
        return f"The {self.control} is on the occupant's {self.side}."

    @property
    def hand_sentence(self):
        """How the control comes to the hand: a ride-on's is fixed, a toy's is put down."""
        return {
            ("stick", "left"): _("Let the child's hand find the stick on the left."),
            ("stick", "right"): _("Let the child's hand find the stick on the right."),
            ("stick", "unknown"): _("Let the child's hand find the stick on the right place."),
            ("switch", "left"): _("Let the child's hand find the switch on the left."),
            ("switch", "right"): _("Let the child's hand find the switch on the right."),
            ("switch", "unknown"): _("Let the child's hand find the switch on the right place."),
            ("toy", "left"): _("Put the switch where the child can reach it, on the left."),
            ("toy", "right"): _("Put the switch where the child can reach it, on the right."),
            ("toy", "unknown"): _("Put the switch where the child can reach it."),
        }[self.control if self.rides else "toy", self.side]

    @property
    def purpose_sentence(self):
        purpose = self.configuration.purpose if self.configuration else "unknown"
        return {
            ("better", "left"): _("This side was chosen because the left hand works best."),
            ("better", "right"): _("This side was chosen because the right hand works best."),
            ("training", "left"): _("This side was chosen to train the left hand. That hand tires sooner."),
            ("training", "right"): _("This side was chosen to train the right hand. That hand tires sooner."),
        }.get((purpose, self.side), "")
